"""What a piece may cost at most: its value less what seen faults call for, a reserve for the unseen, the wait and all that comes on top."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.checks import applicable
from barnlight.domain.cost_total import QUANTILES, distribution, mean_of, quantile, variance_of
from barnlight.domain.deal_reserve import NO_CURE, calls, chances
from barnlight.domain.remedies import bundle
from barnlight.domain.rounding import half_away
from barnlight.domain.verdict import verdict

OPENING = 0.25


def deal_sheet(deal: Mapping, piece: Mapping, answers: Sequence[Mapping], catalogue: Mapping, own_costs: Sequence[Mapping] = ()) -> dict[str, Any]:
    """{currency, ceiling: {low_minor, middle_minor, high_minor} | None, opening_minor, asking_minor, drives, checking, missing, examples}.

    `deal`: {currency, value: {low_minor, likely_minor, high_minor} for a working piece or None, asking_minor or None, resale: bool,
    week_minor: what a week without it is worth, premium, tax, fees: shares of a price, freight_minor, travel_minor, margin_minor}.
    The ceiling is the price, before premium and tax, at which the piece with all its costs is worth what is paid: its middle,
    and the span that holds it 19 times in 20. `drives`: [{kind, id, title, minor, chance, spread_share}], what takes most off first.
    `checking`: [{check, title, seconds, chance, moves_minor, worth_minor}]: how far the ceiling lies apart between found in order
    and found faulty, and what knowing is worth at the asking price, most first. `missing`: "value", and "currency" where
    costs in another currency were left out; `examples`: whether any cost is an example figure.
    """
    currency = deal["currency"]
    checks = applicable(piece, catalogue)
    here = {check["id"] for check in checks}
    repairs = bundle([answer for answer in answers if answer.get("check") in here], catalogue, own_costs)
    usable = [one for one in repairs if one["cost"]["currency"] == currency]
    called = calls(checks, verdict(piece, answers, catalogue)["unlooked"])
    priced = _prices(catalogue, own_costs)
    foreign = len(usable) < len(repairs) or any(priced[name][0]["currency"] != currency for one in called for name in one["remedies"] if name in priced)
    missing = ([] if deal.get("value") else ["value"]) + (["currency"] if foreign else [])
    sure = _sure_parts(deal, usable)
    unseen = _unseen_parts(deal, called, usable, priced, catalogue)
    found: dict[str, Any] = {
        "currency": currency, "ceiling": None, "opening_minor": None, "asking_minor": deal.get("asking_minor"),
        "drives": _drives([*sure, *unseen(chances(called))]), "checking": [], "missing": missing,
        "examples": any(one["example"] for one in usable) or any(priced[one["id"]][1] for one in unseen(chances(called)) if one["id"] in priced),
    }  # fmt: skip
    if not deal.get("value"):
        return found
    value = _value_part(deal)
    total = distribution([value, *(_taken(part) for part in [*sure, *unseen(chances(called))])])
    return found | price_spans(total, deal) | {
        "checking": _checking(called, lambda known: mean_of(value) - sum(mean_of(part) for part in [*sure, *unseen(chances(called, known))]), deal),
    }  # fmt: skip


def deal_parts(deal: Mapping, piece: Mapping, answers: Sequence[Mapping], catalogue: Mapping, own_costs: Sequence[Mapping] = ()) -> dict[str, Any]:
    """{value: {low, likely, high, chance} or None, costs: [{kind, id, title, low, likely, high, chance}]}: what a sheet is summed from, for sums over pieces."""
    checks = applicable(piece, catalogue)
    here = {check["id"] for check in checks}
    repairs = [one for one in bundle([a for a in answers if a.get("check") in here], catalogue, own_costs) if one["cost"]["currency"] == deal["currency"]]
    called = calls(checks, verdict(piece, answers, catalogue)["unlooked"])
    unseen = _unseen_parts(deal, called, repairs, _prices(catalogue, own_costs), catalogue)
    return {"value": _value_part(deal) if deal.get("value") else None, "costs": [*_sure_parts(deal, repairs), *unseen(chances(called))]}


def price_spans(total: Mapping, terms: Mapping) -> dict[str, Any]:
    """{ceiling: {low_minor, middle_minor, high_minor}, opening_minor}: the price that `total`, an amount left to pay it with, comes to before premium and tax."""
    per_price = _per_price(terms)

    def price(share: float) -> int:
        return int(half_away(max(0.0, quantile(total, share) / per_price), 0))

    return {"ceiling": {f"{name}_minor": price(share) for name, share in QUANTILES.items()}, "opening_minor": price(OPENING)}


def _per_price(terms: Mapping) -> float:
    """What is paid in all for each 1 of the price: premium first, tax on both."""
    return (1 + terms["premium"]) * (1 + terms["tax"])


def _value_part(deal: Mapping) -> dict[str, float]:
    """What the piece is worth to the person: its price, for resale less the fees on it."""
    kept = 1 - deal["fees"] if deal["resale"] else 1.0
    return {name: deal["value"][f"{name}_minor"] * kept for name in ("low", "likely", "high")} | {"chance": 1}


def _part(kind: str, id_: str, title: str, low: float, likely: float, high: float, chance: float = 1) -> dict[str, Any]:
    return {"kind": kind, "id": id_, "title": title, "low": low, "likely": likely, "high": high, "chance": chance}


def _sure_parts(deal: Mapping, repairs: Sequence[Mapping]) -> list[dict[str, Any]]:
    """Remedies of seen faults, the wait for the longest of them, and what comes on top of any price."""
    parts = [_part("fault", one["remedy"], one["title"], *_span(one["cost"])) for one in repairs]
    low, high = (max((one["weeks"][end] for one in repairs), default=0) * deal["week_minor"] for end in ("low", "high"))
    parts.append(_part("weeks", "weeks", "Weeks without it", low, (low + high) / 2, high))
    parts += [_part("on_top", name, title, *[deal[f"{name}_minor"]] * 3) for name, title in (("freight", "Freight"), ("travel", "Travel"))]
    if deal["resale"]:
        parts.append(_part("on_top", "margin", "Margin", *[deal["margin_minor"]] * 3))
    return [part for part in parts if part["high"] > 0]


def _unseen_parts(deal: Mapping, called: Sequence[Mapping], repairs: Sequence[Mapping], priced: Mapping, catalogue: Mapping) -> Any:
    """A function from chances to the parts of the reserve. What a seen fault pays for already is not reserved again."""
    paid = {one["remedy"] for one in repairs}
    paid |= {small for remedy in catalogue["remedies"] if remedy["id"] in paid for small in remedy["covers"]}
    titles = {remedy["id"]: remedy["title"] for remedy in catalogue["remedies"]}
    named = list(dict.fromkeys(name for one in called for name in one["remedies"]))

    def parts(by_remedy: Mapping[str, float]) -> list[dict[str, Any]]:
        made = [
            _part("unseen", name, titles[name], *_span(priced[name][0]), by_remedy[name])
            for name in named if name in priced and name not in paid and priced[name][0]["currency"] == deal["currency"]
        ]  # fmt: skip
        if NO_CURE in named and deal.get("value"):
            whole = _value_part(deal)
            made.append(_part("unseen", NO_CURE, "A fault without a known cure", whole["low"], whole["likely"], whole["high"], by_remedy[NO_CURE]))
        return [part for part in made if part["chance"] > 0]

    return parts


def _prices(catalogue: Mapping, own_costs: Sequence[Mapping]) -> dict[str, tuple[Mapping, bool]]:
    """Remedy -> (cost, whether it is an example)."""
    own = {one["remedy"]: one["cost"] for one in reversed(own_costs) if one.get("remedy") and one.get("cost") and not one.get("deleted")}
    return {remedy["id"]: (own[remedy["id"]], False) if remedy["id"] in own else (remedy["cost"], remedy["example"]) for remedy in catalogue["remedies"]}


def _span(cost: Mapping) -> tuple[float, float, float]:
    return cost["low_minor"], cost["likely_minor"], cost["high_minor"]


def _taken(part: Mapping) -> dict[str, float]:
    return {"low": -part["high"], "likely": -part["likely"], "high": -part["low"], "chance": part["chance"]}


def _drives(parts: Sequence[Mapping]) -> list[dict[str, Any]]:
    """Each part's mean, and its share of the costs' spread."""
    spread = sum(variance_of(part) for part in parts)
    rows = [
        {"kind": part["kind"], "id": part["id"], "title": part["title"], "minor": int(half_away(mean_of(part), 0)), "chance": part["chance"],
         "spread_share": variance_of(part) / spread if spread > 0 else 0.0}
        for part in parts
    ]  # fmt: skip
    return sorted(rows, key=lambda row: -row["minor"])


def _checking(called: Sequence[Mapping], worth_if: Any, deal: Mapping) -> list[dict[str, Any]]:
    """The expected value of one more look: one buys only if the piece is worth more than is asked, so knowing first can save a mistake."""
    per_price = _per_price(deal)
    paid = None if deal.get("asking_minor") is None else deal["asking_minor"] * per_price
    now = worth_if({})
    rows = []
    for one in called:
        fine, bad, chance = worth_if({one["check"]: False}), worth_if({one["check"]: True}), one["chance"]
        gain = 0.0 if paid is None else (1 - chance) * max(fine - paid, 0) + chance * max(bad - paid, 0) - max(now - paid, 0)
        rows.append({
            "check": one["check"], "title": one["title"], "seconds": one["seconds"], "chance": chance,
            "moves_minor": int(half_away((fine - bad) / per_price, 0)), "worth_minor": int(half_away(max(gain, 0.0), 0)),
        })  # fmt: skip
    return sorted(rows, key=lambda row: (-row["worth_minor"], -row["moves_minor"]))
