"""Merges, at start, the changes that an earlier version of this server kept without understanding them."""

from __future__ import annotations

from barnlight.store import changes
from barnlight.store.engine import Database
from barnlight.sync.validate import judge_meaning


def reconsider(database: Database) -> int:
    """Returns how many are understood now; a value that does not fit stays as it is, in the history only."""
    understood = 0
    with database.write() as db:
        for space, waiting in changes.deferred(db).items():
            book = changes.Book(db.connection(), space, [], [change["record"] for change in waiting])
            for change in waiting:
                if judge_meaning(change, space, book.kind_of(change["record"])) == "ok":
                    book.apply(change)
                    changes.understood(db, space, change["id"])
                    understood += 1
            book.close()
    return understood
