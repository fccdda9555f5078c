"""The line that is always there: what it is worth by the asking price, what could still kill it, and the next most useful look."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.checks import applicable, next_look, ranked
from barnlight.domain.remedies import bundle
from barnlight.domain.verdict import verdict


def bottom_line(piece: Mapping, visit: Mapping, answers: Sequence[Mapping], catalogue: Mapping, own_costs: Sequence[Mapping] = ()) -> dict[str, Any]:
    """{verdict: the word, worth, missing, could_kill: [{check, title}], next: {check, title, seconds} | None}.

    `worth`: asking price less the remedies of faults seen, {kind: "asking_less_repairs", low_minor, likely_minor, high_minor,
    currency}, below zero where repairs cost more than is asked; None when `missing` says why: "asking" (no price asked) or
    "currency" (repairs priced in another one). `could_kill`: checks that can stop a picture and are not judged yet, the most
    telling first.
    """
    checks = applicable(piece, catalogue)
    judged = verdict(piece, answers, catalogue)
    look = next_look(piece, answers, catalogue)
    here = {check["id"] for check in checks}
    repairs = [one["cost"] for one in bundle([answer for answer in answers if answer.get("check") in here], catalogue, own_costs)]
    asking = visit.get("asking")
    missing = None
    if not asking:
        missing = "asking"
    elif any(cost["currency"] != asking["currency"] for cost in repairs):
        missing = "currency"
    return {
        "verdict": judged["verdict"],
        "worth": None if missing else _worth(asking, repairs),
        "missing": missing,
        "could_kill": [{"check": check["id"], "title": check["title"]} for check in ranked(checks) if check["id"] in judged["unlooked"]],
        "next": look and {"check": look["id"], "title": look["title"], "seconds": look["seconds"]},
    }


def _worth(asking: Mapping, repairs: list[Mapping]) -> dict[str, Any]:
    def less(figure: str) -> int:
        return asking["minor"] - sum(cost[figure] for cost in repairs)

    # The dearest repair leaves the lowest worth.
    return {
        "kind": "asking_less_repairs",
        "low_minor": less("high_minor"),
        "likely_minor": less("likely_minor"),
        "high_minor": less("low_minor"),
        "currency": asking["currency"],
    }
