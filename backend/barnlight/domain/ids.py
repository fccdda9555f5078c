"""Names two people reach on their own: record ids that are the hash of what they are about, and canonical place text."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping

_AXIS = re.compile(r"[a-z]+")
# Source: the alphabet of 32 by D. Crockford (from memory), which has no I, L, O and U.
NUMBER_LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
_VALUE = re.compile(r"[a-z0-9_./]+")


def answer_id(visit: str, check: str, place: str) -> str:
    """The id of the one answer to `check` at `place` (canonical text) in `visit`: 32 lowercase hex digits."""
    return _hashed("answer", visit, check, place)


def reading_id(visit: str, check: str, place: str, reading: str) -> str:
    """The id of the one `reading` of `check` at `place` (canonical text) in `visit`: 32 lowercase hex digits."""
    return _hashed("reading", visit, check, place, reading)


def money_habits_id() -> str:
    """The id of the one record of how the person reckons: phones that begin it apart meet in it."""
    return _hashed("money_habits")


def deal_id(session: str, piece: str) -> str:
    """The id of the one deal about a piece at a session; no piece is the whole lot, no session is "": 32 lowercase hex digits."""
    return _hashed("deal", session, piece)


def inquiry_id(session: str, piece: str) -> str:
    """The id of the one inquiry about a piece at a listing; no session is "": 32 lowercase hex digits."""
    return _hashed("inquiry", session, piece)


def remedy_cost_id(remedy: str) -> str:
    """The id of the book's own figure for a remedy: 32 lowercase hex digits."""
    return _hashed("remedy_cost", remedy)


def report_number(about: str) -> str:
    """The number of all reports about one session or piece, "K7QF-2M9D": 40 bits, for a card to be photographed with the piece.

    It is known before there is a report. The letters leave out those that are mistaken for figures.
    """
    bits = int(hashlib.sha256(f"report\n{about}".encode()).hexdigest()[:10], 16)
    text = "".join(NUMBER_LETTERS[bits >> shift & 31] for shift in range(35, -5, -5))
    return f"{text[:4]}-{text[4:]}"


def place_text(axes: Mapping[str, object]) -> str:
    """Axes as canonical text, sorted by name: {"side": "a", "holder": 3} is "holder=3;side=a"; no axes is "".

    Raises ValueError for a name or value that canonical text cannot hold.
    """
    for name, value in axes.items():
        if not _AXIS.fullmatch(name) or not _VALUE.fullmatch(str(value)):
            raise ValueError(f"not a place: {name}={value}")
    return ";".join(f"{name}={axes[name]}" for name in sorted(axes))


def parse_place(text: str) -> dict[str, str]:
    """The axes of canonical place text. Raises ValueError if the text is not canonical."""
    axes = dict(part.partition("=")[::2] for part in text.split(";")) if text else {}
    if place_text(axes) != text:
        raise ValueError(f"not a canonical place: {text}")
    return axes


def _hashed(*parts: str) -> str:
    """The first 128 bits of SHA-256 over the parts, one a line: no part holds a line end, so no two lists meet."""
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()[:32]
