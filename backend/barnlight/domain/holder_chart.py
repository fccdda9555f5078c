"""Chart of a set of holders: one line a side, depth across, the published band behind; plain geometry for screen and report."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.holder_depth import against_standard
from barnlight.domain.holder_set import stand_of
from barnlight.domain.lengths import MM_PER_INCH
from barnlight.domain.rounding import fixed, half_away

WIDTH, LEFT, RIGHT, TOP, ROW = 360, 56, 350, 12, 22
_STEPS_MM = (0.05, 0.1, 0.2, 0.5, 1, 2, 5)
_STEPS_IN = (0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2)


def holder_chart(sides: Sequence[Mapping], format_: str | None, catalogue: Mapping, unit: str) -> dict[str, Any]:
    """Geometry in units of the drawing for sides [{place, label, mean_mm: {value, low, high}}]; `unit` is "mm" or "in".

    {width, height, top, bottom, band: {x, width} or None, middle: x of the published depth or None, ticks: [{x, label}],
    rows: [{label, y, x, x_low, x_high, stands}]}. Raises ValueError without sides.
    """
    if not sides:
        raise ValueError("Type the depth of at least one side.")
    against = against_standard(sides[0]["mean_mm"]["value"], format_, catalogue)
    ends = [one["mean_mm"][end] for one in sides for end in ("low", "high")]
    if against:
        ends += [against["value_mm"] - against["tolerance_mm"], against["value_mm"] + against["tolerance_mm"]]
    room = max(0.05, (max(ends) - min(ends)) * 0.06)
    low, high = min(ends) - room, max(ends) + room

    def x(mm: float) -> float:
        return half_away(LEFT + (RIGHT - LEFT) * (mm - low) / (high - low), 1)

    bottom = TOP + ROW * len(sides) + 6
    band = against and {"x": x(against["value_mm"] - against["tolerance_mm"]), "width": half_away(2 * against["tolerance_mm"] * (RIGHT - LEFT) / (high - low), 1)}
    return {
        "width": WIDTH, "height": bottom + 26, "top": TOP - 4, "bottom": bottom,
        "band": band, "middle": x(against["value_mm"]) if against else None,
        "ticks": [{"x": x(mm), "label": label} for mm, label in _ticks(low, high, unit)],
        "rows": [
            {"label": one["label"], "y": TOP + ROW * index + ROW / 2, "x": x(one["mean_mm"]["value"]), "x_low": x(one["mean_mm"]["low"]),
             "x_high": x(one["mean_mm"]["high"]), "stands": stand_of(one["mean_mm"], format_, catalogue)["stands"]}
            for index, one in enumerate(sides)
        ],
    }  # fmt: skip


def _ticks(low_mm: float, high_mm: float, unit: str) -> list[tuple[float, str]]:
    """At most five round figures of the unit."""
    scale, steps = (MM_PER_INCH, _STEPS_IN) if unit == "in" else (1, _STEPS_MM)
    low, high = low_mm / scale, high_mm / scale
    step = next((one for one in steps if (high - low) / one <= 5), steps[-1])
    digits = 3 if unit == "in" else 2
    return [(number * step * scale, fixed(number * step, digits)) for number in range(math.ceil(low / step), math.floor(high / step) + 1)]
