"""Figures with their interval: what an instrument's steps and the hand leave open, carried through to what is derived.

Rules of JCGM 100:2008 ("GUM", from memory): a step read to r spreads as a rectangle, r / (2·sqrt 3) (4.3.7); the mean of n
figures repeats within s / sqrt n (4.2.3); independent parts add as squares (5.1.2); the interval is two standard
uncertainties, about 95 in 100 (6.2.1). The rounding of an instrument does not average out: the same depth is rounded alike.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

COVERAGE = 2
"""Standard uncertainties on each side of a figure."""


def figure(value: float, u: float) -> dict[str, float]:
    """{value, low, high} in the unit of `value`; `u` is one standard uncertainty."""
    return {"value": value, "low": value - COVERAGE * u, "high": value + COVERAGE * u}


def standard_u(one: Mapping[str, float]) -> float:
    """One standard uncertainty of a figure."""
    return (one["high"] - one["low"]) / (2 * COVERAGE)


def instrument_u(instrument: Mapping, readings: int = 1) -> float:
    """One standard uncertainty, in mm, of the mean of so many figures read with {resolution_mm, repeatability_mm}.

    Raises ValueError where the instrument's resolution is not known.
    """
    step, hand = instrument.get("resolution_mm"), instrument.get("repeatability_mm") or 0
    if not step or step < 0 or hand < 0:
        raise ValueError("Say what it was read with, and how fine: without that no interval can be given.")
    return math.hypot(step / 2 / math.sqrt(3), hand / math.sqrt(readings))


def read_figure(mm: float, instrument: Mapping) -> dict[str, float]:
    """One length read off an instrument, in mm, with its interval."""
    return figure(mm, instrument_u(instrument))


def mean_figure(values_mm: Sequence[float], instrument: Mapping) -> dict[str, float]:
    """The mean of lengths read at as many spots, in mm; their own spread is shape and not error, and left out.

    Raises ValueError if there are none.
    """
    if not values_mm:
        raise ValueError("Type at least one figure.")
    return figure(sum(values_mm) / len(values_mm), instrument_u(instrument, len(values_mm)))


def difference(one: Mapping[str, float], other: Mapping[str, float]) -> dict[str, float]:
    """`one` less `other`, taken independently."""
    return figure(one["value"] - other["value"], math.hypot(standard_u(one), standard_u(other)))


def side_of(one: Mapping[str, float], low: float, high: float) -> str:
    """Where a figure lies: "within", "below" or "above" with its whole interval, else "cannot_tell"."""
    if low <= one["low"] and one["high"] <= high:
        return "within"
    if one["high"] < low:
        return "below"
    return "above" if one["low"] > high else "cannot_tell"


def positive(value: float, what: str, most: float) -> float:
    """`value` if it is above 0 and at most `most`. Raises ValueError in words for the person: `what` begins the sentence."""
    if not 0 < value <= most:
        raise ValueError(f"{what} must be above 0 and at most {most:g}; check the figure.")
    return value
