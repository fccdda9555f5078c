"""Finds the one session or seller that a person means by the begin of its id or by its name."""

from __future__ import annotations

from sqlalchemy.orm import Session

from barnlight.errors import BadInput, NotFound
from barnlight.store import records

NAMED_BY = {"session": "title", "seller": "name"}
LEAST_OF_ID = 4
MOST_LISTED = 20


def find(db: Session, space: str, kind: str, typed: str) -> str:
    """The id. Raises NotFound or BadInput, which lists those it may have meant."""
    every = [records.plain(record) for record in records.load(db, space, kind)]
    if any(record["id"] == typed for record in every):
        return typed
    named = [record for record in every if str(record.get(NAMED_BY[kind], "")).casefold() == typed.casefold()]
    found = named or [record for record in every if len(typed) >= LEAST_OF_ID and record["id"].startswith(typed.lower())]
    if len(found) == 1:
        return found[0]["id"]
    some = found or [record for record in every if not record.get("deleted")]
    listed = "; ".join(f"{record['id'][:8]} {record.get(NAMED_BY[kind], '')}".strip() for record in some[:MOST_LISTED])
    if found:
        raise BadInput(f"More than one {kind} is called {typed!r}.", hint=f"Name it by its id: {listed}.")
    raise NotFound(f"There is no {kind} called {typed!r} here.", hint=f"There are: {listed}." if listed else None)
