"""Gives changes out by their number, a bounded page at a time."""

from __future__ import annotations

from typing import Any

from barnlight.store import changes, spaces
from barnlight.store.engine import Database

MOST = 500


def pull(database: Database, space: str, after: int, limit: int = MOST) -> dict[str, Any]:
    """The changes above `after`: {epoch, changes, next, more}; `next` is the number to ask for next time."""
    with database.read() as db:
        found = changes.since(db, space, after, limit + 1)
        page = found[:limit]
        epoch = spaces.get(db, space).epoch
    return {"epoch": epoch, "changes": page, "next": page[-1]["number"] if page else after, "more": len(found) > limit}
