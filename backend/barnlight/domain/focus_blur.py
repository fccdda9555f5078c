"""Blur from a focus error: the circle of confusion a person chooses, blur at each stop, and the stop at which it is gone."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.uncertainty import positive

# A disc a ten thousandth of a millimetre over the limit is a matter of rounding.
_EDGE_MM = 1e-9


def circle_of_confusion(format_: str, convention: str, catalogue: Mapping) -> dict[str, Any]:
    """The largest disc that still counts as a point, by a named convention: {mm, as_printed, source, sureness}.

    `convention` is the id of a standard. Raises ValueError for a format or convention that the catalogue does not have.
    """
    found = next((one for one in catalogue["formats"] if one["id"] == format_), None)
    rule = next((one for one in catalogue["standards"] if one["id"] == convention and one["quantity"].startswith("circle_of_confusion")), None)
    if found is None or rule is None:
        raise ValueError("Choose a format and a circle of confusion.")
    mm = rule["value"] if rule["unit"] == "mm" else math.hypot(found["width_mm"], found["height_mm"]) / rule["value"]
    return {"mm": mm, "as_printed": rule["as_printed"], "source": rule["source"], "sureness": rule["sureness"]}


def blur_at(error_mm: Mapping[str, float], stops: Sequence[float], circle_mm: float) -> list[dict[str, Any]]:
    """The disc on film at each f-number: [{n, blur_mm: {value, low, high}, gone: "yes", "no" or "perhaps"}]; |e|/N."""
    positive(circle_mm, "The circle of confusion, in mm,", 1)
    least, most = _size(error_mm)
    rows = []
    for n in stops:
        positive(n, "An f-number", 1024)
        blur = {"value": abs(error_mm["value"]) / n, "low": least / n, "high": most / n}
        gone = "yes" if blur["high"] <= circle_mm + _EDGE_MM else "no" if blur["low"] > circle_mm + _EDGE_MM else "perhaps"
        rows.append({"n": n, "blur_mm": blur, "gone": gone})
    return rows


def gone_at(error_mm: Mapping[str, float], stops: Sequence[float], circle_mm: float) -> dict[str, Any]:
    """The f-number from which an error no longer shows, |e|/c: {n: {value, low, high}, likely, surely}.

    `likely` and `surely` are the first of the marked `stops` at which it is gone by the value and by the whole interval;
    None where the scale does not reach so far.
    """
    positive(circle_mm, "The circle of confusion, in mm,", 1)
    least, most = _size(error_mm)
    n = {"value": abs(error_mm["value"]) / circle_mm, "low": least / circle_mm, "high": most / circle_mm}
    marked = sorted(stops)
    return {
        "n": n,
        "likely": next((one for one in marked if one >= n["value"] - _EDGE_MM), None),
        "surely": next((one for one in marked if one >= n["high"] - _EDGE_MM), None),
    }


def _size(error_mm: Mapping[str, float]) -> tuple[float, float]:
    """The least and the most the error may be, without its sign."""
    low, high = error_mm["low"], error_mm["high"]
    return (0.0 if low <= 0 <= high else min(abs(low), abs(high))), max(abs(low), abs(high))


def depth_of_focus_mm(n: float, circle_mm: float) -> float:
    """How far film may lie before or behind the sharp plane at f-number `n`: N·c, in mm on each side."""
    return positive(n, "An f-number", 1024) * positive(circle_mm, "The circle of confusion, in mm,", 1)


def hyperfocal_mm(focal_mm: float, n: float, circle_mm: float) -> float:
    """The distance f²/(N·c), in mm, focused on which all beyond is still sharp."""
    return positive(focal_mm, "The focal length, in mm,", 3000) ** 2 / depth_of_focus_mm(n, circle_mm)
