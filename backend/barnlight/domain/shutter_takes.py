"""Which firing of which recording a take means, and what it reads: the machine's figure, or that of marks a person set."""

from __future__ import annotations

from typing import Any

from barnlight.domain.shutter_timing import measure_marks

NOTHING = dict.fromkeys(("open_s", "close_s", "open_time_s", "low_s", "high_s", "other_s"))
# What casts doubt on the mark itself is no better for being heard three times.
DOUBTS_OF_ALL = ("far_from_mark", "several_firings_inside")


def read_takes(takes: list[dict], measured: dict[str, dict], moved: dict[str, dict], catalogue: dict) -> list[dict[str, Any]]:
    """The takes in their order, each with its reading, in the form that `shutter_table.table` reads.

    `takes`: [{id, recording, intent: {marked, cold, ordinal}}]. `measured`: take id -> measurement of its recording at its
    marked speed; a take without one is left out. `moved`: take id -> {open_s, close_s}, the marks a person set. Takes of one
    recording are its firings in order of `ordinal`; a take alone in its recording is the recording as a whole. Times are in
    seconds, limits are 95 %, all None where nothing could be read.
    """
    constants = catalogue["shutter_timing"]
    found = []
    for take in takes:
        measurement = measured.get(take["id"])
        if measurement is None:
            continue
        together = sorted((one for one in takes if one["recording"] == take["recording"]), key=lambda one: (_ordinal(one), one["id"]))
        marks = moved.get(take["id"])
        if marks:
            reading = measure_marks(marks["open_s"], marks["close_s"], constants)
        else:
            reading = _firing(measurement, together.index(take), len(together), constants)
        intent = take["intent"]
        found.append({"id": take["id"], "marked": intent["marked"], "cold": intent["cold"], "ordinal": _ordinal(take), "reading": reading})
    return found


def _ordinal(take: dict) -> int:
    return take["intent"].get("ordinal", 1)


def _firing(measurement: dict, index: int, of: int, constants: dict) -> dict[str, Any]:
    firings, common = measurement["firings"], measurement["common"]
    whole = {name: measurement[name] for name in ("verdict", "reason", "open_time_s", "low_s", "high_s", "other_s")}
    if of == 1:
        lead = min(firings, key=lambda one: abs(one["open_time_s"] - measurement["open_time_s"]), default={})
        return NOTHING | lead | whole | {"moved": False}
    if index >= len(firings):
        return NOTHING | {"verdict": "unusable", "reason": measurement["reason"] or "no_pair_stands_out", "moved": False}
    if measurement["reason"] in DOUBTS_OF_ALL:
        doubt = {"verdict": "doubtful", "reason": measurement["reason"], "other_s": measurement["other_s"]}
        return firings[index] | doubt | {"moved": False}
    # Firings that agree are clear together, even where one alone would be doubtful.
    agreed = measurement["verdict"] == "clear" and common is not None and common["share"] >= constants["common"]["clear_share"]
    return firings[index] | ({"verdict": "clear", "reason": None, "other_s": None} if agreed else {}) | {"moved": False}
