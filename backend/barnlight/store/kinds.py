"""The kinds of record and which of their fields name a parent, as the catalogue's records.json declares them."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

RECORDS = Path(__file__).parent.parent / "catalogue" / "records.json"


@cache
def declared() -> dict[str, Any]:
    """The whole declaration, read once."""
    return json.loads(RECORDS.read_text(encoding="utf-8"))


def owned_by(kind: str) -> list[str]:
    """The parent fields whose record this one belongs to, and goes with; a sale does not belong to its seller."""
    return [field for field in parent_fields(kind) if (kind, field) != ("session", "seller")]


def parent_fields(kind: str) -> list[str]:
    """The fields of `kind` that hold the id of another record; none for a kind not known here."""
    return declared()["kinds"].get(kind, {}).get("parents", [])
