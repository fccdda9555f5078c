"""Figures of the timing engine over many recordings: shares with their own uncertainty, and whether each target is met."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from barnlight.bench.shutter_recordings import Case

SIXTH, THIRD = 1 / 6, 1 / 3
# An interval wider than this says nothing.
ANSWER_STOPS = 2.0


@dataclass(frozen=True)
class Share:
    """How many of how many, with the 95 % interval of Wilson (1927)."""

    hits: int
    of: int

    @property
    def value(self) -> float:
        return self.hits / self.of if self.of else math.nan

    def limits(self) -> tuple[float, float]:
        z, n = 1.959963984540054, self.of
        if not n:
            return 0.0, 1.0
        middle = (self.value + z * z / (2 * n)) / (1 + z * z / n)
        half = z / (1 + z * z / n) * math.sqrt(self.value * (1 - self.value) / n + z * z / (4 * n * n))
        return max(0.0, middle - half), min(1.0, middle + half)

    def __str__(self) -> str:
        low, high = self.limits()
        return f"{100 * self.value:5.1f} % ({100 * low:.1f}-{100 * high:.1f}) of {self.of}" if self.of else "  -   of 0"


@dataclass(frozen=True)
class Reading:
    """One result against its truth."""

    case: Case
    clear: bool
    answered: bool
    off_stops: float  # |log2(read / true)|; infinite without an answer
    covered: bool
    width_stops: float
    firings: int
    common_share: float | None
    common_off_stops: float
    uneven: bool | None  # None: no gear train could be judged


def reading(case: Case, result: dict[str, Any]) -> Reading:
    """The truth of a recording of several firings is the median of its open times."""
    true_s = float(np.median(case.times_s)) if case.times_s else math.nan
    time_s, common = result["open_time_s"], result["common"]
    width = math.inf
    if time_s is not None and result["low_s"] > 0:
        width = math.log2(result["high_s"] / result["low_s"])
    return Reading(
        case,
        result["verdict"] == "clear",
        width <= ANSWER_STOPS,
        abs(math.log2(time_s / true_s)) if time_s is not None and case.times_s else math.inf,
        time_s is not None and result["low_s"] <= true_s <= result["high_s"],
        width,
        len(result["firings"]),
        common["share"] if common else None,
        abs(math.log2(common["open_time_s"] / true_s)) if common and case.times_s else math.inf,
        result["buzz"] and result["buzz"]["uneven"],
    )


def share(values: Sequence[bool]) -> Share:
    return Share(sum(map(bool, values)), len(values))


def singles(readings: list[Reading]) -> dict[str, Share]:
    """The shares of recordings of one firing."""
    answered, clear = [one for one in readings if one.answered], [one for one in readings if one.clear]
    return {
        "answered": share([one.answered for one in readings]),
        "clear": share([one.clear for one in readings]),
        "clear within 1/6": share([one.off_stops <= SIXTH for one in clear]),
        "clear within 1/3": share([one.off_stops <= THIRD for one in clear]),
        "answered within 1/6": share([one.off_stops <= SIXTH for one in answered]),
        "answered within 1/3": share([one.off_stops <= THIRD for one in answered]),
        "interval covers, clear": share([one.covered for one in clear]),
        "interval covers, answered": share([one.covered for one in answered]),
        "counted as one firing": share([one.firings == 1 for one in readings]),
    }


def triples(readings: list[Reading], sure: float) -> dict[str, Share]:
    """The shares of recordings of three firings; `sure` = the posterior from which a common reading counts as sure."""
    common = [one for one in readings if one.common_share is not None]
    surely = [one for one in common if one.common_share >= sure]
    return {
        "counted as three": share([one.firings == 3 for one in readings]),
        "common reading": share([one.common_share is not None for one in readings]),
        "common within 1/6": share([one.common_off_stops <= SIXTH for one in common]),
        "sure, of common": share([one.common_share >= sure for one in common]),
        "sure within 1/6": share([one.common_off_stops <= SIXTH for one in surely]),
        "sure within 1/3": share([one.common_off_stops <= THIRD for one in surely]),
        "clear": share([one.clear for one in readings]),
        "clear within 1/6": share([one.off_stops <= SIXTH for one in readings if one.clear]),
        "clear within 1/3": share([one.off_stops <= THIRD for one in readings if one.clear]),
        "interval covers, answered": share([one.covered for one in readings if one.answered]),
        "answered": share([one.answered for one in readings]),
    }


def median_width_stops(readings: list[Reading]) -> float:
    """Of the 95 % interval, over all answered."""
    return float(np.median([one.width_stops for one in readings if one.answered]))
