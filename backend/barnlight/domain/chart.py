"""The chart of a shutter's errors: one line a marked speed, errors in stops across, as plain geometry and as SVG."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.drawing import length, opening, words
from barnlight.domain.report_words import stops_words
from barnlight.domain.rounding import half_away

WIDTH = 360
LEFT, RIGHT = 64, 348
TOP, ROW = 40, 30
LEAST_SPAN, MOST_SPAN = 1.5, 3.0
HOW_TO_READ = (
    "One line a marked speed; left of the middle is shorter, right of it longer. Inner band: within 1/3 stop; outer band: within 1 stop. "
    "Filled dot: settled; diamond: first firing, cold; ring: indication only or not judged; arrow: beyond the edge."
)


def shutter_chart(rows: Sequence[Mapping]) -> dict[str, Any]:
    """Geometry in units of the drawing from the rows of `shutter_table.table`; a row without a time has no point.

    Errors beyond the span stand at its edge with `off` "left" or "right". `shape` is "settled", "cold" or "hint" (a speed
    that sound cannot judge): shape and not colour tells them apart.
    """
    errors = [abs(error) for row in rows for error in (row["error_stops"], _cold_error(row)) if error is not None]
    span = min(MOST_SPAN, max(LEAST_SPAN, math.ceil(max(errors, default=0) * 2) / 2))
    height = TOP + ROW * len(rows) + 24
    return {
        "width": WIDTH, "height": height, "span_stops": span, "top": TOP - 8, "bottom": height - 22, "zero": _x(0, span),
        "bands": [_band("usable", 1, span), _band("fine", 1 / 3, span)],
        "ticks": [{"x": _x(stops, span), "label": _tick(stops)} for stops in range(-math.floor(span), math.floor(span) + 1)],
        "rows": [_row(row, TOP + ROW * index + ROW / 2, span) for index, row in enumerate(rows)],
    }  # fmt: skip


def chart_title(rows: Sequence[Mapping]) -> str:
    """What the chart says, for who cannot see it."""
    said = [f"{row['marked']['text']}: {stops_words(row['error_stops'])} stop" for row in rows if row["error_stops"] is not None]
    return "Error of each marked speed in stops. " + ("; ".join(said) + "." if said else "No speed could be measured.")


def chart_svg(chart: Mapping, title: str) -> str:
    """The drawing as SVG text with its words for a screen reader; colours are attributes that a style sheet may replace."""
    parts = [
        opening(chart["width"], chart["height"], title, HOW_TO_READ),
        *(_rect(band["name"], band["x"], chart["top"], band["width"], chart["bottom"] - chart["top"]) for band in chart["bands"]),
    ]
    for tick in chart["ticks"]:
        kind = "zero" if tick["x"] == chart["zero"] else "tick"
        colour = "#333333" if kind == "zero" else "#a9a9a0"
        parts.append(f'<line class="{kind}" x1="{length(tick["x"])}" x2="{length(tick["x"])}" y1="{chart["top"]}" y2="{length(chart["bottom"])}" stroke="{colour}"/>')
        parts.append(words(tick["x"], chart["bottom"] + 16, tick["label"], "middle"))
    parts.append(words(LEFT, 14, "← shorter, less light", "start"))
    parts.append(words(RIGHT, 14, "longer, more light →", "end"))
    for row in chart["rows"]:
        parts.append(words(LEFT - 8, row["y"] + 5, row["label"], "end"))
        parts.extend(_point(point, row["y"]) for point in row["points"])
        if not row["points"]:
            parts.append(words(chart["zero"], row["y"] + 5, "no reading", "middle"))
    return "".join(parts) + "</svg>"


def _row(row: Mapping, y: float, span: float) -> dict[str, Any]:
    points = []
    cold = _cold_error(row)
    if row["settled"] is not None and cold is not None:
        points.append({"shape": "cold", "x": _x(cold, span), "x_low": None, "x_high": None, "off": _off(cold, span)})
    if row["error_stops"] is not None:
        shape = "hint" if row["band"] in ("indication_only", "not_judged") else "settled" if row["settled"] else "cold"
        points.append({
            "shape": shape, "x": _x(row["error_stops"], span), "x_low": _x(row["error_low"], span), "x_high": _x(row["error_high"], span),
            "off": _off(row["error_stops"], span),
        })  # fmt: skip
    return {"label": row["marked"]["text"], "y": y, "points": points}


def _cold_error(row: Mapping) -> float | None:
    return math.log2(row["cold"]["s"] / row["nominal_s"]) if row["cold"] else None


def _x(stops: float, span: float) -> float:
    inside = max(-span, min(span, stops))
    return half_away(LEFT + (RIGHT - LEFT) * (inside + span) / (2 * span), 1)


def _off(stops: float, span: float) -> str | None:
    return "right" if stops > span else "left" if stops < -span else None


def _band(name: str, stops: float, span: float) -> dict[str, Any]:
    return {"name": name, "x": _x(-stops, span), "width": half_away(_x(stops, span) - _x(-stops, span), 1)}


def _tick(stops: int) -> str:
    return f"+{stops}" if stops > 0 else str(stops).replace("-", "−")


def _rect(name: str, x: float, y: float, width: float, height: float) -> str:
    colour = {"usable": "#ece7d5", "fine": "#cfdcc6"}[name]
    return f'<rect class="{name}" x="{length(x)}" y="{length(y)}" width="{length(width)}" height="{length(height)}" fill="{colour}"/>'


def _point(point: Mapping, y: float) -> str:
    x, shape = point["x"], point["shape"]
    bar = ""
    if point["x_low"] is not None:
        dash = ' stroke-dasharray="3 3"' if shape == "hint" else ""
        bar = f'<line class="bar" x1="{length(point["x_low"])}" x2="{length(point["x_high"])}" y1="{length(y)}" y2="{length(y)}" stroke="#1d1d1b" stroke-width="2"{dash}/>'
    if point["off"]:
        tip, back = (x, x - 9) if point["off"] == "right" else (x, x + 9)
        return f'{bar}<path class="dot" d="M{length(tip)} {length(y)}L{length(back)} {length(y - 6)}L{length(back)} {length(y + 6)}Z" fill="#1d1d1b"/>'
    if shape == "cold":
        return f'{bar}<path class="hollow" d="M{length(x)} {length(y - 7)}L{length(x + 7)} {length(y)}L{length(x)} {length(y + 7)}L{length(x - 7)} {length(y)}Z" fill="#ffffff" stroke="#1d1d1b" stroke-width="2"/>'
    if shape == "hint":
        return f'{bar}<circle class="hollow" cx="{length(x)}" cy="{length(y)}" r="5" fill="#ffffff" stroke="#1d1d1b" stroke-width="2"/>'
    return f'{bar}<circle class="dot" cx="{length(x)}" cy="{length(y)}" r="5.5" fill="#1d1d1b"/>'
