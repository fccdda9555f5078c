"""The plot of what things of one group went for: a sign a note over time, the middle with its interval, and the trend."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from barnlight.domain.axis import round_ticks
from barnlight.domain.money import show_money
from barnlight.domain.price_baseline import in_currency
from barnlight.domain.rounding import half_away

WIDTH, HEIGHT = 360, 240
LEFT, RIGHT, TOP, BOTTOM = 58, 350, 24, 208
MOST_STEPS = 5
MONTH_STEPS = (1, 2, 3, 6, 12, 24, 60, 120, 240, 600, 1200, 2400, 4800)
# The trend is straight on the logarithm of the price, so it is drawn as a bent line through so many points.
LINE_POINTS = 13


def price_chart(notes: Sequence[Mapping], currency: str, base: Mapping, trend: Mapping, rates: Sequence[Mapping] = ()) -> dict[str, Any] | None:
    """Geometry in units of the drawing, from price notes and what `price_baseline.baseline` and `price_trend.trend` say of them.

    `shape` of a point is "working", "faulty", "unknown" or "asked" (not sold, counts for nothing): shape and not colour tells them
    apart. Notes in a currency without a rate have no point. `middle` and `band` (of the middle) only where there are sales enough.
    None where there is no point at all.
    """
    priced = sorted(
        (note["day"], amount, _shape(note)) for note in notes
        if note.get("price") and note.get("day") and not note.get("deleted") and (amount := in_currency(note, currency, rates)) is not None)  # fmt: skip
    if not priced:
        return None
    days = [date.fromisoformat(day).toordinal() for day, _, _ in priced]
    ends = trend["line"] or []
    figures = [*(amount for _, amount, _ in priced), *(end["minor"] for end in ends), base["high_minor"] or 0]
    amounts = round_ticks(max(figures), MOST_STEPS)

    def x(day: float) -> float:
        share = (day - days[0]) / (days[-1] - days[0]) if days[-1] > days[0] else 0.5
        return half_away(LEFT + 10 + (RIGHT - LEFT - 20) * share, 1)

    def y(minor: float) -> float:
        return half_away(BOTTOM - (BOTTOM - TOP) * minor / amounts[-1], 1)

    return {
        "width": WIDTH, "height": HEIGHT, "left": LEFT, "right": RIGHT, "top": TOP, "bottom": BOTTOM,
        "points": [{"x": x(at), "y": y(amount), "shape": shape} for at, (_, amount, shape) in zip(days, priced, strict=True)],
        "amounts": [{"y": y(minor), "label": show_money({"minor": minor, "currency": currency}).split("\u00a0" + currency)[0]} for minor in amounts],
        "days": [{"x": x(at), "label": label} for at, label in _day_ticks(priced[0][0], priced[-1][0])],
        "middle": None if base["too_few"] else y(base["median_minor"]),
        "band": None if base["too_few"] else {"y": y(base["high_minor"]), "height": half_away(y(base["low_minor"]) - y(base["high_minor"]), 1)},
        "line": [[x(at), y(minor)] for at, minor in _bent(ends)] or None,
    }  # fmt: skip


def _shape(note: Mapping) -> str:
    return (note.get("state") or "unknown") if note.get("sold") else "asked"


def _bent(ends: Sequence[Mapping]) -> list[tuple[float, float]]:
    if not ends:
        return []
    first, last = (date.fromisoformat(end["day"]).toordinal() for end in ends)
    shares = [at / (LINE_POINTS - 1) for at in range(LINE_POINTS)]
    return [(first + (last - first) * share, ends[0]["minor"] * (ends[1]["minor"] / ends[0]["minor"]) ** share) for share in shares]


def _day_ticks(first: str, last: str) -> list[tuple[int, str]]:
    """First days of months or years between two days, as (day number, words); the first day itself where there is none between."""
    begin, end = (int(day[:4]) * 12 + int(day[5:7]) - 1 for day in (first, last))
    step = next(step for step in MONTH_STEPS if end // step - begin // step <= MOST_STEPS - 1)
    months = [month for month in range(begin, end + 1) if month % step == 0 and f"{_month(month)}-01" >= first]
    if not months:
        return [(date.fromisoformat(first).toordinal(), first)]
    return [(date.fromisoformat(f"{_month(month)}-01").toordinal(), _month(month)[:4] if step >= 12 else _month(month)) for month in months]


def _month(count: int) -> str:
    return f"{count // 12:04}-{count % 12 + 1:02}"
