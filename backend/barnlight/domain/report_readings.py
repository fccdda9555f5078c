"""Readings of a report: as typed, with the instrument, held against a published figure where there is one and it is named."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from barnlight.domain.checks import applicable
from barnlight.domain.lengths import parse_length
from barnlight.domain.report_words import place_words, title_of
from barnlight.domain.rounding import fixed

DEPTH = "holder_depth"
NO_FIGURE = "no published figure here"


def readings_table(piece: Mapping, readings: list[dict], catalogue: Mapping) -> list[dict[str, Any]]:
    """The readings in the order of the catalogue, without the holder depths, which have a table of their own."""
    rows = []
    for check in applicable(piece, catalogue):
        for kind in check["readings"]:
            own = [one for one in readings if one.get("check") == check["id"] and one.get("reading") == kind["id"] and one.get("typed")]
            if not is_depth_of_holder(kind):
                rows += [_row(check, kind, one, piece, catalogue) for one in sorted(own, key=lambda one: one.get("place") or "")]
    return rows


def is_depth_of_holder(kind: Mapping) -> bool:
    """Whether the reading is one point of one side of a holder."""
    return kind["standard"] == DEPTH and "holder" in kind["axes"]


def length_mm(typed: Mapping) -> float | None:
    """What was typed, in mm; None where it is no length."""
    if typed["unit"] not in ("mm", "in"):
        return None
    try:
        return parse_length(typed["text"], typed["unit"])
    except ValueError:
        return None


def typed_words(typed: Mapping) -> str:
    """The figure exactly as it was typed, with its unit where it has one."""
    unit = {"count": "", "text": "", "celsius": "°C"}.get(typed["unit"], typed["unit"])
    return f"{typed['text'].strip()}\u00a0{unit}" if unit and not typed["text"].strip().endswith(unit) else typed["text"].strip()


def instrument_words(reading: Mapping, catalogue: Mapping) -> str:
    """"caliper, read to 0.05 mm"; "instrument not noted" where nobody said."""
    instrument = reading.get("instrument") or {}
    title = title_of(catalogue["terms"]["instruments"], instrument.get("kind"), instrument.get("kind") or "")
    if not title:
        return "instrument not noted"
    step = instrument.get("resolution_mm")
    return title.lower() + (f", read to {step:g}\u00a0mm" if step else "")


def _row(check: Mapping, kind: Mapping, reading: Mapping, piece: Mapping, catalogue: Mapping) -> dict[str, Any]:
    standard = _standard(kind, piece, length_mm(reading["typed"]), catalogue)
    return {
        "what": f"{check['title']}: {kind['title'][0].lower()}{kind['title'][1:]}",
        "where": place_words(reading.get("place") or "", catalogue),
        "figure": typed_words(reading["typed"]),
        "instrument": instrument_words(reading, catalogue),
        "standard": standard and standard[0],
        "standard_words": standard[1] if standard else NO_FIGURE if kind["standard"] else "",
    }


def _standard(kind: Mapping, piece: Mapping, mm: float | None, catalogue: Mapping) -> tuple[dict, str] | None:
    """The published figure for this reading of this piece, and how the reading stands to it."""
    fitting = [one for one in catalogue["standards"] if one["quantity"] == kind["standard"] and one["applies"].get("format") in (None, piece.get("format"))]
    if mm is None or not fitting:
        return None
    nearest = min(fitting, key=lambda one: abs(one["value"] - mm))
    named = {name: nearest[name] for name in ("as_printed", "source", "sureness")}
    return named, _stands(nearest, mm)


def _stands(standard: Mapping, mm: float) -> str:
    quantity, value, tolerance = standard["quantity"], standard["value"], standard["tolerance"]
    if standard["unit"] != "mm":
        return "for comparison"
    if quantity.endswith("_max"):
        return "within" if mm <= value else f"{fixed(mm - value, 2)}\u00a0mm more"
    if quantity.endswith("_min"):
        return "within" if mm >= value else f"{fixed(value - mm, 2)}\u00a0mm less"
    if quantity == "board_hole":
        size = standard["applies"]["shutter_size"]
        return f"nearest to size {size}" if abs(mm - value) <= 1 else "no usual shutter size"
    return "for comparison" if tolerance is None or quantity == DEPTH else "within" if abs(mm - value) <= tolerance else "beyond"
