"""What became of a claim once somebody looked: it held, did not hold, or was never tested; not to know claims nothing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

SOUND = ("in_order", "worn")
ABSENT = "does_not_apply"
NOTHING = ("cannot_tell", "not_checked")
OUTCOMES = ("held", "did_not_hold", "never_tested", "nothing_claimed")


def claim_outcome(claim: Mapping, answers: Iterable[Mapping]) -> str:
    """One of OUTCOMES. `answers`: what was seen at any visit; of another piece or another place they say nothing.

    A claim of "worn" holds if the thing is found in order, and the other way round: both say that it works.
    """
    said = claim["asserted"]["outcome"]
    if said in NOTHING:
        return "nothing_claimed"
    seen = [answer["result"]["outcome"] for answer in answers if answer.get("result") and not answer.get("deleted") and _about(claim, answer)]
    sound, faulty, absent = any(outcome in SOUND for outcome in seen), "faulty" in seen, ABSENT in seen
    if said == ABSENT:
        held, broken = absent, sound or faulty
    elif said == "faulty":
        held, broken = faulty, sound and not faulty
    else:
        held, broken = sound, faulty
    return "did_not_hold" if broken else "held" if held else "never_tested"


def tally(claims: Iterable[Mapping], answers: Iterable[Mapping]) -> dict[str, int]:
    """How many claims ended each way, by OUTCOMES; the same said twice counts once, claims taken off are left out."""
    known = list(answers)
    kept = [claim for claim in claims if claim.get("asserted") and not claim.get("deleted")]
    made = {(claim.get("piece"), claim["check"], claim.get("place") or "", claim["asserted"]["outcome"]): claim for claim in kept}
    ended = [claim_outcome(claim, known) for claim in made.values()]
    return {outcome: ended.count(outcome) for outcome in OUTCOMES}


def _about(claim: Mapping, answer: Mapping) -> bool:
    same_piece = not claim.get("piece") or not answer.get("piece") or claim["piece"] == answer["piece"]
    place = claim.get("place") or ""
    return answer.get("check") == claim["check"] and same_piece and (not place or (answer.get("place") or "") in ("", place))
