"""Lengths as read off a tool: typed in millimetres or inches, with comma, point or fraction; questioned when they cannot be."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from barnlight.domain.rounding import fixed

MM_PER_INCH = 25.4
"""Millimetres in an inch, exactly (international inch, 1959)."""

_LONGEST_MM = 100_000
_NOT_A_LENGTH = "Type a length, as in 5.0 or 1 1/4."
_NEGATIVE = "A length has no minus before it: type it as in 5.0."
_SIGNS = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
# Either a decimal number, or a fraction that a whole number may stand before.
_TYPED = re.compile(
    r"""(?:([0-9]{1,6}(?:[.,][0-9]{1,6})?)|(?:([0-9]{1,6})(?:\s+|-))?([0-9]{1,4})\s*/\s*([0-9]{1,4}))\s*(mm|in|inch|inches|"|″|”)?"""
)


def parse_length(text: str, unit: str) -> float:
    """What was typed, in mm; a unit typed behind the figure counts before `unit` ("mm" or "in").

    Raises ValueError with a message for the person.
    """
    plain = re.sub("[¼½¾⅛⅜⅝⅞]", lambda sign: f" {_SIGNS[sign[0]]}", text.strip().lower()).strip()
    typed = _TYPED.fullmatch(plain)
    if not typed:
        raise ValueError(_NEGATIVE if re.match(r"[-−–]\s*[0-9]", plain) else _NOT_A_LENGTH)
    decimal, whole, top, bottom, suffix = typed.groups()
    if bottom is not None and int(bottom) == 0:
        raise ValueError(_NOT_A_LENGTH)
    figure = float(decimal.replace(",", ".")) if decimal is not None else int(whole or 0) + int(top) / int(bottom)
    in_inches = suffix != "mm" if suffix else unit == "in"
    mm = figure * MM_PER_INCH if in_inches else figure
    if mm > _LONGEST_MM:
        raise ValueError("That is longer than any camera; check the figure.")
    return mm


def plausible(reading: Mapping, mm: float) -> dict[str, Any] | None:
    """None where a reading of this kind may well be `mm`; else {message, likely_unit?}: what to ask, and the unit they may have meant."""
    span = reading.get("plausible")
    if not span or _within(mm, span):
        return None
    usual = f"usual is {_bare(span['low'])} to {_bare(span['high'])} mm"
    if _within(mm * MM_PER_INCH, span):
        return {"message": f"{show_length(mm, 'mm')} is very small here ({usual}). Was it in inches?", "likely_unit": "in"}
    if _within(mm / MM_PER_INCH, span):
        return {"message": f"{show_length(mm, 'in')} is very large here ({usual}). Was it in millimetres?", "likely_unit": "mm"}
    return {"message": f"{show_length(mm, 'mm')} is unusual here ({usual}). Read it once more."}


def show_length(mm: float, unit: str) -> str:
    """A length as text: 5.00 mm, 127.0 mm, 0.197 in; as many decimals as a good tool shows at that size."""
    size = abs(mm)
    digits = 2 if size < 20 else 1 if size < 200 else 0
    return f"{fixed(mm / MM_PER_INCH, digits + 1)} in" if unit == "in" else f"{fixed(mm, digits)} mm"


def _within(mm: float, span: Mapping) -> bool:
    return span["low"] <= mm <= span["high"]


def _bare(limit_mm: float) -> str:
    """A limit of the catalogue as it is written there: 2, not 2.0."""
    return f"{limit_mm:g}"
