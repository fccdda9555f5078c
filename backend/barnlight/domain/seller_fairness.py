"""How fair a seller's dealings were, with an interval, pulled toward what is usual for the kind of venue: one good deal is not twenty."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.intervals import beta_interval

# A mixed dealing counts as half a fair one.
FAIR = {"fair": 1.0, "mixed": 0.5, "unfair": 0.0}
# How many dealings the usual weighs as: read from the log where it can be, never more than 20 nor less than 2.
USUAL_WEIGHT, LEAST_WEIGHT, MOST_WEIGHT = 4.0, 2.0, 20.0
LEAST_SELLERS = 5


def usual(counts: Sequence[Mapping], venue_kind: str) -> dict[str, float]:
    """{share, weight}: the usual share of fair dealings for a kind of venue, and as how many dealings it weighs.

    `counts`: one {venue_kind, fair, of} a seller. The share of a venue with few dealings leans on that of the whole log, that of
    a short log on a half. The weight follows from how much sellers of the venue differ (method of moments for a
    beta-binomial) where five or more have two dealings, else it is 4.
    """
    overall = (sum(one["fair"] for one in counts) + 1) / (sum(one["of"] for one in counts) + 2)
    own = [one for one in counts if one["venue_kind"] == venue_kind and one["of"] > 0]
    share = (sum(one["fair"] for one in own) + USUAL_WEIGHT * overall) / (sum(one["of"] for one in own) + USUAL_WEIGHT)
    return {"share": share, "weight": _weight([one for one in own if one["of"] >= 2], share)}


def fairness(fair: float, of: float, prior: Mapping) -> dict[str, float]:
    """{mean, low, high} of a seller with so many fair dealings of so many, 95 %, given the usual (`usual`). Order by `low`."""
    a, b = prior["share"] * prior["weight"] + fair, (1 - prior["share"]) * prior["weight"] + of - fair
    return beta_interval(a, b)


def ranked_sellers(sellers: Sequence[Mapping], dealings: Sequence[Mapping]) -> list[dict[str, Any]]:
    """[{seller, fair, of, mean, low, high}], the surest first; `sellers`: seller records, `dealings`: dealing records.

    A seller noted as the same as another (`same_as`) lends it their dealings and is not listed.
    """
    own = {seller["id"]: seller for seller in sellers if not seller.get("deleted")}
    judged = [one for one in dealings if one.get("outcome") in FAIR and not one.get("deleted")]
    counts: dict[str, dict[str, Any]] = {name: {"venue_kind": one.get("venue_kind") or "", "fair": 0.0, "of": 0} for name, one in own.items() if head(name, own) == name}
    for dealing in judged:
        count = counts.get(head(dealing.get("seller") or "", own))
        if count is not None:
            count["fair"] += FAIR[dealing["outcome"]]
            count["of"] += 1
    priors = {kind: usual(list(counts.values()), kind) for kind in {one["venue_kind"] for one in counts.values()}}
    found = [{"seller": name, "fair": one["fair"], "of": one["of"], **fairness(one["fair"], one["of"], priors[one["venue_kind"]])} for name, one in counts.items()]
    return sorted(found, key=lambda one: (-one["low"], -one["of"], one["seller"]))


def head(seller: str, sellers: Mapping[str, Mapping]) -> str:
    """The entry that stands for a seller after merging; a circle of entries stands for the first of them by id."""
    seen = [seller]
    while (following := (sellers.get(seen[-1]) or {}).get("same_as")) and following in sellers:
        if following in seen:
            return min(seen[seen.index(following) :])
        seen.append(following)
    return seen[-1]


def _weight(sellers: Sequence[Mapping], share: float) -> float:
    if len(sellers) < LEAST_SELLERS:
        return USUAL_WEIGHT
    shares = [one["fair"] / one["of"] for one in sellers]
    spread = sum((one - share) ** 2 for one in shares) / (len(shares) - 1)
    by_chance = share * (1 - share)
    dealings = len(sellers) / sum(1 / one["of"] for one in sellers)
    # Var(share of a seller) = share (1 - share) (1/n + (1 - 1/n) rho), weight = 1/rho - 1.
    rho = (spread / by_chance - 1 / dealings) / (1 - 1 / dealings)
    return MOST_WEIGHT if rho <= 0 else min(max(1 / min(rho, 1) - 1, LEAST_WEIGHT), MOST_WEIGHT)
