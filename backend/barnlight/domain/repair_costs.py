"""What repairs really cost and how long they took, by remedy and currency: figures offered for the person's own table."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from statistics import median
from typing import Any

from barnlight.domain.rounding import half_away


def repair_costs(repairs: Sequence[Mapping]) -> list[dict[str, Any]]:
    """[{remedy, n, cost: {currency, low_minor, likely_minor, high_minor}, weeks: {low, high} | None}], by remedy, then currency.

    `repairs`: repair records; only those with a remedy and a cost count. Likely is the median; low and high are the least and
    the most that was paid, which for one repair are all the same. `weeks`: from sent to back, where both days are known.
    """
    kept = [one for one in repairs if one.get("remedy") and one.get("cost") and not one.get("deleted")]
    found = []
    for remedy, currency in sorted({(one["remedy"], one["cost"]["currency"]) for one in kept}):
        own = [one for one in kept if (one["remedy"], one["cost"]["currency"]) == (remedy, currency)]
        paid = sorted(one["cost"]["minor"] for one in own)
        cost = {"currency": currency, "low_minor": paid[0], "likely_minor": int(half_away(median(paid), 0)), "high_minor": paid[-1]}
        found.append({"remedy": remedy, "n": len(own), "cost": cost, "weeks": _weeks(own)})
    return found


def repair_days(repair: Mapping, today: str) -> dict[str, Any]:
    """{state: "planned" | "away" | "back", away_days, late_days, doubts} of one repair as of `today` (yyyy-mm-dd).

    `away_days`: from sent until back, or until today; None where not sent. `late_days`: after the promised day; 0 in time,
    None where nothing was promised. `doubts`: "promised_before_sent", "back_before_sent", "in_future" where days do not go together.
    """
    sent, promised, back = repair.get("sent") or None, repair.get("promised") or None, repair.get("back") or None
    until = back or today
    doubts = [
        *(["promised_before_sent"] if sent and promised and promised < sent else []),
        *(["back_before_sent"] if sent and back and back < sent else []),
        *(["in_future"] if max(sent or "", back or "") > today else []),
    ]
    return {
        "state": "back" if back else "away" if sent else "planned",
        "away_days": max(_days(sent, until), 0) if sent else None,
        "late_days": max(_days(promised, until), 0) if promised else None,
        "doubts": doubts,
    }


def _days(day: str, later: str) -> int:
    return (date.fromisoformat(later) - date.fromisoformat(day)).days


def _weeks(repairs: Sequence[Mapping]) -> dict[str, float] | None:
    took = [_days(one["sent"], one["back"]) for one in repairs if one.get("sent") and one.get("back") and one["sent"] <= one["back"]]
    return {"low": half_away(min(took) / 7, 1), "high": half_away(max(took) / 7, 1)} if took else None
