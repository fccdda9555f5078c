"""The chart of a set of holders as SVG: a set of many sides stands on several charts of one scale, each of which fits a page."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from barnlight.domain.drawing import INK, PAPER, length, opening, words
from barnlight.domain.holder_chart import ROW, TOP

MOST_ROWS = 24
LABEL_X = 46
STANDS = {"within": "within", "too_deep": "too deep", "too_shallow": "too shallow", "cannot_tell": "cannot be told", "no_standard": ""}
HOW_TO_READ = (
    "One line a side, deeper to the right, with its interval. The shaded band is what the standard allows. "
    "Filled dot: within; ring: cannot be told; a tip to the right: too deep; to the left: too shallow."
)


def holder_svgs(chart: Mapping, depths: Mapping[str, str], unit: str) -> list[str]:
    """The drawings of `holder_chart.holder_chart`, in their order; `depths`: label of a side -> its depth in words."""
    starts = range(0, len(chart["rows"]), MOST_ROWS)
    return [_drawn(_part(chart, start), depths, unit) for start in starts]


def _part(chart: Mapping, start: int) -> dict[str, Any]:
    rows = [{**row, "y": TOP + ROW * index + ROW / 2} for index, row in enumerate(chart["rows"][start : start + MOST_ROWS])]
    bottom = TOP + ROW * len(rows) + 6
    return {**chart, "rows": rows, "bottom": bottom, "height": bottom + 26}


def _drawn(chart: Mapping, depths: Mapping[str, str], unit: str) -> str:
    top, bottom, band, middle = chart["top"], chart["bottom"], chart["band"], chart["middle"]
    said = "; ".join(f"{row['label']}: {depths[row['label']]}{_stands(row)}" for row in chart["rows"])
    parts = [opening(chart["width"], chart["height"], f"Depth of each side. {said}.", HOW_TO_READ)]
    if band:
        parts.append(f'<rect class="fine" x="{length(band["x"])}" y="{top}" width="{length(band["width"])}" height="{length(bottom - top)}" fill="#cfdcc6"/>')
    if middle is not None:
        parts.append(f'<line class="zero" x1="{length(middle)}" x2="{length(middle)}" y1="{top}" y2="{length(bottom)}" stroke="#333333"/>')
    for tick in chart["ticks"]:
        parts.append(f'<line class="tick" x1="{length(tick["x"])}" x2="{length(tick["x"])}" y1="{top}" y2="{length(bottom + 4)}" stroke="#a9a9a0"/>')
        parts.append(words(tick["x"], bottom + 18, tick["label"], "middle"))
    parts.append(words(LABEL_X, bottom + 18, unit, "end"))
    for row in chart["rows"]:
        parts += [words(LABEL_X, row["y"] + 5, row["label"], "end"), _bar(row), _point(row)]
    return "".join(parts) + "</svg>"


def _stands(row: Mapping) -> str:
    return f", {STANDS[row['stands']]}" if STANDS[row["stands"]] else ""


def _bar(row: Mapping) -> str:
    y = length(row["y"])
    return f'<line class="bar" x1="{length(row["x_low"])}" x2="{length(row["x_high"])}" y1="{y}" y2="{y}" stroke="{INK}" stroke-width="2"/>'


def _point(row: Mapping) -> str:
    x, y = row["x"], length(row["y"])
    if row["stands"] == "too_deep":
        return f'<path class="dot" d="M{length(x + 7)} {y}l-11 -6v12z" fill="{INK}"/>'
    if row["stands"] == "too_shallow":
        return f'<path class="dot" d="M{length(x - 7)} {y}l11 -6v12z" fill="{INK}"/>'
    if row["stands"] == "cannot_tell":
        return f'<circle class="hollow" cx="{length(x)}" cy="{y}" r="5" fill="{PAPER}" stroke="{INK}" stroke-width="2"/>'
    return f'<circle class="dot" cx="{length(x)}" cy="{y}" r="5" fill="{INK}"/>'
