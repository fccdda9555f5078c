"""The drawing of screen, film and the cone of light between them, all to one scale; plain geometry for screen and report."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.rounding import half_away
from barnlight.domain.uncertainty import positive

WIDTH, HEIGHT = 360, 200
_LEFT, _RIGHT, _AXIS = 16, 344, 92
# The planes stand within this part of the drawing at least, so that errors of tenths stay to be seen.
_LEAST_SPAN_MM = 0.6


def focus_drawing(screen_mm: Mapping[str, float], film_mm: Mapping[str, float], n: float) -> dict[str, Any]:
    """Geometry in units of the drawing, the lens on the left; figures are {value, low, high} in mm from the seat, `n` an f-number.

    {width, height, axis: y of the optical axis, mm_to_units, screen, film: {x, x_low, x_high}, rays: [{x1, y1, x2, y2}] of the
    cone that comes to its point on the screen's plane, blur: {x, y1, y2} on the film, scale: {x1, x2, y, mm}}. Across and along
    have the same scale, so the cone has its true shape. Raises ValueError for an f-number that cannot be.
    """
    positive(n, "An f-number", 1024)
    ends = [one[end] for one in (screen_mm, film_mm) for end in ("low", "high")]
    middle = (min(ends) + max(ends)) / 2
    span = max(_LEAST_SPAN_MM, (max(ends) - min(ends)) * 1.5)
    units = (_RIGHT - _LEFT) / span

    def x(mm: float) -> float:
        return half_away((_LEFT + _RIGHT) / 2 + (mm - middle) * units, 1)

    def half_height(mm: float) -> float:
        """Half the cone's width where it cuts the depth `mm`: it opens by 1/N."""
        return abs(mm - screen_mm["value"]) * units / n / 2

    first, last = middle - span / 2, middle + span / 2
    rays = [
        {"x1": x(first), "y1": half_away(_AXIS - sign * half_height(first), 1), "x2": x(last), "y2": half_away(_AXIS + sign * half_height(last), 1)}
        for sign in (1, -1)
    ]
    blur = half_height(film_mm["value"])
    bar_mm = max(one for one in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0) if one * units <= 160 or one == 0.1)
    return {
        "width": WIDTH, "height": HEIGHT, "axis": _AXIS, "mm_to_units": units,
        "screen": {"x": x(screen_mm["value"]), "x_low": x(screen_mm["low"]), "x_high": x(screen_mm["high"])},
        "film": {"x": x(film_mm["value"]), "x_low": x(film_mm["low"]), "x_high": x(film_mm["high"])},
        "rays": rays,
        "blur": {"x": x(film_mm["value"]), "y1": half_away(_AXIS - blur, 1), "y2": half_away(_AXIS + blur, 1)},
        "scale": {"x1": _LEFT, "x2": half_away(_LEFT + bar_mm * units, 1), "y": HEIGHT - 12, "mm": bar_mm},
    }  # fmt: skip


def stack_drawing(layers: Sequence[Mapping], matte_first: bool) -> list[dict[str, Any]]:
    """The sheets of the screen in order from the lens, side by side to scale: [{title, x, width, matte: "left", "right" or None}].

    `layers` are [{title, thickness_mm, glass: whether it is the ground glass}]; the matte face of the glass looks to the
    lens where `matte_first`. Widths fill 300 units.
    """
    whole = sum(one["thickness_mm"] for one in layers)
    units = 300 / whole if whole > 0 else 0
    drawn, at = [], 30.0
    for one in layers:
        matte = ("left" if matte_first else "right") if one["glass"] else None
        drawn.append({"title": one["title"], "x": half_away(at, 1), "width": half_away(one["thickness_mm"] * units, 1), "matte": matte})
        at += one["thickness_mm"] * units
    return drawn
