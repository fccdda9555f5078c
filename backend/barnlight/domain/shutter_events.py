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
    score = pairs.score
    events: list[Event] = []
    while len(events) < limits["most"] and alive.any():
        event = one_event(pairs, score, alive, constants["event"])
        if events and not _is_further(event, events[0], pairs, limits):
            break
        events.append(event)
        alive &= (pairs.close_s < pairs.open_s[event.best] - limits["clear_before_s"]) | (
            pairs.open_s > pairs.close_s[event.best] + limits["clear_after_s"]
        )
        if len(events) == 1:
            score = pairs.score + _agreement(pairs, event, limits)
    return events


def _agreement(pairs: Pairs, first: Event, limits: dict) -> np.ndarray:
    """What is added to the score of further firings: one shutter at one speed repeats itself, other noises do not."""
    off = np.log2(pairs.open_time_s / pairs.open_time_s[first.best]) / limits["agree_stops"]
    return limits["agree_gain"] * np.exp(-0.5 * off * off) - limits["differ_cost"]


def one_event(pairs: Pairs, score: np.ndarray, alive: np.ndarray, constants: dict) -> Event:
    """The likeliest firing among the pairs still `alive`, against all of them and against "none of these"."""
    rivals = np.flatnonzero(alive)
    rivals = rivals[np.argsort(-score[rivals], kind="stable")]
    # Relative to the highest exponent, so that nothing overflows; "none" has score 0.
    highest = max(float(score[rivals[0]]), 0.0)
    odds = np.exp(score[rivals] - highest)
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
    """Half of the 95 % interval of one pair's open time, in seconds, given that it is about the right pair."""
    time_ms = 1000 * float(pairs.open_time_s[index])
    choice_ms = min(constants["choice_ms"], constants["choice_share"] * time_ms)
    return math.hypot(placing_s(pairs, index, constants), choice_ms / 1000) + constants["clock_ppm"] * 1e-9 * time_ms


def placing_s(pairs: Pairs, index: int, constants: dict) -> float:
    """How well the time between the two clicks of a pair is known, in seconds: 95 %."""
    open_ms, close_ms = (_onset_ms(float(jump_db[index]), constants) for jump_db in (pairs.open_jump_db, pairs.close_jump_db))
    return math.hypot(open_ms, close_ms, constants["impact_ms"], constants["reflection_ms"]) / 1000


def _onset_ms(jump_db: float, constants: dict) -> float:
    return next((ms for least_db, ms in constants["onset_ms"] if jump_db >= least_db), constants["weak_onset_ms"])


def limits_s(pairs: Pairs, event: Event, answer: int, all_constants: dict) -> tuple[float, float]:
    """The 95 % interval (low, high) in seconds: how well the clicks are placed, widened to the narrowest span (in stops) of
    readings that holds enough of the probability, and to the neighbouring readings that are at all likely.
    """
    constants = all_constants["interval"]
    half = half_width_s(pairs, answer, constants)
    time_s = float(pairs.open_time_s[answer])
    order = np.argsort(pairs.open_time_s[event.rivals], kind="stable")
    times_s, p = pairs.open_time_s[event.rivals][order], event.rival_p[order]
    first, last = narrowest(np.log2(times_s), p, int(np.searchsorted(times_s, time_s)), constants["hold"])
    # Taking a neighbouring click is the commonest error, and to allow for it costs little.
    near = times_s[(p >= constants["near_p"]) & (np.abs(np.log2(times_s / time_s)) <= constants["near_stops"])]
    low_s, high_s = (float(value) for value in (min(times_s[first], near.min(initial=time_s)), max(times_s[last], near.max(initial=time_s))))
    placing = placing_s(pairs, answer, constants)
    low_s, high_s = min(time_s - half, low_s - placing), max(time_s + half, high_s + placing)
    if not is_sure(pairs, event, answer, all_constants["verdict"]):
        # The true opening may be hidden in the ringing of the release, which then reads as the opening: the time is shorter.
        hidden_s = min(constants["hidden_ms"] / 1000, constants["hidden_share"] * time_s)
        low_s = min(low_s, max(time_s - hidden_s, high_s / 2 ** constants["hidden_most_stops"]))
    return low_s, high_s


def narrowest(log2_times: np.ndarray, p: np.ndarray, inside: int, hold: float) -> tuple[int, int]:
    """(first, last) of the narrowest span around position `inside` that holds the share `hold` of all probability."""
    below = np.concatenate(([0.0], np.cumsum(p)))
    first = np.arange(inside + 1)
    last = np.maximum(np.searchsorted(below, below[first] + hold * below[-1]) - 1, inside)
    enough = last < len(p)
    if not enough[0]:
        return 0, len(p) - 1
    best = int(np.argmin(log2_times[last[enough]] - log2_times[first[enough]]))
    return best, int(last[best])


def is_sure(pairs: Pairs, event: Event, answer: int, limits: dict) -> bool:
    """Whether a firing is likely enough, and so is, given one, a time near the answer: which of two neighbouring clicks may not matter."""
    off_stops = np.abs(np.log2(pairs.open_time_s[event.rivals] / pairs.open_time_s[answer]))
    near_p = float(event.rival_p[off_stops <= limits["sure_stops"]].sum())
    return event.none_p <= limits["none_clear"] and near_p >= limits["clear_p"] * (1 - event.none_p)


def verdict_of(pairs: Pairs, event: Event, answer: int, low_s: float, high_s: float, limits: dict) -> tuple[str, str | None]:
    """("clear", None), or "doubtful" or "unusable" with the id of the reason."""
    if event.none_p > limits["none_unusable"]:
        return "unusable", "no_pair_stands_out"
    if event.none_p > limits["none_doubtful"]:
        return "doubtful", "may_not_be_a_shutter"
    if not is_sure(pairs, event, answer, limits):
        two = len(event.groups) > 1 and float(event.rival_p[event.groups[1]].sum()) > limits["second_p"]
        return "doubtful", "two_readings_fit" if two else "other_readings_fit"
    if low_s <= 0 or math.log2(high_s / low_s) / 2 > limits["clear_stops"]:
        return "doubtful", "interval_too_wide"
    if min(pairs.open_level_db[answer], pairs.close_level_db[answer]) < limits["least_level_db"]:
        return "doubtful", "weak_click"
    return "clear", None
