"""What the faults seen call for: each remedy once, a smaller one not at all when a larger one does its work too."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from barnlight.domain.ids import parse_place


class _Call(NamedTuple):
    remedy: Mapping
    check: str
    place: str
    fault: str


def bundle(answers: Iterable[Mapping], catalogue: Mapping, own_costs: Sequence[Mapping] = ()) -> list[dict[str, Any]]:
    """The remedies that the faulty answers call for, in the order of the catalogue.

    [{remedy, title, who, weeks: {low, high}, cost: {currency, low_minor, likely_minor, high_minor} for all `times` together,
    example: whether the cost is an example, times: holders or parts it is charged for, faults: [{check, place, fault}]}].
    `own_costs`: the person's remedy_cost records, which stand in for the examples.
    """
    calls = _calls(answers, catalogue)
    settled = [call._replace(remedy=_covered_by(call, calls) or call.remedy) for call in calls]
    bundled = []
    for remedy in catalogue["remedies"]:
        own = [call for call in settled if call.remedy["id"] == remedy["id"]]
        if not own:
            continue
        times = len({_unit(remedy, call.place) for call in own})
        figure = next((one for one in own_costs if one.get("remedy") == remedy["id"] and one.get("cost") and not one.get("deleted")), None)
        bundled.append({
            "remedy": remedy["id"],
            "title": remedy["title"],
            "who": remedy["who"],
            "weeks": (figure or {}).get("weeks") or remedy["weeks"],
            "cost": _multiplied(figure["cost"] if figure else remedy["cost"], times),
            "example": False if figure else remedy["example"],
            "times": times,
            "faults": [{"check": call.check, "place": call.place, "fault": call.fault} for call in own],
        })  # fmt: skip
    return bundled


def _calls(answers: Iterable[Mapping], catalogue: Mapping) -> list[_Call]:
    checks = {check["id"]: check for check in catalogue["checks"]}
    remedies = {remedy["id"]: remedy for remedy in catalogue["remedies"]}
    calls = []
    for answer in answers:
        result, check = answer.get("result"), checks.get(answer.get("check"))
        if check is None or not result or answer.get("deleted") or result["outcome"] != "faulty":
            continue
        for fault in check["faults"]:
            if fault["id"] in (result.get("faults") or ()) and fault["remedy"] in remedies:
                calls.append(_Call(remedies[fault["remedy"]], check["id"], answer.get("place") or "", fault["id"]))
    return calls


def _covered_by(call: _Call, calls: list[_Call]) -> Mapping | None:
    """The larger remedy, called for at the same holder or for the whole piece, that does this one's work too."""

    def reaches(other: _Call) -> bool:
        return other.remedy["charged_per"] == "piece" or _holder(other.place) == _holder(call.place)

    larger = [other.remedy for other in calls if call.remedy["id"] in other.remedy["covers"] and reaches(other)]
    return next((one for one in larger if not any(one["id"] in other["covers"] for other in larger)), None)


def _unit(remedy: Mapping, place: str) -> str:
    """What one charge is for: the piece, a holder, or the one place."""
    if remedy["charged_per"] == "piece":
        return ""
    return _holder(place) if remedy["charged_per"] == "holder" else place


def _holder(place: str) -> str:
    return parse_place(place).get("holder", "")


def _multiplied(cost: Mapping, times: int) -> dict[str, Any]:
    return {"currency": cost["currency"], **{name: cost[name] * times for name in ("low_minor", "likely_minor", "high_minor")}}
