"""Says of some bytes whether they are what this server published, and if not, what they say they are."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from typing import Any

from sqlalchemy.orm import Session

from barnlight.domain.ids import report_number
from barnlight.domain.report_words import moment_day
from barnlight.store import evidence
from barnlight.store.evidence import Proof

WHAT = {
    evidence.PAGE: "the page", evidence.ONE_FILE: "the one-file copy", evidence.PDF: "a PDF", evidence.PHOTO: "a photo",
    evidence.SHOWN_PHOTO: "a photo, at the size the report shows it,", evidence.RECORDING: "a recording",
}  # fmt: skip
LOOKS_LIKE_A_HASH = re.compile(rb"(?<![0-9a-f])[0-9a-f]{64}(?![0-9a-f])")
MOST_LOOKED_UP = 200


def proof(db: Session, data: bytes) -> dict[str, Any]:
    """{size, same: {list: [{what, version, number, day, newer}]} or None, names: {version, number} or None} of a file."""
    found = evidence.find(db, hashlib.sha256(data).hexdigest()) if data else []
    same = [_words(one) for one in found if one.what in WHAT]
    return {"size": len(data), "same": {"list": same} if same else None, "names": None if same else _names(db, data)}


def _words(one: Proof) -> dict[str, Any]:
    return {
        "what": WHAT[one.what], "version": one.version, "number": report_number(one.about),
        "day": moment_day({"ms": one.published_ms, "offset_min": 0}), "newer": f"version {one.newest}" if one.newest > one.version else "",
    }  # fmt: skip


def _names(db: Session, data: bytes) -> Mapping[str, Any] | None:
    """The version whose plain data the text of the file names, which any page or copy of it does."""
    for text in list(dict.fromkeys(match.group().decode() for match in LOOKS_LIKE_A_HASH.finditer(data)))[:MOST_LOOKED_UP]:
        for one in evidence.find(db, text):
            if one.what == evidence.SNAPSHOT:
                return {"version": one.version, "number": report_number(one.about)}
    return None
