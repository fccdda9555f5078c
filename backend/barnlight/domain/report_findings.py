"""What was found, check by check: cards for what is worth a word, one line for all that was in order as far as seen."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from typing import Any

from barnlight.domain.checks import applicable, places
from barnlight.domain.report_photos import gallery
from barnlight.domain.report_words import places_words, title_of

SEEN = ("in_order", "worn", "faulty", "cannot_tell")
# "None" is never said: what a lamp or the dark did not show may still be there.
IN_ORDER = {"torch": "no fault seen with the lamp used", "dark": "no light seen in the dark that could be had", None: "in order as far as seen"}

HIDDEN = "Left out by the sender: what was noted, measured and photographed here. The verdict and the faults count it all the same."


def groups(piece: Mapping, answers: list[dict], pictures: list[dict], hidden: Collection[str], catalogue: Mapping) -> list[dict[str, Any]]:
    """The groups of the catalogue that have findings or photos, in their order; of a hidden one the faults alone, without a word or photo."""
    checks = applicable(piece, catalogue)
    by_group = [(group, [check for check in checks if check["group"] == group["id"]]) for group in catalogue["groups"]]
    made = [(_hidden_group if group["id"] in hidden else _group)(group, own, piece, answers, pictures, catalogue) for group, own in by_group if own]
    return [group for group in made if group["cards"] or group["fine"] or group["hidden"]]


def wrong(judged: Mapping, catalogue: Mapping) -> list[dict[str, Any]]:
    """The faults by what they do to a picture, the gravest first; one entry a check."""
    by_id = {check["id"]: check for check in catalogue["checks"]}
    terms = {one["id"]: one for one in catalogue["terms"]["effects"]}
    found = []
    for effect in ("stops", "limits", "looks"):
        items = [_wrong_item(check, own, by_id[check], catalogue) for check, own in _by_check(judged["faults"][effect]).items()]
        if items:
            found.append({"effect": effect, "effect_title": terms[effect]["title"], "effect_hint": terms[effect]["hint"], "items": items})
    return found


def anchor(check: str) -> str:
    """The name by which a finding can be reached within a piece."""
    return check.replace(".", "-").replace("_", "-")


def fault_words(check: Mapping, ids: Iterable[str]) -> list[dict[str, str]]:
    """The named faults with what each does, in the order of the catalogue."""
    named = set(ids)
    return [{"fault": fault["title"], "does": fault["effect_words"]} for fault in check["faults"] if fault["id"] in named]


def _by_check(findings: list[dict]) -> dict[str, list[dict]]:
    found: dict[str, list[dict]] = {}
    for finding in findings:
        found.setdefault(finding["check"], []).append(finding)
    return found


def _wrong_item(check_id: str, findings: list[dict], check: Mapping, catalogue: Mapping) -> dict[str, Any]:
    named = fault_words(check, [fault for finding in findings for fault in finding["faults"]])
    return {
        "check_title": check["title"],
        "link": anchor(check_id),
        "where": places_words([finding["place"] for finding in findings], catalogue),
        "faults": named or [{"fault": "Fault not named", "does": ""}],
    }


def _group(group: Mapping, checks: list[dict], piece: Mapping, answers: list[dict], pictures: list[dict], catalogue: Mapping) -> dict[str, Any]:
    cards: list[dict] = []
    fine: list[dict] = []
    for check in checks:
        entries = _entries(check, piece, answers, catalogue)
        own = [picture for picture in pictures if picture["check"] == check["id"]]
        if own or any(not entry["plain"] for entry in entries):
            cards.append({"card_title": check["title"], "anchor": anchor(check["id"]), "entries": entries, "pictures": gallery(own)})
        else:
            fine += [{"fine_title": check["title"], "where": entry["where"], "words": _fine_words(entry)} for entry in entries]
    said = list(dict.fromkeys(one["words"] for one in fine))
    by_words = [{"fine_words": words, "list": [one for one in fine if one["words"] == words]} for words in said]
    return {"group_title": group["title"], "cards": cards, "fine": {"said": by_words} if fine else None, "hidden": ""}


def _hidden_group(group: Mapping, checks: list[dict], piece: Mapping, answers: list[dict], pictures: list[dict], catalogue: Mapping) -> dict[str, Any]:
    faulty = [{**answer, "remark": "", "result": {**answer["result"], "reason_text": ""}} for answer in answers if answer["result"]["outcome"] == "faulty"]
    return {**_group(group, checks, piece, faulty, [], catalogue), "hidden": HIDDEN}


def _fine_words(entry: Mapping) -> str:
    return entry["outcome_words"] + (f" (looked at on {entry['seen_on']})" if entry["seen_on"] else "")


def _entries(check: Mapping, piece: Mapping, answers: list[dict], catalogue: Mapping) -> list[dict[str, Any]]:
    """Equal answers at several places are one entry."""
    everywhere = places(check, piece)
    merged: dict[tuple, list[str]] = {}
    for answer in answers:
        result = answer.get("result")
        if answer.get("check") == check["id"] and result and result["outcome"] in SEEN:
            key = (
                result["outcome"], tuple(result.get("faults") or ()), (result.get("good_up_to") or {}).get("text", ""),
                result.get("reason_text") or "", answer.get("remark") or "", answer.get("seen_on") or "",
            )  # fmt: skip
            merged.setdefault(key, []).append(answer.get("place") or "")
    return [_entry(check, *key, places_words(sorted(own, key=_in_order_of(everywhere)), catalogue, everywhere), catalogue) for key, own in merged.items()]


def _entry(
    check: Mapping, outcome: str, faults: tuple[str, ...], good_up_to: str, reason: str, remark: str, seen_on: str, where: str, catalogue: Mapping
) -> dict[str, Any]:
    words = title_of(catalogue["terms"]["outcomes"], outcome)
    if outcome == "in_order":
        words = IN_ORDER[check.get("lit")]
    elif outcome == "cannot_tell":
        words = f"good up to {good_up_to}; beyond that not judged" if good_up_to else "looked at, could not be judged this way"
    named = fault_words(check, faults)
    return {
        "outcome": outcome,
        "outcome_words": words[0].upper() + words[1:],
        "where": where,
        "faults": named if outcome == "faulty" else [],
        "remark": remark,
        "why": reason,
        "seen_on": seen_on,
        "plain": outcome == "in_order" and not remark,
    }


def _in_order_of(everywhere: list[str]) -> Callable[[str], tuple]:
    """As the places of a check are listed (speeds from slow to fast, a bellows from short to full); others after them."""
    at = {place: number for number, place in enumerate(everywhere)}
    return lambda place: (at.get(place, len(at)), _natural(place))


def _natural(place: str) -> tuple[tuple[int, str], ...]:
    """Holder 2 comes before holder 10."""
    return tuple((int(part), "") if part.isdecimal() else (-1, part) for part in place.replace("=", ";").split(";"))
