"""What a lot may cost at most: the values of its pieces less all their costs, and what comes on top of the lot once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.cost_total import distribution, mean_of
from barnlight.domain.deal_sheet import deal_parts, price_spans
from barnlight.domain.rounding import half_away

ON_TOP = ("freight", "travel", "margin")


def deal_lot(lot: Mapping, pieces: Sequence[Mapping], catalogue: Mapping, own_costs: Sequence[Mapping] = ()) -> dict[str, Any]:
    """{currency, ceiling, opening_minor, asking_minor, pieces: [{id, value_minor, costs_minor, counts}], on_top_minor, missing}.

    `lot`: terms as for deal_sheet, its own value aside; `pieces`: [{id, deal, piece, answers}], each deal in the lot's currency. A
    piece's own freight, travel and margin are left aside: the lot is fetched once. `counts`: whether a piece is in the sum; one
    without a value is not, nor one whose costs are above its value, as nobody must repair it. `missing`: ids of those without a value.
    """
    rows, parts = [], []
    for one in pieces:
        alone = {**one["deal"], **{f"{name}_minor": 0 for name in ON_TOP}}
        found = deal_parts(alone, one["piece"], one["answers"], catalogue, own_costs)
        costs = sum(mean_of(part) for part in found["costs"])
        value = None if found["value"] is None else mean_of(found["value"])
        counts = value is not None and value > costs
        rows.append({"id": one["id"], "value_minor": None if value is None else int(half_away(value, 0)), "costs_minor": int(half_away(costs, 0)), "counts": counts})
        if counts:
            parts += [found["value"], *({"low": -part["high"], "likely": -part["likely"], "high": -part["low"], "chance": part["chance"]} for part in found["costs"])]
    on_top = sum(lot[f"{name}_minor"] for name in ON_TOP if name != "margin" or lot["resale"])
    fixed = {"low": -on_top, "likely": -on_top, "high": -on_top, "chance": 1}
    spans = price_spans(distribution([*parts, fixed]), lot) if any(row["value_minor"] is not None for row in rows) else {"ceiling": None, "opening_minor": None}
    return {
        "currency": lot["currency"], **spans, "asking_minor": lot.get("asking_minor"), "pieces": rows, "on_top_minor": on_top,
        "missing": [row["id"] for row in rows if row["value_minor"] is None],
    }  # fmt: skip
