"""Coverage: the image circle of a lens against the true picture of a format, and the room it leaves to shift and rise."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from barnlight.domain.rounding import half_away
from barnlight.domain.uncertainty import positive

SIZE = 320
"""Width and height of the drawing, in its units."""

_LARGEST_MM = 3000


def image_area(format_: str, catalogue: Mapping) -> dict[str, Any]:
    """The picture a format really gets, upright: {width_mm, height_mm, diagonal_mm, true: whether the holder's edges are off, source, sureness}.

    Where no true size is known the nominal one stands in, which asks a little too much of a lens. Raises ValueError.
    """
    found = next((one for one in catalogue["formats"] if one["id"] == format_), None)
    if found is None:
        raise ValueError("Choose a format.")
    true = found.get("image")
    size = true or found
    return {
        "width_mm": size["width_mm"], "height_mm": size["height_mm"], "diagonal_mm": math.hypot(size["width_mm"], size["height_mm"]),
        "true": true is not None, "source": size["source"], "sureness": size["sureness"],
    }  # fmt: skip


def room(circle_mm: float, width_mm: float, height_mm: float) -> dict[str, Any]:
    """What an image circle of this diameter leaves around a picture `width_mm` wide and `height_mm` high.

    {covers, spare_mm: circle less diagonal, rise_mm, shift_mm: each alone, sqrt((D/2)² − (w/2)²) − h/2; 0 where it does not
    cover}. Turn the picture by swapping width and height. Raises ValueError.
    """
    positive(circle_mm, "The image circle, in mm,", _LARGEST_MM)
    positive(width_mm, "The width of the picture, in mm,", _LARGEST_MM)
    positive(height_mm, "The height of the picture, in mm,", _LARGEST_MM)
    spare = circle_mm - math.hypot(width_mm, height_mm)
    covers = spare >= 0
    return {
        "covers": covers,
        "spare_mm": spare,
        "rise_mm": _along(circle_mm, width_mm, height_mm, 0) if covers else 0,
        "shift_mm": _along(circle_mm, height_mm, width_mm, 0) if covers else 0,
    }


def shift_left(circle_mm: float, width_mm: float, height_mm: float, rise_mm: float) -> float | None:
    """How far the picture can still go sideways, in mm, once it has risen or fallen by `rise_mm`; None beyond the circle.

    The outer corner stays in the circle: (w/2 + s)² + (h/2 + r)² <= (D/2)². Raises ValueError.
    """
    whole = room(circle_mm, width_mm, height_mm)
    if rise_mm < 0:
        raise ValueError("A rise or fall is typed without a sign, from 0.")
    if not whole["covers"] or rise_mm > whole["rise_mm"]:
        return None
    return _along(circle_mm, height_mm, width_mm, rise_mm)


def both_alike(circle_mm: float, width_mm: float, height_mm: float) -> float:
    """The most, in mm, that the picture can rise and shift at once, as much of the one as of the other; 0 where it does not cover.

    The outer corner stays in the circle: (w/2 + d)² + (h/2 + d)² = (D/2)². Raises ValueError.
    """
    if not room(circle_mm, width_mm, height_mm)["covers"]:
        return 0.0
    half_sum = (width_mm + height_mm) / 4
    apart = (width_mm - height_mm) / 4
    return max(0.0, math.sqrt(circle_mm**2 / 8 - apart**2) - half_sum)


def _along(circle_mm: float, across_mm: float, along_mm: float, moved_across_mm: float) -> float:
    inside = (circle_mm / 2) ** 2 - (across_mm / 2 + moved_across_mm) ** 2
    return max(0.0, math.sqrt(max(0.0, inside)) - along_mm / 2)


def coverage_drawing(circle_mm: float, width_mm: float, height_mm: float, rise_mm: float = 0, shift_mm: float = 0) -> dict[str, Any]:
    """Circle and picture to scale, in units of the drawing: {size, mm_to_units, circle: {x, y, r}, frame: {x, y, width, height}, outside}.

    The picture stands moved by `rise_mm` up and `shift_mm` to the right; `outside` says whether a corner leaves the circle.
    Raises ValueError.
    """
    room(circle_mm, width_mm, height_mm)
    reach_mm = max(circle_mm / 2, width_mm / 2 + abs(shift_mm), height_mm / 2 + abs(rise_mm))
    units = (SIZE / 2 - 10) / reach_mm
    corner = math.hypot(width_mm / 2 + abs(shift_mm), height_mm / 2 + abs(rise_mm))
    return {
        "size": SIZE,
        "mm_to_units": units,
        "circle": {"x": SIZE / 2, "y": SIZE / 2, "r": half_away(circle_mm / 2 * units, 1)},
        "frame": {
            "x": half_away(SIZE / 2 + (shift_mm - width_mm / 2) * units, 1), "y": half_away(SIZE / 2 - (rise_mm + height_mm / 2) * units, 1),
            "width": half_away(width_mm * units, 1), "height": half_away(height_mm * units, 1),
        },
        "outside": corner > circle_mm / 2,
    }  # fmt: skip
