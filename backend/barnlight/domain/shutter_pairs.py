"""Pairs of clicks that may be the opening and the closing, each with a score from features and their products (steps 8 and 9).

A feature is named after what it looks at; levels are in tens of dB, so that weights compare.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from barnlight.domain.shutter_candidates import Clicks
from barnlight.domain.shutter_signal import Signal


@dataclass(frozen=True)
class Pairs:
    """Possible firings; arrays of one length."""

    open_s: np.ndarray
    close_s: np.ndarray
    open_time_s: np.ndarray
    score: np.ndarray  # log of the odds against "none of these"
    open_level_db: np.ndarray
    close_level_db: np.ndarray
    open_jump_db: np.ndarray
    close_jump_db: np.ndarray

    def __len__(self) -> int:
        return len(self.score)


def find_pairs(signal: Signal, clicks: Clicks, marked_s: float | None, constants: dict) -> Pairs:
    """All pairs of the strongest clicks that are long and short enough, scored; `marked_s` None = speed not known."""
    strongest = strongest_clicks(clicks, constants["pairs"])
    first, second = possible(strongest, signal.rate_hz, marked_s, constants["pairs"])
    values = features(signal, strongest, first, second, marked_s, constants["features"])
    weights = constants["weights"]["unmarked" if marked_s is None else "marked"]
    long = (strongest.at[second] - strongest.at[first]) / signal.rate_hz > constants["features"]["long_ms"] / 1000
    score = np.where(long, _weighed(values, weights["long"]), _weighed(values, weights["short"]))
    open_at, close_at = strongest.at[first], strongest.at[second]
    return Pairs(
        open_at / signal.rate_hz,
        close_at / signal.rate_hz,
        (close_at - open_at) / signal.rate_hz,
        score,
        strongest.level_db[first],
        strongest.level_db[second],
        strongest.jump_db[first],
        strongest.jump_db[second],
    )


def _weighed(values: dict[str, np.ndarray], weights: dict[str, float]) -> np.ndarray:
    """Sum of weight x feature; a weight named "one*other" is of the product of two features."""
    total = np.full(len(next(iter(values.values()))), weights["bias"])
    for name, weight in weights.items():
        if name != "bias":
            one, _, other = name.partition("*")
            total += weight * values[one] * (values[other] if other else 1.0)
    return total


def strongest_clicks(clicks: Clicks, constants: dict) -> Clicks:
    """The clicks with the most level and jump, in order of time."""
    order = np.argsort(-(clicks.level_db + constants["jump_share"] * clicks.jump_db), kind="stable")
    return clicks.take(np.sort(order[: constants["candidates"]]))


def possible(clicks: Clicks, rate_hz: int, marked_s: float | None, constants: dict) -> tuple[np.ndarray, np.ndarray]:
    """Indices (opening, closing) of the pairs whose time a shutter at this marking could have."""
    first, second = np.triu_indices(len(clicks.at), 1)
    time_s = (clicks.at[second] - clicks.at[first]) / rate_hz
    fits = (time_s >= constants["least_s"]) & (time_s <= constants["most_s"])
    if marked_s is not None:
        fits &= (time_s >= constants["least_of_marked"] * marked_s) & (time_s <= constants["most_of_marked"] * marked_s)
    return first[fits], second[fits]


def features(
    signal: Signal, clicks: Clicks, first: np.ndarray, second: np.ndarray, marked_s: float | None, constants: dict
) -> dict[str, np.ndarray]:
    """The features of each pair by name; a feature that cannot be told is 0."""
    ms = signal.rate_hz / 1000
    open_at, close_at = clicks.at[first], clicks.at[second]
    time_ms = (close_at - open_at) / ms
    open_db, close_db = clicks.level_db[first], clicks.level_db[second]
    weaker_db = np.minimum(open_db, close_db)
    loudest_db = np.max(clicks.level_db, initial=-np.inf)
    since_open = (clicks.at[None, :] - open_at[:, None]) / ms
    since_close = (clicks.at[None, :] - close_at[:, None]) / ms
    between = (since_open > 0) & (since_close < 0)

    def rival(where: np.ndarray, of_db: np.ndarray) -> np.ndarray:
        strongest = np.max(np.where(where, clicks.level_db[None, :], -np.inf), axis=1, initial=-np.inf)
        return np.clip(strongest - of_db + constants["rival_db"], 0, constants["rival_most_db"]) / 10

    def follower(where: np.ndarray, of_db: np.ndarray) -> np.ndarray:
        strongest = np.max(np.where(where, clicks.level_db[None, :], -np.inf), axis=1, initial=-np.inf)
        return np.clip(strongest - of_db + constants["company_db"], 0, constants["company_db"]) / 10

    def within(since: np.ndarray, span_ms: list[float]) -> np.ndarray:
        return (since >= span_ms[0]) & (since <= span_ms[1])

    def quiet(at: np.ndarray, span_ms: list[float]) -> np.ndarray:
        return signal.mean_db(at + span_ms[0] * ms, at + span_ms[1] * ms, without=signal.floor_db)

    before_db = quiet(open_at, constants["quiet_before_ms"])
    after_db = quiet(close_at, constants["quiet_after_ms"])
    fallen_db = quiet(close_at, constants["struck_ms"]) - quiet(close_at, constants["fallen_ms"])
    open_fallen_db = quiet(open_at, constants["struck_ms"]) - quiet(open_at, constants["fallen_ms"])
    frames_db = np.diff(signal.frame_db_sum)
    loud_frames = np.count_nonzero(frames_db > signal.floor_db + loudest_db - constants["lively_db"])
    lively = loud_frames / max(len(frames_db), constants["lively_least_s"] * signal.rate_hz / signal.frame)
    inset = constants["buzz_inset_ms"] * ms
    buzz_db = signal.mean_db(open_at + inset, close_at - inset, without=None)
    buzz = np.nan_to_num(np.clip(buzz_db - np.maximum(before_db, after_db), *constants["buzz_db"]))
    gap = np.nan_to_num(np.clip(quiet(open_at, constants["gap_ms"]) - buzz_db, constants["gap_least_db"], 0))
    as_loud = clicks.level_db[None, :] >= (weaker_db - constants["neighbour_db"])[:, None]
    near = within(since_open, constants["neighbour_before_ms"]) | within(since_close, constants["neighbour_after_ms"])
    much_as_loud = clicks.level_db[None, :] >= (weaker_db - constants["busy_db"])[:, None]
    outside = (since_open < constants["before_ms"][0]) | (since_close > constants["after_ms"][1])
    later = (clicks.level_db[None, :] >= (weaker_db - constants["rival_db"])[:, None]) & (since_close > constants["last_after_ms"])
    off_stops = np.zeros(len(first)) if marked_s is None else np.log2(time_ms / 1000 / marked_s)
    return {
        "level_open": np.minimum(open_db, constants["level_most_db"]) / 10,
        "level_close": np.minimum(close_db, constants["level_most_db"]) / 10,
        "below_loudest_open": (open_db - loudest_db) / 10,
        "below_loudest_close": (close_db - loudest_db) / 10,
        "balance": np.minimum(np.abs(close_db - open_db - constants["balance_db"]), constants["rival_most_db"]) / 10,
        "jump_open": np.minimum(clicks.jump_db[first], constants["jump_most_db"]) / 10,
        "jump_close": np.minimum(clicks.jump_db[second], constants["jump_most_db"]) / 10,
        "slow": np.clip(off_stops, 0, 2),
        "fast": np.clip(-off_stops, 0, 2),
        "near_mark": np.zeros(len(first)) if marked_s is None else np.clip(1 - np.abs(off_stops) / constants["near_stops"], 0, 1),
        "top_speed": np.clip(off_stops, -1, 1) if marked_s is not None and marked_s < constants["top_speed_s"] else np.zeros(len(first)),
        "inside": rival(between, weaker_db),
        "after": rival((since_close > 0) & within(since_close, constants["after_ms"]), close_db),
        "before": rival(within(since_open, constants["before_ms"]), open_db),
        "release": np.any(within(since_open, constants["release_ms"]), axis=1).astype(float),
        "release_level": follower(within(since_open, constants["before_ms"]), open_db),
        "rebound": follower(between & within(since_open, constants["rebound_ms"]), open_db),
        "bounces": follower((since_close > 0) & within(since_close, constants["after_ms"]), close_db),
        "follows": follower((since_open > 0) & within(since_open, constants["follows_ms"]) & (since_close < -0.5), open_db),
        "buzz": np.where(time_ms > constants["buzz_from_ms"], buzz, 0) / 10,
        "unusual": np.abs(np.log10(time_ms / 1000 / constants["usual_s"])),
        "crowd": np.minimum(between.sum(axis=1), constants["crowd_most"]) / 2,
        "noise_before": np.clip(before_db - signal.floor_db, 0, constants["quiet_most_db"]) / 10,
        "noise_after": np.clip(after_db - signal.floor_db, 0, constants["quiet_most_db"]) / 10,
        "neighbours": np.minimum((as_loud & near).sum(axis=1), constants["neighbour_most"]) / 3,
        "busy": np.minimum((much_as_loud & outside).sum(axis=1), constants["busy_most"]) / 5,
        "last": 1.0 - np.any(later, axis=1),
        "early": rival(between & within(since_open, constants["early_ms"]), open_db),
        "gap": gap / 10,
        "lively": np.full(len(first), min(lively, constants["lively_most"]) * 10),
        "fall": np.clip(fallen_db, 0, constants["fall_most_db"]) / 10,
        "fall_open": np.where(time_ms > constants["long_ms"], np.clip(open_fallen_db, 0, constants["fall_most_db"]), 0) / 10,
    }
