"""Whether firings stand alone: a shutter is fired into a rest, while talk goes on around its sharpest sounds nearly as loud."""

from __future__ import annotations

import numpy as np

from barnlight.domain.shutter_candidates import Clicks
from barnlight.domain.shutter_events import Event
from barnlight.domain.shutter_pairs import Pairs
from barnlight.domain.shutter_signal import Signal


def stands_alone(signal: Signal, clicks: Clicks, pairs: Pairs, events: list[Event], constants: dict) -> bool:
    """`events`: of `find_events`, not empty; `constants`: the catalogue's `shutter_timing.alone`.

    Measured against the weaker click of the likeliest firing: how long it is nearly as loud outside all firings, and how many
    clicks are; both a second, of at least one second, for a cut recording may hold hardly anything but the firing. And between
    its two clicks hardly any other is as loud: a train's ticks are weaker than the impacts, the pulses of a voice are not.
    """
    likeliest = events[0].best
    weaker_db = min(pairs.open_level_db[likeliest], pairs.close_level_db[likeliest])
    spans_s = [(pairs.open_s[one.best] - constants["before_s"], pairs.close_s[one.best] + constants["after_s"]) for one in events]

    def outside(at: np.ndarray) -> np.ndarray:
        at_s = at / signal.rate_hz
        return np.logical_and.reduce([(at_s < from_s) | (at_s > to_s) for from_s, to_s in spans_s])

    frames_db = np.diff(signal.frame_db_sum)
    apart = outside(signal.frame * np.arange(len(frames_db)))
    frame_s = signal.frame / signal.rate_hz
    seconds = max(frame_s * np.count_nonzero(apart), 1.0)
    loud_s = frame_s * np.count_nonzero(frames_db[apart] > signal.floor_db + weaker_db - constants["sound_below_db"])
    as_loud = np.count_nonzero(outside(clicks.at) & (clicks.level_db > weaker_db - constants["click_below_db"]))
    open_s, close_s = pairs.open_s[likeliest] + constants["inside_after_s"], pairs.close_s[likeliest] - constants["inside_before_s"]
    clicks_s = clicks.at / signal.rate_hz
    inside = np.count_nonzero((clicks_s > open_s) & (clicks_s < close_s) & (clicks.level_db > weaker_db))
    if inside > constants["most_inside"]:
        return False
    return bool(loud_s <= constants["most_sound"] * seconds and as_loud <= constants["most_clicks_per_s"] * seconds)
