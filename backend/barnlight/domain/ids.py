"""Names two people reach on their own: record ids that are the hash of what they are about, and canonical place text."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping

_AXIS = re.compile(r"[a-z]+")
_VALUE = re.compile(r"[a-z0-9_./]+")


def answer_id(visit: str, check: str, place: str) -> str:
    """The id of the one answer to `check` at `place` (canonical text) in `visit`: 32 lowercase hex digits."""
    return _hashed("answer", visit, check, place)


def reading_id(visit: str, check: str, place: str, reading: str) -> str:
    """The id of the one `reading` of `check` at `place` (canonical text) in `visit`: 32 lowercase hex digits."""
    return _hashed("reading", visit, check, place, reading)


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
