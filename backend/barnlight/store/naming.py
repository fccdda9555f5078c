"""Finds the one session or seller that a person means by the begin of its id or by its name."""

from __future__ import annotations

from sqlalchemy.orm import Session

from barnlight.errors import BadInput, NotFound
from barnlight.store import records

NAMED_BY = {"session": ("title", "place"), "seller": ("name",)}
LEAST_OF_ID = 4
MOST_LISTED = 20


def find(db: Session, space: str, kind: str, typed: str) -> str:
    """The id. Raises NotFound or BadInput, which lists those it may have meant."""
    every = [records.plain(record) for record in records.load(db, space, kind)]
    if any(record["id"] == typed for record in every):
        return typed
    named = [record for record in every if typed.casefold() in (name.casefold() for name in _names(record))]
    found = named or [record for record in every if len(typed) >= LEAST_OF_ID and record["id"].startswith(typed.lower())]
    if len(found) == 1:
        return found[0]["id"]
    some = found or [record for record in every if not record.get("deleted")]
    listed = "; ".join(" ".join([record["id"][:8], *_told(record)]) for record in some[:MOST_LISTED])
    if found:
        raise BadInput(f"More than one {kind} is called {typed!r}.", hint=f"Name it by its id: {listed}.")
    raise NotFound(f"There is no {kind} called {typed!r} here.", hint=f"There are: {listed}." if listed else None)


def _names(record: records.Rec) -> list[str]:
    return [name for field in NAMED_BY[record["kind"]] if (name := str(record.get(field) or ""))]


def _told(record: records.Rec) -> list[str]:
    """Its first name and, for a session, its day: most are never given a title."""
    return [*_names(record)[:1], *([record["day"]] if record.get("day") else [])]
