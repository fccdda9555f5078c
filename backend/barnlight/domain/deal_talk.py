"""Talking points to show the seller: what is wrong, what it does, what it costs to put right, what could not be tried. No offer is in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.checks import applicable
from barnlight.domain.money import show_money
from barnlight.domain.remedies import bundle
from barnlight.domain.report_not_checked import not_checked
from barnlight.domain.report_words import places_words
from barnlight.domain.rounding import fixed
from barnlight.domain.verdict import verdict

EFFECTS = ("stops", "limits", "looks", "none")
NO_CURE = "No repair for this is known."
CLOSING = "This is what could be seen and tried today. A repairer may see it otherwise."


def deal_talk(piece: Mapping, answers: Sequence[Mapping], catalogue: Mapping, own_costs: Sequence[Mapping] = ()) -> dict[str, Any]:
    """{points: [{faults: [{what, where, does}], cure, cost, time}], not_tried: [{why, list: [{title, where}]}], closing}.

    One point for each remedy, and one for each fault without a known cure (its `cost` and `time` are ""), what stops a picture
    first. It takes no deal: neither value nor ceiling nor offer can get into it.
    """
    here = {check["id"]: check for check in applicable(piece, catalogue)}
    kept = [dict(one) for one in answers if one.get("check") in here and one.get("result") and not one.get("deleted")]
    repairs = {one["remedy"]: one for one in bundle(kept, catalogue, own_costs)}
    points = [(_gravest(one["faults"], here), _point(one["faults"], here, catalogue, one)) for one in repairs.values()]
    points += [(_gravest(faults, here), _point(faults, here, catalogue, None)) for faults in _uncured(kept, here)]
    stopping = not_checked(piece, kept, verdict(piece, kept, catalogue), catalogue)["stopping"]
    return {
        "points": [point for _, point in sorted(points, key=lambda one: one[0])],
        "not_tried": stopping["reasons"] if stopping else [],
        "closing": CLOSING,
    }


def talk_text(talk: Mapping, title: str) -> str:
    """The talking points as plain text for a message."""
    lines = [title, ""]
    if talk["points"]:
        lines += ["What I found", *(line for point in talk["points"] for line in _point_lines(point)), ""]
    if talk["not_tried"]:
        lines += ["What could not be tried here", *(f"- {_named(one)} ({why['why'].lower()})" for why in talk["not_tried"] for one in why["list"]), ""]
    return "\n".join([*lines, talk["closing"]])


def _point_lines(point: Mapping) -> list[str]:
    told = [(fault["what"] + (f" ({fault['where']})" if fault["where"] else ""), fault["does"]) for fault in point["faults"]]
    return [*(f"- {what}: {does}" for what, does in told), "  " + " ".join(words for words in (point["cure"], point["cost"], point["time"]) if words)]


def _named(entry: Mapping) -> str:
    return entry["title"] + (f", {entry['where']}" if entry["where"] else "")


def _fault(check: Mapping, id_: str) -> Mapping:
    return next(fault for fault in check["faults"] if fault["id"] == id_)


def _gravest(faults: Sequence[Mapping], checks: Mapping) -> int:
    return min(EFFECTS.index(_fault(checks[one["check"]], one["fault"])["picture"]) for one in faults)


def _uncured(answers: Sequence[Mapping], checks: Mapping) -> list[list[dict[str, str]]]:
    """Faults that no remedy is known for, one list for each kind of fault, with all its places."""
    found: dict[tuple[str, str], list[dict[str, str]]] = {}
    for answer in answers:
        for fault in checks[answer["check"]]["faults"] if answer["result"]["outcome"] == "faulty" else ():
            if fault["id"] in (answer["result"].get("faults") or ()) and fault["remedy"] is None:
                found.setdefault((answer["check"], fault["id"]), []).append({"check": answer["check"], "place": answer.get("place") or "", "fault": fault["id"]})
    return list(found.values())


def _point(faults: Sequence[Mapping], checks: Mapping, catalogue: Mapping, repair: Mapping | None) -> dict[str, Any]:
    kinds = list(dict.fromkeys((one["check"], one["fault"]) for one in faults))
    told = []
    for check, id_ in kinds:
        fault = _fault(checks[check], id_)
        places = [one["place"] for one in faults if (one["check"], one["fault"]) == (check, id_)]
        told.append({"what": fault["title"], "where": places_words(places, catalogue), "does": fault["effect_words"]})
    if repair is None:
        return {"faults": told, "cure": NO_CURE, "cost": "", "time": ""}
    return {"faults": told, "cure": f"To put it right: {repair['title']}.", "cost": _cost_words(repair), "time": _weeks_words(repair["weeks"])}


def _cost_words(repair: Mapping) -> str:
    cost = repair["cost"]
    low, likely, high = (show_money({"minor": cost[f"{name}_minor"], "currency": cost["currency"]}) for name in ("low", "likely", "high"))
    span = f"About {likely}." if low == high else f"About {likely}, between {low} and {high}."
    return f"{span} This figure is an example, not a quote." if repair["example"] else span


def _weeks_words(weeks: Mapping) -> str:
    low, high = (_number(weeks[end]) for end in ("low", "high"))
    if high == "0":
        return ""
    return f"It takes {'about ' + high if low == high else f'{low} to {high}'} {'week' if high == '1' else 'weeks'}."


def _number(weeks: float) -> str:
    """"3", "2.5"."""
    text = fixed(weeks, 1)
    return text.removesuffix(".0")
