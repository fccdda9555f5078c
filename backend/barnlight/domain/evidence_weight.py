"""How much the claims about one check weigh: words less than a photo, a photo less than a film with sound, and so on to what was seen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any


def weight_of(evidence: str | None, catalogue: Mapping) -> int:
    """1 for words up to 5 for seen; evidence of an unknown kind weighs as words."""
    return next((kind["weight"] for kind in catalogue["terms"]["evidence_kinds"] if kind["id"] == evidence), 1)


def weigh(claims: Sequence[Mapping], catalogue: Mapping) -> dict[str, Any] | None:
    """{outcome, evidence, weight, agree, say} of the claims about one check; None where nothing was claimed.

    The claim with the weightiest evidence stands, the latest of equals. `agree`: whether no other claim says otherwise of whether it works.
    """
    made = [claim for claim in claims if claim.get("asserted") and not claim.get("deleted")]
    if not made:
        return None
    best = max(made, key=lambda claim: (weight_of(claim.get("evidence"), catalogue), claim.get("day") or "", claim.get("id") or ""))
    works = {claim["asserted"]["outcome"] != "faulty" for claim in made if claim["asserted"]["outcome"] in ("in_order", "worn", "faulty")}
    weight = weight_of(best.get("evidence"), catalogue)
    kind = next((one for one in catalogue["terms"]["evidence_kinds"] if one["id"] == best.get("evidence")), catalogue["terms"]["evidence_kinds"][0])
    return {"outcome": best["asserted"]["outcome"], "evidence": kind["id"], "weight": weight, "agree": len(works) < 2, "say": kind["say"]}
