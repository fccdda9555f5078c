"""Straight and square by simple means: standards from four gaps, a slide on a table, a divider under a straightedge."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from barnlight.domain.focus_blur import gone_at
from barnlight.domain.uncertainty import figure, instrument_u, positive, read_figure

CORNERS = ("top_left", "top_right", "bottom_left", "bottom_right")
# Standards out by less than this across the picture never show (standard `parallel_harmless`).
_HARMLESS_MM = 1.0


def out_of_parallel(gaps: Mapping[str, float], instrument: Mapping, apart: Mapping[str, float] | None = None, picture: Mapping[str, float] | None = None) -> dict[str, Any]:
    """How far two standards are out of parallel across the picture, from the gap at each corner in mm.

    `apart` {width_mm, height_mm} is how far apart the gaps were taken, `picture` the size of the picture; with both the
    tilt is brought to the picture, else it stands as measured. {swing_mm: right less left, tilt_mm: bottom less top,
    across_mm: the larger, without sign, twist_mm: what no turning explains (a bent standard or a misread gap)}, each {value, low, high}.
    Raises ValueError unless there are four gaps.
    """
    missing = [corner for corner in CORNERS if corner not in gaps]
    if missing:
        raise ValueError("Measure the gap at all four corners.")
    top_left, top_right, bottom_left, bottom_right = (positive(gaps[corner], "A gap, in mm,", 3000) for corner in CORNERS)
    u = instrument_u(instrument)
    wide, high = (picture["width_mm"] / apart["width_mm"], picture["height_mm"] / apart["height_mm"]) if apart and picture else (1, 1)
    swing = figure((top_right + bottom_right - top_left - bottom_left) / 2 * wide, u * wide)
    tilt = figure((bottom_left + bottom_right - top_left - top_right) / 2 * high, u * high)
    more = max(swing, tilt, key=lambda one: abs(one["value"]))
    spread = (more["high"] - more["low"]) / 2
    size = abs(more["value"])
    return {
        "swing_mm": swing,
        "tilt_mm": tilt,
        "across_mm": {"value": size, "low": max(0.0, size - spread), "high": size + spread},
        "twist_mm": figure((top_left + bottom_right - top_right - bottom_left) / 2, u),
    }


def parallel_effect(across_mm: Mapping[str, float], stops: list[float], circle_mm: float) -> dict[str, Any]:
    """What standards out by `across_mm` {value, low, high} over the picture do: ±d/2 at the edges, gone from N = d/(2c).

    {edge_mm: {value, low, high}, n, likely, surely: as `focus_blur.gone_at`, harmless: whether it is surely under 1 mm}.
    """
    edge = {end: across_mm[end] / 2 for end in ("value", "low", "high")}
    return {"edge_mm": edge, **gone_at(edge, stops, circle_mm), "harmless": across_mm["high"] < _HARMLESS_MM}


def slide_gap(gap_mm: float, length_mm: float, instrument: Mapping) -> dict[str, Any]:
    """A slide lying on a flat table with a feeler under its highest spot, in mm.

    {gap_mm: {value, low, high}, bow: "flat", "bowed" or "cannot_tell" against 1 mm in 200 (common practice, no source),
    radius_mm: of the bow, or None}. A bowed slide opens its slot and drags; the light it lets in no gap can tell: try it
    with a lamp. Raises ValueError.
    """
    positive(length_mm, "The length of the slide, in mm,", 1000)
    if gap_mm < 0 or gap_mm > length_mm / 4:
        raise ValueError("The gap under a slide is from 0 to a quarter of its length, in mm; check the figure.")
    one = read_figure(gap_mm, instrument)
    limit = length_mm / 200
    bow = "flat" if one["high"] <= limit else "bowed" if one["low"] > limit else "cannot_tell"
    return {"gap_mm": one, "bow": bow, "radius_mm": length_mm**2 / (8 * gap_mm) + gap_mm / 2 if gap_mm > 0 else None}


def divider_bow(gap_mm: float, instrument: Mapping, stops: list[float], circle_mm: float) -> dict[str, Any]:
    """A divider under a straightedge: film that lies on it follows, so the gap {mm} is a focus error at its deepest spot.

    {error_mm: {value, low, high}, n, likely, surely: as `focus_blur.gone_at`}. Raises ValueError.
    """
    if gap_mm < 0 or gap_mm > 20:
        raise ValueError("The gap under the straightedge is from 0 to 20 mm; check the figure.")
    error = read_figure(gap_mm, instrument)
    error["low"] = max(0.0, error["low"])
    return {"error_mm": error, **gone_at(error, stops, circle_mm)}


def out_of_square(diagonal_1_mm: float, diagonal_2_mm: float, instrument: Mapping) -> dict[str, Any]:
    """A frame from its two diagonals, in mm: {apart_mm: {value, low, high}, square: "yes", "no" or "cannot_tell"}.

    "no" where the interval leaves nothing out. Raises ValueError.
    """
    positive(diagonal_1_mm, "A diagonal, in mm,", 3000)
    positive(diagonal_2_mm, "A diagonal, in mm,", 3000)
    apart = figure(diagonal_1_mm - diagonal_2_mm, instrument_u(instrument) * math.sqrt(2))
    told = "no" if apart["low"] > 0 or apart["high"] < 0 else "yes" if apart["high"] - apart["low"] < 2 * _HARMLESS_MM else "cannot_tell"
    return {"apart_mm": apart, "square": told}
