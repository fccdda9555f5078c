"""The verdict on a piece, derived from what was seen and never typed: first match wins, with its range and what drove it.

A finding is {check, place, faults: [ids], effect}: one faulty answer, `effect` being the gravest of its faults.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from barnlight.domain.checks import applicable, holder_numbers, is_looked_at, places, speed_value
from barnlight.domain.ids import parse_place

_GRAVITY = ("stops", "limits", "looks", "none")


class _Looked(NamedTuple):
    """One check as it stands."""

    check: Mapping
    found: list[dict]
    open: list[str]  # places still unjudged
    hopeless: bool  # a fault that stops a picture and that nothing known puts right
    limit: Mapping | None  # the mark it is good up to


def verdict(piece: Mapping, answers: Sequence[Mapping], catalogue: Mapping) -> dict[str, Any]:
    """The verdict on `piece` by the answers of one visit.

    {verdict: the word, range: {up_to: fastest marked speed it holds for | None}, drove: findings, unlooked: ids of checks
    that can stop a picture and were not looked at everywhere, faults: {stops, limits, looks: findings}, holders: {of, looked,
    ready, with_faults, needs_work} | None, left_out: [{check, place, reason}]}.
    Answers at places the piece no longer has (a holder taken out of the set) do not count; claims are no answers.
    """
    left_out: list[dict] = []
    looks: list[_Looked] = []
    for check in applicable(piece, catalogue):
        said = {a.get("place") or "": a["result"] for a in answers if a.get("check") == check["id"] and a.get("result") and not a.get("deleted")}
        for place, result in said.items():
            if result["outcome"] == "does_not_apply":
                left_out.append({"check": check["id"], "place": place, "reason": result.get("reason_text") or result.get("reason") or ""})
        looks += _look(check, piece, said)
    faults = {effect: [f for one in looks for f in one.found if f["effect"] == effect] for effect in ("stops", "limits", "looks")}
    unlooked = [one.check["id"] for one in looks if can_stop(one.check) and one.open]
    word = _first_match(piece, looks, faults, unlooked)
    usable = word in ("usable_with_faults", "ready_to_use")
    return {
        "verdict": word,
        "range": {"up_to": _slowest(one.limit for one in looks) if usable else None},
        "drove": _drivers(word, looks, faults),
        "unlooked": unlooked,
        "faults": faults,
        "holders": _count_holders(piece, looks) if piece.get("kind") == "holders" else None,
        "left_out": left_out,
    }


def can_stop(check: Mapping) -> bool:
    """Whether one of the check's faults stops a picture."""
    return any(fault["picture"] == "stops" for fault in check["faults"])


def _first_match(piece: Mapping, looks: list[_Looked], faults: Mapping, unlooked: list[str]) -> str:
    if piece.get("parts_only") or any(one.hopeless for one in looks):
        return "parts_only"
    if faults["stops"]:
        return "needs_work_first"
    if unlooked or not looks:
        return "not_proven"
    return "usable_with_faults" if faults["limits"] or faults["looks"] else "ready_to_use"


def _drivers(word: str, looks: list[_Looked], faults: Mapping) -> list[dict]:
    """The findings behind the word; the person's own "parts only" and what was not looked at stand elsewhere."""
    if word == "parts_only":
        return [finding for one in looks if one.hopeless for finding in one.found if finding["effect"] == "stops"]
    if word == "needs_work_first":
        return faults["stops"]
    return faults["limits"] + faults["looks"] if word == "usable_with_faults" else []


def _look(check: Mapping, piece: Mapping, said: Mapping[str, Mapping]) -> list[_Looked]:
    """Nothing for a check that does not apply at all."""

    def applies(place: str) -> bool:
        return place not in said or said[place]["outcome"] != "does_not_apply"

    here = [place for place in places(check, piece) if applies(place)]
    if not applies("") or not here:
        return []
    # An answer for the whole piece stands beside those of its places: its fault counts, its "in order" does not cover them.
    judged = {place: said[place] for place in ["", *here] if place in said}
    faulty = [(place, _named_faults(check, result)) for place, result in judged.items() if result["outcome"] == "faulty"]
    limit = _slowest(result["good_up_to"] if result["outcome"] == "cannot_tell" and is_looked_at(result) else None for result in judged.values())
    good_as_whole = "" in said and said[""]["outcome"] == "cannot_tell" and is_looked_at(said[""])
    found = [
        {"check": check["id"], "place": place, "faults": [fault["id"] for fault in named], "effect": _gravest(named or check["faults"])}
        for place, named in faulty
    ]
    still_open = [place for place in here if not good_as_whole and not is_looked_at(said.get(place)) and not _is_faster(place, limit, piece)]
    hopeless = any(fault["picture"] == "stops" and fault["remedy"] is None for _, named in faulty for fault in named)
    return [_Looked(check, found, still_open, hopeless, limit)]


def _named_faults(check: Mapping, result: Mapping) -> list[Mapping]:
    return [fault for fault in check["faults"] if fault["id"] in (result.get("faults") or ())]


def _gravest(faults: Iterable[Mapping]) -> str:
    effects = {fault["picture"] for fault in faults}
    return next((effect for effect in _GRAVITY if effect in effects), "none")


def _is_faster(place: str, limit: Mapping | None, piece: Mapping) -> bool:
    """Whether the place is a marked speed beyond the one the shutter is good up to."""
    speed = parse_place(place).get("speed")
    if limit is None or speed is None:
        return False
    mark = next((one for one in piece["speeds"]["marks"] if speed_value(one) == speed), None)
    return mark is not None and mark["seconds"] < limit["seconds"]


def _slowest(marks: Iterable[Mapping | None]) -> Mapping | None:
    """The mark that narrows most: the longest time."""
    return max((mark for mark in marks if mark), key=lambda mark: mark["seconds"], default=None)


def _count_holders(piece: Mapping, looks: list[_Looked]) -> dict[str, int]:
    """Every holder of the set judged for itself; those in none of ready, with_faults and needs_work are not proven.

    `looked`: all that stops a picture was looked at on it, or a fault that does was found.
    """
    stopping = [one for one in looks if can_stop(one.check)]
    # What is looked at once for the whole set holds for every holder in it.
    of_set = [one for one in stopping if "holder" not in one.check["axes"]]
    set_proven = not any(one.open or any(finding["effect"] == "stops" for finding in one.found) for one in of_set)
    set_faults = any(finding["effect"] != "none" for one in looks for finding in one.found if _holder(finding["place"]) is None)
    count = {"of": 0, "looked": 0, "ready": 0, "with_faults": 0, "needs_work": 0}
    for holder in holder_numbers(piece):
        effects = {finding["effect"] for one in looks for finding in one.found if _holder(finding["place"]) == holder}
        still_open = any(_holder(place) == holder for one in stopping for place in one.open)
        count["of"] += 1
        count["looked"] += "stops" in effects or not still_open
        if "stops" in effects:
            count["needs_work"] += 1
        elif set_proven and not still_open:
            count["with_faults" if set_faults or effects - {"none"} else "ready"] += 1
    return count


def _holder(place: str) -> str | None:
    return parse_place(place).get("holder")
