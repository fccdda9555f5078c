"""Which checks a piece calls for, where each is looked at, and in which order the minutes are best spent.

A piece and answers are plain data, in which a field that nobody has filled in yet is missing.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from barnlight.domain.ids import place_text

SHORT_PASS_S = 300

# How often a fault is met and how dear it is, as figures for the order (trade notes 3: judgement, no source).
CHANCE = {"rare": 0.05, "sometimes": 0.2, "often": 0.5}
_COST = {"low": 1, "medium": 3, "high": 10}

_CORNERS = ["top_left", "top_right", "bottom_left", "bottom_right"]
_FIXED = {"side": ["a", "b"], "extension": ["short", "middle", "full"], "corner": _CORNERS, "point": ["middle", *_CORNERS]}
_PLACE_VALUE = re.compile(r"[a-z0-9_./]+")


def applicable(piece: Mapping, catalogue: Mapping) -> list[dict]:
    """The checks a piece calls for, in the order of the catalogue.

    A type nobody has named yet calls for the checks of every type: what may be there must be looked at or left out with
    a reason. A check for some kinds of shutter waits until the kind is known.
    """
    kind, type_, shutter = piece.get("kind"), piece.get("type"), piece.get("shutter_kind")

    def fits(check: Mapping) -> bool:
        if kind not in check["kinds"] or (type_ and check["types"] and type_ not in check["types"]):
            return False
        return "shutter_kinds" not in check or shutter in check["shutter_kinds"]

    return [check for check in catalogue["checks"] if fits(check)]


def places(check: Mapping, piece: Mapping) -> list[str]:
    """Every place a check is looked at, as canonical place text: sides of holders, lengths, marked speeds; [""] is the whole piece.

    An axis whose values nobody knows yet (a shutter without its list of speeds) falls away.
    """
    all_axes: list[dict[str, str]] = [{}]
    for axis in check.get("axes") or ():
        if values := _values(axis, piece):
            all_axes = [{**axes, axis: value} for axes in all_axes for value in values]
    return [place_text(axes) for axes in all_axes]


def holder_numbers(piece: Mapping) -> list[str]:
    """The holders of a set as places name them: as they are numbered, where every number can stand in a place, else 1, 2, 3."""
    holders = piece.get("holders") or {}
    count = holders.get("count", 1)
    own = [number.strip().lower() for number in (holders.get("numbers") or [])[:count]]
    usable = len(own) == count == len(set(own)) and all(_PLACE_VALUE.fullmatch(number) for number in own)
    return own if usable else [str(number + 1) for number in range(count)]


def speed_value(mark: Mapping) -> str | None:
    """A marked speed as places name it: "1/50"; None for B, T and what cannot stand in a place."""
    value = mark["text"].lower().replace(" ", "").replace(",", ".")
    return value if mark["seconds"] is not None and _PLACE_VALUE.fullmatch(value) else None


def short_pass(checks: Sequence[dict], budget_s: float = SHORT_PASS_S) -> list[dict]:
    """The order worth taking within the budget, in seconds: what comes before any score, then chance times cost by second."""
    taken = []
    for check in ranked(checks):
        if check["seconds"] <= budget_s:
            budget_s -= check["seconds"]
            taken.append(check)
    return taken


def full_pass(checks: Sequence[dict]) -> list[dict]:
    """The short pass, then all the rest in the order of the catalogue, which follows the hands over the piece."""
    short = short_pass(checks)
    taken = {check["id"] for check in short}
    return short + [check for check in checks if check["id"] not in taken]


def progress(piece: Mapping, answers: Iterable[Mapping], catalogue: Mapping, which: str) -> dict[str, int]:
    """How far a "short" or "full" pass is: {done: checks answered at all their places, of, left_s: about how many seconds}."""
    checks = applicable(piece, catalogue)
    order = short_pass(checks) if which == "short" else full_pass(checks)
    answered = _answered(answers)
    done, left_s = 0, 0.0
    for check in order:
        everywhere = places(check, piece)
        still_open = sum((check["id"], place) not in answered for place in everywhere)
        holders = len(holder_numbers(piece)) if "holder" in check["axes"] else 1
        done += still_open == 0
        left_s += (check["seconds"] * holders * still_open) / len(everywhere)
    return {"done": done, "of": len(order), "left_s": math.ceil(left_s)}


def next_look(piece: Mapping, answers: Iterable[Mapping], catalogue: Mapping) -> dict | None:
    """The most useful check that still has a place without an answer; None when all are answered."""
    answered = _answered(answers)
    for check in ranked(applicable(piece, catalogue)):
        if any((check["id"], place) not in answered for place in places(check, piece)):
            return check
    return None


def is_looked_at(result: Mapping | None) -> bool:
    """Whether this outcome judged the thing. "Cannot tell" did only if it says up to which speed it is good."""
    if not result:
        return False
    if result["outcome"] == "cannot_tell":
        return (result.get("good_up_to") or {}).get("seconds") is not None
    return result["outcome"] in ("in_order", "worn", "faulty")


def ranked(checks: Iterable[dict]) -> list[dict]:
    """Checks by rank before any score, then by score; equal ones stay in the order of the catalogue."""

    def order(check: Mapping) -> tuple[float, float]:
        first = math.inf if check["first"] is None else check["first"]
        return first, -(CHANCE[check["chance"]] * _COST[check["cost"]]) / check["seconds"]

    return sorted(checks, key=order)


def _values(axis: str, piece: Mapping) -> list[str]:
    if axis == "holder":
        return holder_numbers(piece)
    if axis == "speed":
        marks = (piece.get("speeds") or {}).get("marks") or []
        return list(dict.fromkeys(value for mark in marks if (value := speed_value(mark)) is not None))
    return _FIXED.get(axis, [])


def _answered(answers: Iterable[Mapping]) -> set[tuple[Any, Any]]:
    return {(answer.get("check"), answer.get("place")) for answer in answers if answer.get("result") and not answer.get("deleted")}
