"""Bellows and extension: what a draw from shortest to longest gives a focal length, by the thin lens."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from barnlight.domain.uncertainty import positive

_LONGEST_MM = 5000


def magnification_at(extension_mm: float, focal_mm: float) -> float:
    """Image over object with the lens `extension_mm` from the film: v/f − 1; below 0 it cannot reach infinity. Raises ValueError."""
    return positive(extension_mm, "The extension, in mm,", _LONGEST_MM) / positive(focal_mm, "The focal length, in mm,", 3000) - 1


def extension_for(magnification: float, focal_mm: float) -> float:
    """The extension f·(1 + m), in mm, for a magnification from 0 (infinity). Raises ValueError."""
    if magnification < 0:
        raise ValueError("A magnification is 0 at infinity and grows as you come nearer; it is never below 0.")
    return positive(focal_mm, "The focal length, in mm,", 3000) * (1 + magnification)


def object_distance(extension_mm: float, focal_mm: float) -> float:
    """How far before the lens, in mm, is what is sharp at this extension: f·v/(v − f). Raises ValueError at infinity and nearer."""
    magnification = magnification_at(extension_mm, focal_mm)
    if magnification <= 0:
        raise ValueError("With this extension nothing nearer than infinity is sharp.")
    return focal_mm * extension_mm / (extension_mm - focal_mm)


def bellows_factor(extension_mm: float, focal_mm: float) -> dict[str, float]:
    """How much longer to expose at an extension: {factor: (v/f)², stops: log2 of it}. Raises ValueError."""
    factor = (magnification_at(extension_mm, focal_mm) + 1) ** 2
    return {"factor": factor, "stops": math.log2(factor)}


def reach(shortest_mm: Mapping[str, float], longest_mm: Mapping[str, float], focal_mm: Mapping[str, float], flange_mm: Mapping[str, float] | None = None, free_mm: float | None = None) -> dict[str, Any]:
    """What a camera's draw gives a lens; lengths are {value, low, high} in mm from lens board to film.

    `flange_mm` is the lens's own distance from board to film at infinity (a telephoto needs less than its focal length);
    without it the focal length stands in. `free_mm`: the least draw at which the front still moves freely, told by the person.
    {infinity: "yes", "cannot_close_up" (the shortest draw is too long), "cannot_draw_out" or "cannot_tell",
    magnification, nearest_mm (from the lens, thin lens; None at infinity), factor, stops: at the longest draw, or None where
    infinity lies beyond it, draw_over_mm: draw left after infinity, moves_at_infinity: True, False or None where not told}.
    Raises ValueError for lengths that cannot be, or a shortest above the longest.
    """
    focal = positive(focal_mm["value"], "The focal length, in mm,", 3000)
    if positive(shortest_mm["value"], "The shortest draw, in mm,", _LONGEST_MM) > positive(longest_mm["value"], "The longest draw, in mm,", _LONGEST_MM):
        raise ValueError("The shortest draw is longer than the longest; they may have been swapped.")
    need = flange_mm or focal_mm
    over = longest_mm["value"] - need["value"]
    near = {"magnification": None, "nearest_mm": None, "factor": None, "stops": None}
    if over >= 0:
        m = over / focal
        near = {"magnification": m, "nearest_mm": focal * (1 + 1 / m) if m > 0 else None, "factor": (1 + m) ** 2, "stops": 2 * math.log2(1 + m)}
    return {
        "infinity": _infinity(shortest_mm, longest_mm, need),
        **near,
        "draw_over_mm": over,
        "moves_at_infinity": None if free_mm is None else need["value"] >= free_mm,
    }


def _infinity(shortest: Mapping[str, float], longest: Mapping[str, float], need: Mapping[str, float]) -> str:
    if need["high"] < shortest["low"]:
        return "cannot_close_up"
    if need["low"] > longest["high"]:
        return "cannot_draw_out"
    return "yes" if shortest["high"] <= need["low"] and need["high"] <= longest["low"] else "cannot_tell"
