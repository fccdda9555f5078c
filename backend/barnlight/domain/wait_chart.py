"""The plot of how long wanted pieces took to turn up: the share that had, week by week, with its interval and what is still open."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.axis import round_ticks
from barnlight.domain.rounding import half_away
from barnlight.domain.waiting import median_wait

WIDTH, HEIGHT = 360, 220
LEFT, RIGHT, TOP, BOTTOM = 50, 350, 16, 184
MOST_STEPS = 6


def wait_chart(steps: Sequence[Mapping], waits: Sequence[Mapping]) -> dict[str, Any] | None:
    """Geometry in units of the drawing, from `waiting.survival` and the waits it was made of; None without a want.

    `line` climbs by the share that had turned up; `band` is its 95 %, which ends before the last want was found: then nothing is
    left to tell its width by. `open` are wants still open or let go, a stroke each at the time they were last watched.
    """
    if not waits:
        return None
    weeks = round_ticks(max(wait["weeks"] for wait in waits), MOST_STEPS)

    def x(at: float) -> float:
        return half_away(LEFT + (RIGHT - LEFT) * at / weeks[-1], 1)

    def y(share: float) -> float:
        return half_away(BOTTOM - (BOTTOM - TOP) * share, 1)

    def climbing(figures: Sequence[tuple[float, float]], end: float) -> list[list[float]]:
        line, height = [[x(0), y(0)]], 0.0
        for at, share in figures:
            line += [[x(at), y(height)], [x(at), y(share)]]
            height = share
        return [*line, [x(end), y(height)]]

    def turned_up(at: float) -> float:
        return 1 - next((step["still"] for step in reversed(steps) if step["weeks"] <= at), 1)

    longest = max(wait["weeks"] for wait in waits)
    sure = [step for step in steps if step["still"] > 0]
    band_end = steps[-1]["weeks"] if steps and steps[-1]["still"] <= 0 else longest
    least, most = (climbing([(step["weeks"], 1 - step[bound]) for step in sure], band_end) for bound in ("high", "low"))
    half = median_wait(steps)["weeks"]
    return {
        "width": WIDTH, "height": HEIGHT, "left": LEFT, "right": RIGHT, "top": TOP, "bottom": BOTTOM,
        "line": climbing([(step["weeks"], 1 - step["still"]) for step in steps], longest),
        "band": [*most, *reversed(least)] if sure else [],
        "open": [{"x": x(wait["weeks"]), "y": y(turned_up(wait["weeks"]))} for wait in waits if not wait["found"]],
        "half": None if half is None else {"x": x(half), "y": y(0.5)},
        "weeks": [{"x": x(at), "label": str(at)} for at in weeks],
        "shares": [{"y": y(percent / 100), "label": f"{percent} %"} for percent in (0, 25, 50, 75, 100)],
    }  # fmt: skip
