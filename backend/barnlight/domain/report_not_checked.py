"""What a report must say as loudly as its verdict: every look that was not taken, and why."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from barnlight.domain.checks import applicable, is_looked_at, places
from barnlight.domain.ids import parse_place
from barnlight.domain.report_words import counted, places_words, title_of

MOST_PLACES = 4
UNTOUCHED = "not looked at"


def not_checked(piece: Mapping, answers: list[dict], judged: Mapping, catalogue: Mapping) -> dict[str, Any]:
    """{count, of, stopping, others, left_out}: checks not looked at somewhere, apart those that a picture hangs on."""
    checks = applicable(piece, catalogue)
    open_checks = [(check, entry) for check in checks if (entry := _entry(check, piece, answers, catalogue))]
    stopping = [entry for check, entry in open_checks if check["id"] in judged["unlooked"]]
    others = [entry for check, entry in open_checks if check["id"] not in judged["unlooked"]]
    left_out = _left_out(judged, checks, catalogue)
    return {
        "count": len(open_checks),
        "of": len(checks) - len({entry["title"] for entry in left_out if not entry["where"]}),
        "stopping": _by_reason(stopping),
        "others": _by_reason(others),
        "left_out": _by_reason(left_out),
        "elsewhere": _elsewhere(len(others), len(left_out), bool(stopping)),
        "nothing": not open_checks,
    }


def _elsewhere(others: int, left_out: int, named: bool) -> str:
    """What the panel beside the verdict says of the looks that are listed further down; `named`: it names some by itself."""
    looks = counted(others, "other look", "other looks") if named else counted(others, "look", "looks")
    said = (f"{looks} not taken" if others else "", f"{left_out} left out with a reason" if left_out else "")
    return ", ".join(words for words in said if words)


def _by_reason(entries: list[dict[str, str]]) -> dict[str, Any] | None:
    """The same reason is said once, above all it holds for."""
    found: dict[str, list[dict[str, str]]] = {}
    for entry in entries:
        found.setdefault(entry["why"], []).append({"title": entry["title"], "where": entry["where"]})
    return {"reasons": [{"why": why[0].upper() + why[1:], "list": own} for why, own in found.items()]} if found else None


def _entry(check: Mapping, piece: Mapping, answers: list[dict], catalogue: Mapping) -> dict[str, str] | None:
    said = {answer.get("place") or "": answer["result"] for answer in answers if answer.get("check") == check["id"] and answer.get("result")}
    if (said.get("") or {}).get("outcome") == "does_not_apply":
        return None
    whole = said.get("")
    everywhere = places(check, piece)
    # "Good up to" said of the whole piece judges all its places.
    covered = whole is not None and whole["outcome"] == "cannot_tell" and is_looked_at(whole)
    missing = [place for place in everywhere if not covered and not is_looked_at(said.get(place)) and not _does_not_apply(said.get(place))]
    if not missing:
        return None
    reasons = list(dict.fromkeys(_why(said.get(place) or whole, catalogue) for place in missing))
    partly = len(missing) < len([place for place in everywhere if not _does_not_apply(said.get(place))])
    return {"title": check["title"], "where": _where(missing, len(everywhere), catalogue) if partly else "", "why": "; ".join(reasons)}


def _does_not_apply(result: Mapping | None) -> bool:
    return result is not None and result["outcome"] == "does_not_apply"


def _why(result: Mapping | None, catalogue: Mapping) -> str:
    if result is None:
        return UNTOUCHED
    text = result.get("reason_text") or ""
    if result["outcome"] == "cannot_tell":
        return "looked at, could not be judged this way" + (f" ({text})" if text else "")
    if result["outcome"] != "not_checked":
        return UNTOUCHED
    reason = result.get("reason")
    title = "" if reason in (None, "other") else title_of(catalogue["terms"]["not_checked_reasons"], reason).lower()
    return ": ".join(words for words in (title, text) if words) or UNTOUCHED


def _where(missing: list[str], of: int, catalogue: Mapping) -> str:
    if len(missing) > MOST_PLACES and "holder" not in parse_place(missing[0]):
        return f"{len(missing)} of {counted(of, 'place', 'places')}"
    return places_words(missing, catalogue)


def _left_out(judged: Mapping, checks: list[dict], catalogue: Mapping) -> list[dict[str, str]]:
    titles = {check["id"]: check["title"] for check in checks}
    return [
        {"title": titles[one["check"]], "where": places_words([one["place"]], catalogue), "why": one["reason"] or "no reason given"}
        for one in judged["left_out"]
    ]
