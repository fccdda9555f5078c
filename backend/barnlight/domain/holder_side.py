"""One side of a sheet holder: mean depth, tilt and dish of its divider from five points, each with its interval."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from barnlight.domain.lengths import plausible, show_length
from barnlight.domain.uncertainty import figure, instrument_u, mean_figure

POINTS = ("top_left", "top_right", "bottom_left", "bottom_right", "middle")
"""The five points of a side, seen with the loading end below."""

_CORNERS = POINTS[:4]
# A point further than this from its neighbours is asked about at once: common practice, no source.
_STRANGE_MM = 0.5


def side_shape(points: Mapping[str, float], instrument: Mapping) -> dict[str, Any]:
    """Depth of one side from its points {name: mm}; names are those of the axis `point`.

    {n, mean_mm, spread_mm, tilt: {across_mm: right less left, along_mm: bottom less top, corner_mm: over the corners furthest
    apart} or None without all four corners, dish_mm: middle less the mean of the corners (positive: hollow towards the
    divider) or None, notable: which of "tilt" and "dish" the interval tells from nothing}. Figures are {value, low, high}.
    Raises ValueError without points, or for an instrument of unknown resolution.
    """
    values = [points[name] for name in POINTS if name in points]
    mean = mean_figure(values, instrument)
    shape: dict[str, Any] = {"n": len(values), "mean_mm": mean, "spread_mm": max(values) - min(values), "tilt": None, "dish_mm": None, "notable": []}
    if not all(name in points for name in _CORNERS):
        return shape
    u = instrument_u(instrument)
    top_left, top_right, bottom_left, bottom_right = (points[name] for name in _CORNERS)
    across = (top_right + bottom_right - top_left - bottom_left) / 2
    along = (bottom_left + bottom_right - top_left - top_right) / 2
    shape["tilt"] = {"across_mm": figure(across, u), "along_mm": figure(along, u), "corner_mm": figure(abs(across) + abs(along), u * math.sqrt(2))}
    if "middle" in points:
        corners = (top_left + top_right + bottom_left + bottom_right) / 4
        shape["dish_mm"] = figure(points["middle"] - corners, u * math.sqrt(1.25))
    shape["notable"] = _notable(shape)
    return shape


def _notable(shape: Mapping) -> list[str]:
    told = ["tilt"] if any(_not_nothing(shape["tilt"][name]) for name in ("across_mm", "along_mm")) else []
    return told + (["dish"] if shape["dish_mm"] and _not_nothing(shape["dish_mm"]) else [])


def _not_nothing(one: Mapping[str, float]) -> bool:
    return one["low"] > 0 or one["high"] < 0


def point_doubt(mm: float, beside_mm: list[float], reading: Mapping) -> dict[str, Any] | None:
    """What to ask at once about a point just typed: {message, likely_unit?}; None where it may well be.

    First by what the reading may be at all (inches typed as millimetres are noticed there), then by the points already
    taken in this set, all in mm.
    """
    doubt = plausible(reading, mm)
    if doubt or not beside_mm:
        return doubt
    middle = sorted(beside_mm)[len(beside_mm) // 2]
    if abs(mm - middle) <= _STRANGE_MM:
        return None
    return {"message": f"{show_length(mm, 'mm')} stands {show_length(abs(mm - middle), 'mm')} off the other points ({show_length(middle, 'mm')}). Read it once more."}


def depth_counts(holders: Mapping | None) -> dict[str, Any]:
    """Whether a depth to the divider says anything about focus for these holders: {counts, reason}.

    Only film that lies on the divider is placed by it (handbook, holders: "registers on"); `reason` is a sentence or None.
    """
    on = (holders or {}).get("registers_on")
    if on == "divider":
        return {"counts": True, "reason": None}
    if on == "front_lip":
        return {"counts": False, "reason": "Plates and sheaths are pressed forward against a lip: the lip places them, not the divider. Depth to the divider says nothing here."}
    if on == "pressure_plate":
        return {"counts": False, "reason": "A sprung plate presses this film forward: the frame places it. Depth to a divider says nothing here."}
    return {"counts": True, "reason": "Not said yet what the film lies on. The figures count only if it lies on the divider: look first."}
