"""How long a wanted piece takes to turn up: a survival curve over the person's own wants, those still open counted as such."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from barnlight.domain.intervals import Z

HALF = 0.5 + 1e-12  # a half that was multiplied together may miss it by its last digit


def survival(waits: Sequence[Mapping]) -> list[dict[str, float]]:
    """[{weeks, at_risk, found, still, se, low, high}] at every time one was found; `waits`: [{weeks, found: bool}].

    `still` is the share still waiting after that many weeks (Kaplan and Meier), `se` by Greenwood, low and high 95 % on the scale
    of log(-log). At a tie the finding comes before the end of watching.
    """
    steps, still, variance = [], 1.0, 0.0
    for weeks in sorted({wait["weeks"] for wait in waits if wait["found"]}):
        at_risk = sum(wait["weeks"] >= weeks for wait in waits)
        found = sum(wait["found"] and wait["weeks"] == weeks for wait in waits)
        still *= 1 - found / at_risk
        variance += found / (at_risk * (at_risk - found)) if at_risk > found else math.inf
        se = still * math.sqrt(variance) if still > 0 else 0.0
        low, high = _interval(still, variance)
        steps.append({"weeks": weeks, "at_risk": at_risk, "found": found, "still": still, "se": se, "low": low, "high": high})
    return steps


def median_wait(steps: Sequence[Mapping]) -> dict[str, float | None]:
    """{weeks, low, high}: after how many weeks half had turned up, with 95 %; None where the curve does not come down to a half.

    Once the last was found the curve has no interval left, so that step does not end one.
    """
    sure = [step for step in steps if step["still"] > 0]
    return {
        name: next((step["weeks"] for step in curve if step[side] <= HALF), None) for name, side, curve in (("weeks", "still", steps), ("low", "low", sure), ("high", "high", sure))
    }


def chance_within(steps: Sequence[Mapping], weeks: float) -> dict[str, float]:
    """{chance, low, high} that one turns up within so many weeks of being wanted, 95 %; 0 to 0 before the first that did."""
    past = [step for step in steps if step["weeks"] <= weeks]
    if not past:
        return {"chance": 0.0, "low": 0.0, "high": 0.0}
    last = past[-1]
    return {"chance": 1 - last["still"], "low": 1 - last["high"], "high": 1 - last["low"]}


def waits_of(wants: Sequence[Mapping], today: str) -> list[dict[str, Any]]:
    """[{weeks, found}] of want records: found ones end, open and dropped ones are watched until today or the day they were dropped.

    Left out: wants without a day, wanted in the future, and those found or dropped before they were wanted.
    """
    waits = []
    for want in wants:
        end = want.get("found") or want.get("dropped") or today
        if not want.get("wanted") or want.get("deleted"):
            continue
        days = (date.fromisoformat(end) - date.fromisoformat(want["wanted"])).days
        if days >= 0:
            waits.append({"weeks": days / 7, "found": bool(want.get("found"))})
    return waits


def _interval(still: float, variance: float) -> tuple[float, float]:
    if still >= 1 or still <= 0 or math.isinf(variance):
        return still, still
    half = Z * math.sqrt(variance) / math.log(still)
    bounds = (still ** math.exp(half), still ** math.exp(-half))
    return min(bounds), max(bounds)
