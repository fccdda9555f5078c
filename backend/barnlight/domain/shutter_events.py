"""Firings found among scored pairs: which reading is likeliest, how sure, between which limits (steps 10-14)."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from barnlight.domain.shutter_pairs import Pairs


@dataclass(frozen=True)
class Event:
    """One firing and the readings that compete for it."""

    best: int  # index of the answer among the pairs
    rivals: np.ndarray  # indices of all pairs of this event, likeliest first
    rival_p: np.ndarray  # their probabilities
    groups: list[list[int]]  # rivals (positions in `rivals`) of one open time each, likeliest group first
    p: float  # of the answer's group
    none_p: float  # that there is no firing here


def find_events(pairs: Pairs, constants: dict) -> list[Event]:
    """The firings of a recording, likeliest first; the first is there even if it is doubtful. Empty if no pair is."""
    if len(pairs) == 0:
        return []
    limits = constants["further"]
    alive = np.ones(len(pairs), bool)
    events: list[Event] = []
    while len(events) < limits["most"] and alive.any():
        event = one_event(pairs, alive, constants["event"])
        if events and not _is_further(event, events[0], pairs, limits):
            break
        events.append(event)
        alive &= (pairs.close_s < pairs.open_s[event.best] - limits["clear_before_s"]) | (
            pairs.open_s > pairs.close_s[event.best] + limits["clear_after_s"]
        )
    return events


def one_event(pairs: Pairs, alive: np.ndarray, constants: dict) -> Event:
    """The likeliest firing among the pairs still `alive`, against all that overlap it and against "none of these"."""
    top = int(np.argmax(np.where(alive, pairs.score, -np.inf)))
    overlap = constants["overlap_s"]
    rivals = np.flatnonzero(
        alive & (pairs.open_s <= pairs.close_s[top] + overlap) & (pairs.close_s >= pairs.open_s[top] - overlap)
    )
    rivals = rivals[np.argsort(-pairs.score[rivals], kind="stable")]
    # Relative to the highest exponent, so that nothing overflows; "none" has score 0.
    highest = max(float(pairs.score[top]), 0.0)
    odds = np.exp(pairs.score[rivals] - highest)
    none_odds = math.exp(-highest)
    rival_p = odds / (odds.sum() + none_odds)
    groups = _groups(pairs.open_time_s[rivals], rival_p, constants)
    return Event(
        best=int(rivals[groups[0][0]]),
        rivals=rivals,
        rival_p=rival_p,
        groups=groups,
        p=float(rival_p[groups[0]].sum()),
        none_p=none_odds / (float(odds.sum()) + none_odds),
    )


def _groups(time_s: np.ndarray, p: np.ndarray, constants: dict) -> list[list[int]]:
    """Positions grouped by agreeing open time around the likeliest not yet grouped; the likeliest group first."""
    free = np.ones(len(time_s), bool)
    groups: list[list[int]] = []
    for head in range(len(time_s)):
        if free[head]:
            agree = max(constants["same_ms"] / 1000, constants["same_share"] * time_s[head])
            members = np.flatnonzero(free & (np.abs(time_s - time_s[head]) <= agree))
            free[members] = False
            groups.append(members.tolist())
    return sorted(groups, key=lambda group: -float(p[group].sum()))


def _is_further(event: Event, first: Event, pairs: Pairs, limits: dict) -> bool:
    ratio = pairs.open_time_s[event.best] / pairs.open_time_s[first.best]
    return (
        event.p >= limits["least_p"]
        and event.none_p <= limits["most_none"]
        and pairs.close_level_db[event.best] >= pairs.close_level_db[first.best] - limits["below_first_db"]
        and 1 / limits["factor"] <= ratio <= limits["factor"]
    )


def half_width_s(pairs: Pairs, index: int, constants: dict) -> float:
    """Half of the 95 % interval of one pair's open time, in seconds, given that it is the right pair."""
    time_ms = 1000 * float(pairs.open_time_s[index])
    parts = (
        _onset_ms(float(pairs.open_jump_db[index]), constants),
        _onset_ms(float(pairs.close_jump_db[index]), constants),
        constants["impact_ms"],
        min(constants["choice_ms"], constants["choice_share"] * time_ms),
    )
    return (math.sqrt(sum(part * part for part in parts)) + constants["clock_ppm"] * 1e-6 * time_ms) / 1000


def _onset_ms(jump_db: float, constants: dict) -> float:
    return next((ms for least_db, ms in constants["onset_ms"] if jump_db >= least_db), constants["weak_onset_ms"])


def limits_s(pairs: Pairs, event: Event, answer: int, constants: dict) -> tuple[float, float]:
    """The 95 % interval (low, high) in seconds around pair `answer`, widened to the readings that may be meant instead."""
    half = half_width_s(pairs, answer, constants)
    time_s = float(pairs.open_time_s[answer])
    low, high = time_s - half, time_s + half
    held, all_p = 0.0, float(event.rival_p.sum())
    for group in event.groups:
        if held >= constants["hold"] * all_p:
            break
        likely = event.rival_p[group] >= constants["member_share"] * event.rival_p[group[0]]
        members = pairs.open_time_s[event.rivals[group]][likely]
        low, high = min(low, float(members.min())), max(high, float(members.max()))
        held += float(event.rival_p[group].sum())
    return low, high


def verdict_of(pairs: Pairs, event: Event, low_s: float, high_s: float, limits: dict) -> tuple[str, str | None]:
    """("clear", None), or "doubtful" or "unusable" with the id of the reason."""
    if event.none_p > limits["none_unusable"]:
        return "unusable", "no_pair_stands_out"
    second_p = float(event.rival_p[event.groups[1]].sum()) if len(event.groups) > 1 else 0.0
    if event.none_p > limits["none_doubtful"]:
        return "doubtful", "may_not_be_a_shutter"
    if second_p > limits["second_p"]:
        return "doubtful", "two_readings_fit"
    if low_s <= 0 or math.log2(high_s / low_s) / 2 > limits["clear_stops"]:
        return "doubtful", "interval_too_wide"
    if min(pairs.open_level_db[event.best], pairs.close_level_db[event.best]) < limits["least_level_db"]:
        return "doubtful", "weak_click"
    if event.p < limits["clear_p"]:
        return "doubtful", "other_readings_fit"
    return "clear", None
