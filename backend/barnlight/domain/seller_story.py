"""All that happened with one seller as a story in time: meetings, dealings, what became of their claims, what was bought."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.claim_outcome import claim_outcome, tally
from barnlight.domain.intervals import wilson
from barnlight.domain.report_words import counted, title_of

TONES = {"fair": "good", "mixed": "worn", "unfair": "bad"}
KNEW = {"did_not_know": "did not know", "hid_it": "hid it"}


def seller_story(sessions: Sequence[Mapping], dealings: Sequence[Mapping], deals: Sequence[Mapping], claims: Sequence[Mapping], answers: Sequence[Mapping], catalogue: Mapping) -> dict[str, Any]:
    """{events: [{day, kind, record, tone, say, more}], claims: counts by outcome, held: {share, low, high} | None}, newest first.

    `claims`: those this seller made, `answers`: what was seen of those pieces, each with its piece. `held`: the share of tested
    claims that held, 95 % (Wilson), None while none was tested. `record`: the record that an event is about, for a way there.
    """
    events = [
        *({"day": one.get("day") or "", "kind": "session", "record": one["id"], "tone": "none", "say": one.get("title") or "A sale", "more": ""} for one in _kept(sessions)),
        *(_dealing(one, catalogue) for one in _kept(dealings)),
        *(_deal(one) for one in _kept(deals) if one.get("decision")),
        *_claimed(claims, answers, catalogue),
    ]  # fmt: skip
    counts = tally(claims, answers)
    tested = counts["held"] + counts["did_not_hold"]
    order = {"dealing": 0, "claims": 1, "deal": 2, "session": 3}
    events.sort(key=lambda one: (order[one["kind"]], one["record"]))
    events.sort(key=lambda one: one["day"], reverse=True)
    return {"events": events, "claims": counts, "held": wilson(counts["held"], tested) if tested else None}


def claim_line(counts: Mapping) -> str:
    """ "6 claims: 4 held, 1 did not, 1 never tested."; what they did not know is not counted as a claim."""
    words = {"held": "held", "did_not_hold": "did not", "never_tested": "never tested"}
    total = sum(counts[outcome] for outcome in words)
    said = [f"{counts[outcome]} {word}" for outcome, word in words.items() if counts[outcome]]
    return f"{counted(total, 'claim', 'claims')}: {', '.join(said)}." if total else "No claims yet."


def _kept(records: Sequence[Mapping]) -> list[Mapping]:
    return [one for one in records if not one.get("deleted")]


def _dealing(dealing: Mapping, catalogue: Mapping) -> dict[str, Any]:
    outcome, knew = dealing.get("outcome") or "", KNEW.get(dealing.get("knew") or "") if dealing.get("outcome") != "fair" else None
    facets = dealing.get("facets") or {}
    said = [f"{facet['title']}: {facets[facet['id']]}" for facet in catalogue["terms"]["facets"] if facets.get(facet["id"]) in ("yes", "no")]
    say = title_of(catalogue["terms"]["dealing_outcomes"], outcome, "A dealing")
    return {"day": dealing.get("day") or "", "kind": "dealing", "record": dealing["id"], "tone": TONES.get(outcome, "none"),
            "say": f"{say}: {knew}" if knew else say, "more": " · ".join(said)}  # fmt: skip


def _deal(deal: Mapping) -> dict[str, Any]:
    decision = deal["decision"]
    return {"day": deal.get("day") or "", "kind": "deal", "record": deal["id"], "tone": "none",
            "say": "Bought from them" if decision["bought"] else "Passed", "more": decision.get("reason") or ""}  # fmt: skip


def _claimed(claims: Sequence[Mapping], answers: Sequence[Mapping], catalogue: Mapping) -> list[dict[str, Any]]:
    """One event for what was claimed of one piece on one day; its record is the piece."""
    titles = {check["id"]: check["title"] for check in catalogue["checks"]}
    made = [claim for claim in _kept(claims) if claim.get("asserted")]
    events = []
    for day, piece in dict.fromkeys((claim.get("day") or "", claim["piece"]) for claim in made):
        here = [claim for claim in made if (claim.get("day") or "", claim["piece"]) == (day, piece)]
        counts = tally(here, answers)
        broken = list(dict.fromkeys(titles.get(claim["check"], "A check") for claim in here if claim_outcome(claim, answers) == "did_not_hold"))
        tone = "bad" if broken else "good" if counts["held"] else "none"
        events.append({"day": day, "kind": "claims", "record": piece, "tone": tone, "say": claim_line(counts),
                       "more": f"Did not hold: {', '.join(broken)}" if broken else ""})  # fmt: skip
    return events
