"""The sum of uncertain amounts: each a triangle of low, likely and high that comes with a chance; summed on a fine grid, no dice.

Each amount is laid on the grid so that its mean is kept exactly, then the amounts are convolved: the mean of the total is exact, its
quantiles are good to about one cell of 1/512 of the whole span.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

CELLS = 512
QUANTILES = {"low": 0.025, "middle": 0.5, "high": 0.975}


def distribution(parts: Sequence[Mapping], cells: int = CELLS) -> dict[str, Any]:
    """{start, step, masses}: the chance of each amount start + k step. A part is {low, likely, high, chance}; below nought it takes away.

    Raises ValueError where low, likely and high are out of order or a chance is not between 0 and 1.
    """
    for part in parts:
        if not part["low"] <= part["likely"] <= part["high"] or not 0 <= part["chance"] <= 1:
            raise ValueError("An uncertain amount needs low, likely and high in this order, and a chance between 0 and 1.")
    bounds = [_bounds(part) for part in parts]
    start, width = sum(low for low, _ in bounds), sum(high - low for low, high in bounds)
    if width <= 0:
        return {"start": float(start), "step": 1.0, "masses": [1.0]}
    step = width / cells
    total = np.ones(1)
    for part, (low, high) in zip(parts, bounds, strict=True):
        if high > low:
            total = np.convolve(total, _laid_out(part, low, high, step))
    return {"start": float(start), "step": step, "masses": total.tolist()}


def quantile(found: Mapping, share: float) -> float:
    """The amount that is not exceeded with that chance; between two grid points on a straight line."""
    wanted, so_far, masses = share * sum(found["masses"]), 0.0, found["masses"]
    if len(masses) == 1:
        return found["start"]
    for at, mass in enumerate(masses):
        if so_far + mass >= wanted and mass > 0:
            return found["start"] + found["step"] * (at - 0.5 + (wanted - so_far) / mass)
        so_far += mass
    return found["start"] + found["step"] * (len(masses) - 1)


def mean_of(part: Mapping) -> float:
    """The mean of one uncertain amount."""
    return part["chance"] * (part["low"] + part["likely"] + part["high"]) / 3


def variance_of(part: Mapping) -> float:
    """The variance of one uncertain amount, the chance that it does not come included."""
    low, likely, high = part["low"], part["likely"], part["high"]
    middle = (low + likely + high) / 3
    own = (low * low + likely * likely + high * high - low * likely - low * high - likely * high) / 18
    return part["chance"] * (own + middle * middle) - (part["chance"] * middle) ** 2


def _bounds(part: Mapping) -> tuple[float, float]:
    """Smallest and largest amount; nought is one of them where the amount may not come."""
    if part["chance"] == 0:
        return 0.0, 0.0
    return (part["low"], part["high"]) if part["chance"] == 1 else (min(0.0, part["low"]), max(0.0, part["high"]))


def _laid_out(part: Mapping, low: float, high: float, step: float) -> np.ndarray:
    """Masses at low, low + step, ...: each point takes what lies near it, by a hat of two cells, which keeps the mean."""
    points = int(np.ceil((high - low) / step - 1e-9)) + 1
    edges = low + step * np.arange(-1, points + 1)
    masses = part["chance"] * np.diff(_ramp(part, edges), 2) / step
    if part["chance"] < 1:
        nought = (0.0 - low) / step
        at = int(np.floor(nought))
        masses[at] += (1 - part["chance"]) * (1 - (nought - at))
        if nought > at:
            masses[at + 1] += (1 - part["chance"]) * (nought - at)
    return masses


def _ramp(part: Mapping, at: np.ndarray) -> np.ndarray:
    """The integral of the triangle's distribution function up to each point."""
    low, likely, high = part["low"], part["likely"], part["high"]
    if high == low:
        return np.maximum(at - low, 0.0)
    rising = (np.clip(at, low, likely) - low) ** 3 / (3 * (high - low) * (likely - low)) if likely > low else np.zeros_like(at)
    falling = (high - np.clip(at, likely, high)) ** 3 / (3 * (high - low) * (high - likely)) if high > likely else np.zeros_like(at)
    return np.where(at <= likely, rising, at - (low + likely + high) / 3 + falling)
