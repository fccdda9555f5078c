"""Where in a long recording the firings are: a coarse outline of its clicks, made in one pass, and the stretches worth measuring.

Constants are `stretch` of the catalogue's `shutter_timing`: own, common practice of onset finding, no source.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

# Level of digital silence, mean square of full scale.
LEAST_ENERGY = 1e-12
VERDICTS = ("unusable", "doubtful", "clear")


class ClickOutline:
    """The level of clicks, frame by frame, whatever the length of the recording: one small whole number a frame.

    The difference of neighbouring samples lets clicks stand out of hum and voices. Levels are in tenths of a decibel: whole
    numbers, so that phone and server choose alike.
    """

    def __init__(self, rate_hz: int, limits: Mapping[str, float]) -> None:
        self.frame = max(1, math.floor(rate_hz * limits["frame_ms"] / 1000 + 0.5))
        self.frame_s = self.frame / rate_hz
        self._found: list[np.ndarray] = []
        self._rest: np.ndarray | None = None

    def add(self, values: np.ndarray) -> None:
        """Takes the next block: one row a moment, one column a channel, full scale -1..1. A click counts in any channel."""
        rest = values[:1] if self._rest is None else self._rest
        rest = np.concatenate((rest, values))
        whole = (len(rest) - 1) // self.frame
        steps = np.square(np.diff(rest[: whole * self.frame + 1].astype(float), axis=0))
        energy = steps.reshape(whole, self.frame, values.shape[1]).mean(axis=1).max(axis=1)
        self._found.append(np.floor(100 * np.log10(energy + LEAST_ENERGY) + 0.5).astype(np.int16))
        self._rest = rest[whole * self.frame :]

    def levels(self) -> np.ndarray:
        """The levels so far; what is less than a frame at the end is left out."""
        return np.concatenate(self._found) if self._found else np.zeros(0, np.int16)


def stretches(levels: Sequence[int], frame_s: float, limits: Mapping[str, float]) -> list[dict[str, float]]:
    """[{from_s, to_s}] worth measuring, that with the loudest click first; at least one in any sound.

    Round the loudest click that is still free gather those not much softer, as long as the gaps between them are short.
    """
    heard = np.asarray(levels, int)
    if len(heard) == 0:
        return []
    free = _onsets(heard, limits)
    if len(free) == 0:
        free = np.array([int(np.argmax(heard))])
    found: list[dict[str, float]] = []
    while len(free) > 0 and len(found) < limits["most"]:
        loudest = int(free[np.argmax(heard[free])])
        near = free[heard[free] >= heard[loudest] - 10 * limits["below_loudest_db"]].tolist()
        first, last = _gathered(near, near.index(loudest), frame_s, limits)
        from_s = max(0.0, first * frame_s - limits["beside_s"])
        to_s = min(len(heard) * frame_s, (last + 1) * frame_s + limits["beside_s"])
        found.append({"from_s": from_s, "to_s": to_s})
        free = free[(free < first) | (free > last)]
    return found


def best_stretch(measured: Sequence[Mapping[str, Any]]) -> int:
    """Which measurement of several stretches to keep: the surest, then the one with most firings, then the first."""

    def worth(index: int) -> tuple:
        one = measured[index]
        return VERDICTS.index(one["verdict"]), one["reason"] != "may_not_be_a_shutter", len(one["firings"]), -index

    return max(range(len(measured)), key=worth)


def shifted(measurement: Mapping[str, Any], by_s: float) -> dict[str, Any]:
    """A measurement of a stretch that begins at `by_s`, with its moments counted from the start of the whole recording."""
    firings = [{**firing, "open_s": firing["open_s"] + by_s, "close_s": firing["close_s"] + by_s} for firing in measurement["firings"]]
    return {**measurement, "firings": firings, "clicks_s": [at_s + by_s for at_s in measurement["clicks_s"]]}


def _onsets(heard: np.ndarray, limits: Mapping[str, float]) -> np.ndarray:
    """Frames that stand well over the mean of those just before."""
    behind = int(limits["behind_frames"])
    if len(heard) <= behind:
        return np.zeros(0, int)
    total = np.concatenate(([0], np.cumsum(heard)))
    before = total[behind:-1] - total[: -behind - 1]
    return np.flatnonzero(behind * heard[behind:] - before >= behind * 10 * limits["rise_db"]) + behind


def _gathered(near: list[int], seed: int, frame_s: float, limits: Mapping[str, float]) -> tuple[int, int]:
    """First and last frame of the clicks round `near[seed]`, the nearer neighbour always next."""
    low = high = seed
    longest_s = limits["longest_s"] - 2 * limits["beside_s"]
    while True:
        left = near[low] - near[low - 1] if low > 0 else math.inf
        right = near[high + 1] - near[high] if high + 1 < len(near) else math.inf
        step = min(left, right)
        if step * frame_s > limits["gap_s"] or (near[high] - near[low] + step + 1) * frame_s > longest_s:
            return near[low], near[high]
        if left <= right:
            low -= 1
        else:
            high += 1
