"""What stands beside the looking in a report: claims held apart from what was seen, repairs, film tests and cautions."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from barnlight.domain.checks import applicable
from barnlight.domain.claim_outcome import SOUND, claim_outcome
from barnlight.domain.report_not_checked import UNTOUCHED
from barnlight.domain.report_photos import gallery
from barnlight.domain.report_words import day_words, place_words, title_of

BY = {"seller": "who offered it", "earlier_owner": "an earlier owner", "repairer": "a repairer", "other": "somebody else"}
# Cautions for the hand that buys, not for the hand that reads.
NOT_FOR_READERS = ("ask_first", "record_leave", "ears_phone", "smell_not_sought")


def claims(records: list[dict], answers: list[dict], catalogue: Mapping) -> list[dict[str, str]]:
    """What others asserted, with what was seen of it since (`answers` of all visits); their own words are private and stay out."""
    titles = {check["id"]: check["title"] for check in catalogue["checks"]}
    outcomes, kinds = catalogue["terms"]["outcomes"], catalogue["terms"]["evidence_kinds"]
    shown = sorted((one for one in records if one.get("asserted") and one.get("check") in titles), key=lambda one: (one.get("day") or "", one["id"]))
    return [
        {
            "what": titles[claim["check"]],
            "where": place_words(claim.get("place") or "", catalogue),
            "by": BY.get(claim.get("by") or "", BY["other"]),
            "day": day_words(claim.get("day")),
            "asserted": title_of(outcomes, claim["asserted"]["outcome"]).lower(),
            "evidence": title_of(kinds, claim.get("evidence"), "words").lower(),
            "since": _since(claim, answers),
        }
        for claim in shown
    ]


def repairs(records: list[dict], catalogue: Mapping) -> list[dict[str, str]]:
    """Work done or promised; who did it and what it cost are private."""
    titles = {remedy["id"]: remedy["title"] for remedy in catalogue["remedies"]}
    ordered = sorted(records, key=lambda one: (one.get("back") or one.get("sent") or "", one["id"]))
    return [{"what": one.get("what") or titles.get(one.get("remedy") or "", "Work not named"), "when": _repair_days(one)} for one in ordered]


def film_tests(records: list[dict], photos: Mapping[str, dict]) -> list[dict[str, Any]]:
    """Films made with it; `photos`: the pictures of the report by the id of their photo."""
    return [
        {
            "day": day_words(one.get("day")), "setup": _setup(one.get("setup") or {}), "found": one.get("found") or "nothing noted",
            "pictures": gallery([photos[one["photo"]]] if one.get("photo") in photos else []),
        }
        for one in sorted(records, key=lambda one: (one.get("day") or "", one["id"]))
    ]


def cautions(piece: Mapping, answers: list[dict], catalogue: Mapping) -> list[dict[str, str]]:
    """Those of the shutter's kind, of what was found wrong or not looked at, and of holders that may not be empty."""
    said = {answer["check"]: answer["result"]["outcome"] for answer in answers if answer.get("check") and answer.get("result")}
    kind = next((one for one in catalogue["shutter_kinds"] if one["id"] == piece.get("shutter_kind")), {"cautions": []})
    called = set(kind["cautions"])
    for check in applicable(piece, catalogue):
        if said.get(check["id"], UNTOUCHED) not in ("in_order", "does_not_apply"):
            called.update(check["cautions"])
    shown = [one for one in catalogue["cautions"] if one["id"] in called and one["id"] not in NOT_FOR_READERS]
    return [{"caution": one["title"], "say": one["say"]} for one in shown]


def _since(claim: Mapping, answers: list[dict]) -> str:
    said = claim["asserted"]["outcome"]
    found = "faulty" if said in SOUND else "in order" if said == "faulty" else "there"
    return {
        "held": "Held: found faulty since." if said == "faulty" else "Held, as far as seen since.",
        "did_not_hold": f"Did not hold: found {found} since.",
        "never_tested": "Never tested: a claim, not a finding.",
        "nothing_claimed": "Not known to them: nothing was claimed.",
    }[claim_outcome(claim, answers)]


def _repair_days(repair: Mapping) -> str:
    if repair.get("back"):
        return f"back on {day_words(repair['back'])}"
    if repair.get("promised"):
        return f"promised for {day_words(repair['promised'])}"
    return f"sent on {day_words(repair['sent'])}, not back yet" if repair.get("sent") else "day not noted"


def _setup(setup: Mapping) -> str:
    said = [
        f"holder {setup['holder']}" if setup.get("holder") else "",
        f"side {setup['side'].upper()}" if setup.get("side") else "",
        setup["speed"]["text"] if setup.get("speed") else "",
        setup.get("stop") or "",
    ]
    return ", ".join(words for words in said if words)
