"""The open time that several firings of one recording agree on (step 15): three read together beat any single one."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from barnlight.domain.shutter_events import Event, half_width_s, narrowest
from barnlight.domain.shutter_pairs import Pairs


def common_reading(pairs: Pairs, events: list[Event], all_constants: dict) -> dict[str, Any] | None:
    """What the firings agree on, or None if fewer than two have a reading near it.

    {chosen: index of the pair each event is read as, None for one that agrees with nothing, open_time_s: their median,
    spread_stops: slowest over fastest, share: of the posterior near the common value, 0..1, low_s, high_s: its 95 % interval}.
    """
    if len(events) < 2:
        return None
    overlap_s, constants = all_constants["event"]["overlap_s"], all_constants["common"]
    step, lowest, highest = constants["step_stops"], math.log2(pairs.open_time_s.min()), math.log2(pairs.open_time_s.max())
    grid = lowest + step * np.arange(math.floor((highest - lowest) / step) + 1)
    local = [_overlapping(pairs, event, overlap_s) for event in events]
    # Firings of one shutter err alike (the same loud release each time), so all of them together count as one witness, not as many.
    log_posterior = constants["witness"] / len(events) * sum(_log_likelihood(grid, pairs.open_time_s[rivals], p, constants) for rivals, p in local)
    posterior = np.exp(log_posterior - np.max(log_posterior))
    posterior /= posterior.sum()
    peak = grid[int(np.argmax(posterior))]
    near = np.abs(grid - peak) <= constants["share_stops"] + step / 2
    chosen = [_nearest_likely(pairs, rivals, peak, constants["repick_stops"]) for rivals, _ in local]
    # An event that cannot be read like the others was another noise.
    agreeing = [pair for pair in chosen if pair is not None]
    if len(agreeing) < 2:
        return None
    times_s = pairs.open_time_s[agreeing]
    first, last = narrowest(grid, posterior, int(np.argmax(posterior)), constants["hold"])
    time_s = float(np.median(times_s))
    half_s = half_width_s(pairs, agreeing[0], all_constants["interval"])
    return {
        "chosen": chosen,
        "open_time_s": time_s,
        "spread_stops": float(np.log2(times_s.max() / times_s.min())),
        "share": float(posterior[near].sum()),
        "low_s": min(time_s - half_s, float(2 ** grid[first])),
        "high_s": max(time_s + half_s, float(2 ** grid[last])),
    }


def _overlapping(pairs: Pairs, event: Event, overlap_s: float) -> tuple[np.ndarray, np.ndarray]:
    """The readings that compete for the time of this firing alone, likeliest first, and their probabilities."""
    rivals = event.rivals
    here = (pairs.open_s[rivals] <= pairs.close_s[event.best] + overlap_s) & (pairs.close_s[rivals] >= pairs.open_s[event.best] - overlap_s)
    score = pairs.score[rivals[here]]
    highest = max(float(score.max()), 0.0)
    odds = np.exp(score - highest)
    order = np.argsort(-score, kind="stable")
    return rivals[here][order], (odds / (odds.sum() + math.exp(-highest)))[order]


def _log_likelihood(grid: np.ndarray, times_s: np.ndarray, p: np.ndarray, constants: dict) -> np.ndarray:
    likeliest = times_s[: constants["pairs"]]
    off = (grid[:, None] - np.log2(likeliest)[None, :]) / constants["sigma_stops"]
    return np.log(np.exp(-0.5 * off * off) @ p[: len(likeliest)] + constants["floor"])


def _nearest_likely(pairs: Pairs, rivals: np.ndarray, log2_time: float, within_stops: float) -> int | None:
    """The likeliest pair of the firing within reach of the common value."""
    off_stops = np.abs(np.log2(pairs.open_time_s[rivals]) - log2_time)
    fits = np.flatnonzero(off_stops <= within_stops)
    return int(rivals[fits[0]]) if len(fits) else None
