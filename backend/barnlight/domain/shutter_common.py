"""The open time that several firings of one recording agree on (step 15): three read together beat any single one."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from barnlight.domain.shutter_events import Event
from barnlight.domain.shutter_pairs import Pairs


def common_reading(pairs: Pairs, events: list[Event], constants: dict) -> dict[str, Any] | None:
    """What the firings agree on, or None if there are fewer than two or one of them has no reading near it.

    {chosen: index of the pair each firing is read as, open_time_s: their median, spread_stops: slowest over fastest,
    share: of the posterior near the common value, 0..1}.
    """
    if len(events) < 2:
        return None
    limits, constants = constants["pairs"], constants["common"]
    step, lowest = constants["step_stops"], math.log2(limits["least_s"])
    grid = lowest + step * np.arange(math.floor((math.log2(limits["most_s"]) - lowest) / step) + 1)
    log_posterior = sum(_log_likelihood(grid, pairs, event, constants) for event in events)
    posterior = np.exp(log_posterior - np.max(log_posterior))
    peak = grid[int(np.argmax(posterior))]
    near = np.abs(grid - peak) <= constants["share_stops"] + step / 2
    chosen = [_nearest_likely(pairs, event, peak, constants["repick_stops"]) for event in events]
    if None in chosen:
        return None
    times_s = pairs.open_time_s[chosen]
    return {
        "chosen": chosen,
        "open_time_s": float(np.median(times_s)),
        "spread_stops": float(np.log2(times_s.max() / times_s.min())),
        "share": float(posterior[near].sum() / posterior.sum()),
    }


def _log_likelihood(grid: np.ndarray, pairs: Pairs, event: Event, constants: dict) -> np.ndarray:
    likeliest = event.rivals[: constants["pairs"]]
    off = (grid[:, None] - np.log2(pairs.open_time_s[likeliest])[None, :]) / constants["sigma_stops"]
    return np.log(np.exp(-0.5 * off * off) @ event.rival_p[: len(likeliest)] + constants["floor"])


def _nearest_likely(pairs: Pairs, event: Event, log2_time: float, within_stops: float) -> int | None:
    """The likeliest pair of the firing within reach of the common value."""
    off_stops = np.abs(np.log2(pairs.open_time_s[event.rivals]) - log2_time)
    fits = np.flatnonzero(off_stops <= within_stops)
    return int(event.rivals[fits[0]]) if len(fits) else None
