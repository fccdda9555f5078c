"""What a deal is reckoned by: what was typed for it, else the person's habits, else what the group of things usually sells for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.price_baseline import in_currency
from barnlight.domain.rounding import half_away


def deal_terms(saved: Mapping | None, habits: Mapping | None, asking: Mapping | None, known: Mapping | None, currency: str, day: str, rates: Sequence[Mapping] = ()) -> dict[str, Any]:
    """{deal: what deal_sheet takes, value_from: "own" | "group" | None, missing}.

    `saved`: the terms of a deal record; `habits`: those of money_habits; `asking`: {minor, currency} or None; `known`: the
    baseline of the chosen group's working notes, in `currency`. The value of a group spans its median's interval and the middle half
    of its sales, whichever reaches farther. Amounts in another currency are converted by the person's `rates` as of `day`.
    `missing` says what had to be left out: "too_few" (sales for a value), and "asking", "terms" or "habits" where no rate was typed.
    """
    own, usual = saved or {}, habits or {}
    missing: list[str] = []

    def amount(minor: float, source: str, whose: str) -> int | None:
        found = in_currency({"price": {"minor": minor, "currency": source}, "day": day}, currency, rates)
        if found is None and whose not in missing:
            missing.append(whose)
        return None if found is None else int(half_away(found, 0))

    def sum_of(name: str) -> int:
        if own.get(name) is not None:
            return amount(own[name], own["currency"], "terms") or 0
        return (amount(usual[name], usual["currency"], "habits") or 0) if usual.get(name) else 0

    def share(name: str) -> float:
        return own[name] if own.get(name) is not None else usual.get(name) or 0

    value, value_from = None, None
    if own.get("value"):
        spans = {name: amount(own["value"][name], own["currency"], "terms") for name in ("low_minor", "likely_minor", "high_minor")}
        value, value_from = (None, None) if None in spans.values() else (spans, "own")
    elif known and known["count"]:
        if known["too_few"]:
            missing.append("too_few")
        else:
            value, value_from = _span(known), "group"
    resale = own.get("resale") or False
    deal = {
        "currency": currency, "value": value, "asking_minor": amount(asking["minor"], asking["currency"], "asking") if asking else None, "resale": resale,
        "week_minor": sum_of("week_minor"), "premium": share("premium"), "tax": share("tax"), "fees": share("fees"),
        "freight_minor": sum_of("freight_minor"), "travel_minor": sum_of("travel_minor"), "margin_minor": sum_of("margin_minor"),
    }  # fmt: skip
    return {"deal": deal, "value_from": value_from, "missing": missing}


def priced_in(rows: Sequence[Mapping], currency: str, day: str, rates: Sequence[Mapping]) -> list[dict[str, Any]]:
    """Remedies or remedy costs with their cost in `currency` where the person typed a rate; the others as they are."""
    found = []
    for row in rows:
        cost = row.get("cost")
        spans = {
            name: in_currency({"price": {"minor": cost[name], "currency": cost["currency"]}, "day": day}, currency, rates)
            for name in ("low_minor", "likely_minor", "high_minor")
        } if cost else {"": None}  # fmt: skip
        known = None not in spans.values()
        found.append({**row, "cost": {"currency": currency} | {name: int(half_away(span, 0)) for name, span in spans.items()}} if known else dict(row))
    return found


def _span(known: Mapping) -> dict[str, int]:
    return {
        "low_minor": int(min(known["low_minor"], known["quarter_low_minor"])),
        "likely_minor": int(known["median_minor"]),
        "high_minor": int(max(known["high_minor"], known["quarter_high_minor"])),
    }
