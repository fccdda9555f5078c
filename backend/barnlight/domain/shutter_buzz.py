"""The gear train between opening and closing: whether its buzz falters. A hint to fire again, never a verdict.

The escapement ticks evenly while it holds the blades. Where it sticks, it stands still for a while and the buzz falls away; so
the deepest fall for 12 ms below the buzz's usual level tells more than single ticks, which echoes and noise add or hide.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from barnlight.domain.rounding import fixed
from barnlight.domain.shutter_candidates import Clicks
from barnlight.domain.shutter_signal import Signal


def buzz_of(signal: Signal, clicks: Clicks, firings: Sequence[Mapping], lead: Mapping, constants: Mapping) -> dict[str, Any] | None:
    """{ticks: of `lead`, dip_db: the median over the firings, uneven}, or None where no train can be judged.

    `firings`: with `open_s` and `close_s`; `lead`: the one that stands for all; `constants`: `shutter_timing.buzz`.
    """
    found = [one for one in (_dip(signal, clicks, firing, constants) for firing in firings) if one]
    led = _dip(signal, clicks, lead, constants)
    if not led:
        return None
    beyond_db = float(np.median([dip_db - most_db for _, dip_db, most_db in found]))
    return {"ticks": led[0], "dip_db": float(np.median([dip_db for _, dip_db, _ in found])), "uneven": beyond_db > 0}


def buzz_hint(buzz: Mapping | None) -> str | None:
    """What to say of a measurement's `buzz` (None in older ones), or None where there is nothing to say."""
    if not buzz or not buzz["uneven"]:
        return None
    return (
        f"The gear train sounds uneven: its buzz falls by {fixed(buzz['dip_db'], 0)} dB for a moment. Fire this speed again; "
        "only the times and their scatter count."
    )


def _dip(signal: Signal, clicks: Clicks, firing: Mapping, constants: Mapping) -> tuple[int, float, float] | None:
    """(ticks, deepest dip in dB, the most that is usual for a train so long) of one firing."""
    start = (firing["open_s"] + constants["after_open_ms"] / 1000) * signal.rate_hz
    end = (firing["close_s"] - constants["before_close_ms"] / 1000) * signal.rate_hz
    ticks_db = clicks.level_db[(clicks.at >= start) & (clicks.at <= end)]
    if end - start < constants["least_ms"] * signal.rate_hz / 1000 or len(ticks_db) < constants["least_ticks"]:
        return None
    if np.median(ticks_db) < constants["least_level_db"]:
        return None
    window = constants["window_frames"]
    frames_db = np.diff(signal.frame_db_sum[math.floor(start / signal.frame) : math.floor(end / signal.frame) + 1])
    energy_sum = np.concatenate(([0.0], np.cumsum(10 ** (frames_db / 10))))
    windows_db = 10 * np.log10((energy_sum[window:] - energy_sum[:-window]) / window)
    # The longer a healthy train runs, the deeper the deepest of its dips.
    doublings = math.log2((end - start) / signal.rate_hz / constants["usual_s"])
    return len(ticks_db), float(np.median(windows_db) - windows_db.min()), constants["dip_db"] + constants["dip_db_a_doubling"] * doublings
