"""What is known of a thing for fitting it to others: the facts of a piece from its fields and readings, as a kit keeps them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.lengths import parse_length
from barnlight.domain.uncertainty import figure


def piece_facts(piece: Mapping, readings: Sequence[Mapping], catalogue: Mapping) -> dict[str, Any]:
    """The facts of an inspected piece by the catalogue's `measures`: {fact id: mm, or a term}; what nobody knows is left out.

    Several readings of one fact (five points, ten holders) give their mean. A reading that is no length is passed over.
    """
    facts: dict[str, Any] = {}
    for measure in _measures_of(piece.get("kind"), catalogue):
        value = _field(piece, measure["field"]) if measure["field"] else None
        if value is None:
            name = measure.get("reading_other") if piece.get("kind") == "other" and "reading_other" in measure else measure["reading"]
            found = [mm for one in readings if f"{one.get('check')}#{one.get('reading')}" == name and (mm := _mm(one)) is not None]
            value = sum(found) / len(found) if found else None
        if value is not None:
            facts[measure["id"]] = value
    return facts


def last_readings(readings: Sequence[Mapping]) -> list[Mapping]:
    """Of several looks at one piece, the last reading of each kind at each place, by its moment (`at.ms`); in the order first met."""
    last: dict[tuple, Mapping] = {}
    for one in readings:
        key = (one.get("check"), one.get("reading"), one.get("place") or "")
        if key not in last or _moment(one) >= _moment(last[key]):
            last[key] = one
    return list(last.values())


def missing_facts(kind: str, facts: Mapping, catalogue: Mapping) -> list[dict[str, str]]:
    """The facts of a kind of thing that are not known yet: [{fact, title, hint}], in the order of the catalogue."""
    return [
        {"fact": one["id"], "title": one["title"], "hint": one["hint"]}
        for one in _measures_of(kind, catalogue)
        if facts.get(one["id"]) is None
    ]


def fact_figure(facts: Mapping, fact: str, catalogue: Mapping) -> dict[str, float]:
    """A fact in mm as {value, low, high}: how well it is known without a word about the instrument stands in `measures`."""
    measure = next(one for one in catalogue["measures"] if one["id"] == fact)
    return figure(facts[fact], measure["u_mm"] or 0)


def _moment(reading: Mapping) -> float:
    return (reading.get("at") or {}).get("ms", 0)


def _measures_of(kind: str | None, catalogue: Mapping) -> list[Mapping]:
    return [one for one in catalogue["measures"] if kind in one["kinds"]]


def _field(piece: Mapping, path: str) -> Any:
    value: Any = piece
    for name in path.split("."):
        value = value.get(name) if isinstance(value, Mapping) else None
    return value


def _mm(reading: Mapping) -> float | None:
    typed = reading.get("typed") or {}
    if typed.get("unit") not in ("mm", "in"):
        return None
    try:
        return parse_length(typed["text"], typed["unit"])
    except ValueError:
        return None


def as_thing(piece: Mapping, readings: Sequence[Mapping], catalogue: Mapping) -> dict[str, Any] | None:
    """A piece as `kit_fit` takes it, {id, kind, facts}; None for what has nothing to fit (of loose things only a lens board has)."""
    if piece.get("kind") == "other" and piece.get("type") != "lens_board":
        return None
    return {"id": piece["id"], "kind": piece.get("kind"), "facts": piece_facts(piece, readings, catalogue)}
