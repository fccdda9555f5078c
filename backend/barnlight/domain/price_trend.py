"""Whether prices rise or fall: the middle of all slopes between two sales, on the logarithm of the price, with its interval."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from scipy import stats

from barnlight.domain.price_baseline import in_currency

LEAST_SALES = 4
DAYS_A_YEAR = 365.25


def trend(notes: Sequence[Mapping], currency: str, rates: Sequence[Mapping] = ()) -> dict[str, Any]:
    """{count, word, per_year, low, high, points: [{day, minor}], line: [{day, minor}, {day, minor}] | None} of what was SOLD.

    `per_year`: the share by which prices rise in a year, 0.05 for 5 %, with a 95 % interval; `word`: "rising" or "falling" where the
    interval leaves nought out, else "cannot_tell"; "too_few" below four sales or all on one day. Source of the method:
    Theil and Sen; interval as `scipy.stats.theilslopes` gives it.
    """
    sold = [note for note in notes if note.get("sold") and note.get("price") and note.get("day") and not note.get("deleted")]
    priced = [(note["day"], amount) for note in sold if (amount := in_currency(note, currency, rates)) is not None and amount > 0]
    points = sorted(priced)
    found: dict[str, Any] = {
        "count": len(points), "word": "too_few", "per_year": None, "low": None, "high": None,
        "points": [{"day": day, "minor": amount} for day, amount in points], "line": None,
    }  # fmt: skip
    if len(points) < LEAST_SALES or points[0][0] == points[-1][0]:
        return found
    years = [date.fromisoformat(day).toordinal() / DAYS_A_YEAR for day, _ in points]
    slope, intercept, low, high = (float(one) for one in stats.theilslopes([math.log(amount) for _, amount in points], years, 0.95))
    word = "rising" if low > 0 else "falling" if high < 0 else "cannot_tell"
    line = [{"day": points[end][0], "minor": math.exp(intercept + slope * years[end])} for end in (0, -1)]
    return found | {"word": word, "per_year": math.expm1(slope), "low": math.expm1(low), "high": math.expm1(high), "line": line}
