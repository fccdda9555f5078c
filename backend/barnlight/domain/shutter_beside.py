"""The reading without the mark beside the one with it: a mark must not turn the gap between short firings into one long firing."""

from __future__ import annotations

from typing import Any

import numpy as np

from barnlight.domain.shutter_timing import listen, read_both

# A firing that lies inside is at most this share of the time around it: a train's ticks seldom make a pair so short and clear.
INSIDE_SHARE = 0.5
EDGE_S = 0.005


def measure_beside(samples: np.ndarray, rate_hz: int, marked_s: float | None, constants: dict) -> dict[str, Any]:
    """What `measure` returns for the marked speed, weighed against the sound by itself. Raises ValueError as `measure` does."""
    return weighed(*read_both(listen(samples, rate_hz, constants), marked_s, constants))


def weighed(marked: dict, unmarked: dict) -> dict[str, Any]:
    """The marked measurement with `unmarked`: {verdict, open_time_s, firings: their number} beside it; times in seconds.

    Doubtful where the unmarked reading finds two or more shorter firings inside a marked one.
    """
    beside = {"verdict": unmarked["verdict"], "open_time_s": unmarked["open_time_s"], "firings": len(unmarked["firings"])}
    if marked["marked_s"] is not None and any(_holds_firings(firing, unmarked["firings"]) for firing in marked["firings"]):
        doubt = {"verdict": "doubtful", "reason": "several_firings_inside", "other_s": unmarked["open_time_s"]}
        return {**marked, **doubt, "firings": [{**firing, **doubt} for firing in marked["firings"]], "common": None, "unmarked": beside}
    return {**marked, "unmarked": beside}


def _holds_firings(around: dict, firings: list[dict]) -> bool:
    inside = [
        one
        for one in firings
        if one["open_time_s"] <= INSIDE_SHARE * around["open_time_s"]
        and around["open_s"] - EDGE_S <= one["open_s"] <= around["close_s"] + EDGE_S
    ]
    return len(inside) > 1
