"""What a thing usually sells for: a weighted middle of the person's own price notes, where newer sales weigh more."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from barnlight.domain.intervals import median_interval, weighted_quantile
from barnlight.domain.rounding import half_away

LEAST_SALES = 3
HALF_LIFE_DAYS = 730


def baseline(notes: Sequence[Mapping], currency: str, today: str, half_life_days: float | None = HALF_LIFE_DAYS, rates: Sequence[Mapping] = ()) -> dict[str, Any]:
    """{count, median_minor, low_minor, high_minor, coverage, quarter_low_minor, quarter_high_minor, too_few, first_day, last_day, converted, left_out}.

    `notes`: price_note records, of which only what was SOLD counts; `half_life_days`: after how long a sale weighs half, None
    for all alike; `rates`: the person's exchange_rate records. Low to high is a distribution-free interval of the median over
    the notes, their weights left aside; the quarters are weighted. Amounts are None without a sale; under three it is too few
    to trust. `left_out` counts notes in a currency for which the person typed no rate.
    """
    sold = [note for note in notes if note.get("sold") and note.get("price") and note.get("day") and not note.get("deleted")]
    priced = [(note, amount) for note in sold if (amount := in_currency(note, currency, rates)) is not None]
    found: dict[str, Any] = {
        "count": len(priced), "median_minor": None, "low_minor": None, "high_minor": None, "coverage": None, "quarter_low_minor": None,
        "quarter_high_minor": None, "too_few": len(priced) < LEAST_SALES, "first_day": None, "last_day": None,
        "converted": sum(note["price"]["currency"] != currency for note, _ in priced), "left_out": len(sold) - len(priced),
    }  # fmt: skip
    if not priced:
        return found
    amounts = [amount for _, amount in priced]
    weights = [weight(note["day"], today, half_life_days) for note, _ in priced]
    span = median_interval(amounts)
    days = sorted(note["day"] for note, _ in priced)
    middle, low, high = (half_away(weighted_quantile(amounts, weights, share), 0) for share in (0.5, 0.25, 0.75))
    return found | {
        "median_minor": middle, "low_minor": half_away(span["low"], 0), "high_minor": half_away(span["high"], 0), "coverage": span["coverage"],
        "quarter_low_minor": low, "quarter_high_minor": high, "first_day": days[0], "last_day": days[-1],
    }  # fmt: skip


def by_state(notes: Sequence[Mapping], currency: str, today: str, half_life_days: float | None = HALF_LIFE_DAYS, rates: Sequence[Mapping] = ()) -> dict[str, dict]:
    """The baseline of working, faulty and unknown things apart."""
    return {
        state: baseline([note for note in notes if (note.get("state") or "unknown") == state], currency, today, half_life_days, rates)
        for state in ("working", "faulty", "unknown")
    }


def by_venue(notes: Sequence[Mapping], currency: str, today: str, half_life_days: float | None = HALF_LIFE_DAYS, rates: Sequence[Mapping] = ()) -> list[dict[str, Any]]:
    """[{venue_kind, baseline}] of the kinds of venue that have sales, most sales first."""
    kinds = list(dict.fromkeys(note.get("venue_kind") or "" for note in notes))
    found = [
        {"venue_kind": kind, "baseline": baseline([note for note in notes if (note.get("venue_kind") or "") == kind], currency, today, half_life_days, rates)}
        for kind in kinds
    ]
    return sorted((one for one in found if one["baseline"]["count"]), key=lambda one: (-one["baseline"]["count"], one["venue_kind"]))


def weight(day: str, today: str, half_life_days: float | None) -> float:
    """1 for today, a half after one half-life. A day yet to come weighs as today."""
    if half_life_days is None:
        return 1.0
    age_days = (date.fromisoformat(today) - date.fromisoformat(day)).days
    return 0.5 ** (max(age_days, 0) / half_life_days)


def in_currency(note: Mapping, currency: str, rates: Sequence[Mapping]) -> float | None:
    """The note's amount in the smallest unit of `currency`, by the last rate typed up to the note's day, else the first after it.

    A rate {from, to, minor_per_minor, day}: how many smallest units of `to` one of `from` is. None without a rate either way.
    """
    price = note["price"]
    if price["currency"] == currency:
        return float(price["minor"])
    usable = [(one["day"], one["minor_per_minor"]) for one in rates if _is(one, price["currency"], currency)]
    usable += [(one["day"], 1 / one["minor_per_minor"]) for one in rates if _is(one, currency, price["currency"])]
    before = [one for one in usable if one[0] <= note["day"]]
    chosen = max(before, default=None) or min(usable, default=None)
    return None if chosen is None else price["minor"] * chosen[1]


def _is(rate: Mapping, source: str, target: str) -> bool:
    return rate.get("from") == source and rate.get("to") == target and not rate.get("deleted")
