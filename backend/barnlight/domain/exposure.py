"""Marked speeds and what they stand for: a mark's text, its exact time, errors in stops and the bands they fall in."""

from __future__ import annotations

import math
import re

# A whole number of seconds, a fraction, or a decimal with point or comma; an s or a double stroke may follow.
_MARK = re.compile(r"(?:(?P<top>[0-9]{1,4})\s*/\s*(?P<bottom>[0-9]{1,5})|(?P<plain>[0-9]{1,4}(?:[.,][0-9]{1,6})?))\s*(?:s|sec|″|\")?")
LONGEST_S = 3600
# Ten thousandth of a stop: a limit of 1/3 stop includes a time that a person computed as +26 %.
EDGE_STOPS = 1e-4


def parse_mark(text: str) -> float | None:
    """The time a mark says, in seconds ("1/50" is 0.02, "2s" is 2); None for B, T and what is no time."""
    match = _MARK.fullmatch(text.strip().lower())
    if match is None:
        return None
    if match["plain"]:
        seconds = float(match["plain"].replace(",", "."))
    else:
        seconds = int(match["top"]) / int(match["bottom"]) if int(match["bottom"]) else 0.0
    return seconds if 0 < seconds <= LONGEST_S else None


def nominal_seconds(text: str, series: dict | None) -> float | None:
    """The exact time a mark stands for in its series (an entry of the catalogue's `series`): 1/125 is 1/128 s in the current one.

    A mark that the series does not have stands for itself; it is never moved to another mark.
    """
    said = parse_mark(text)
    for mark in series["marks"] if series and said is not None else ():
        if parse_mark(mark["text"]) == said:
            return mark["nominal"]["num"] / mark["nominal"]["den"]
    return said


def error_stops(measured_s: float, nominal_s: float) -> float:
    """How much longer than nominal, in stops; shorter is negative."""
    return math.log2(measured_s / nominal_s)


def is_judged(marked_s: float, bands: dict) -> bool:
    """Whether sound can judge this marked speed: 1/125 and slower; a faster mark gets an indication only."""
    return marked_s >= bands["judged_from_s"] * (1 - 1e-9)


def band(stops: float, marked_s: float, bands: dict) -> str:
    """"fine", "usable" or "needs_service" by the size of the error in stops; "indication_only" where sound cannot judge."""
    if not is_judged(marked_s, bands):
        return "indication_only"
    if abs(stops) <= bands["fine_stops"] + EDGE_STOPS:
        return "fine"
    return "usable" if abs(stops) <= bands["usable_stops"] + EDGE_STOPS else "needs_service"
