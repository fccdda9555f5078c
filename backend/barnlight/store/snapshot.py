"""A copy of the SQLite database as it is at one moment, made while others go on reading and writing; and the word on its health."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from sqlalchemy import make_url


def sqlite_file(url: str) -> Path | None:
    """The file of a SQLAlchemy address, or None if it is not an SQLite file."""
    address = make_url(url)
    is_file = address.get_backend_name() == "sqlite" and address.database not in (None, "", ":memory:")
    return Path(address.database) if is_file else None


def copy_database(source: Path, target: Path) -> None:
    """Write one plain file, with no journal beside it. Writers are not held up: the copy reads one view of a WAL database.

    Source: SQLite's online backup interface, in one step, so that a write meanwhile does not make it start again.
    """
    with closing(sqlite3.connect(source)) as live, closing(sqlite3.connect(target)) as copy:
        live.backup(copy, pages=-1)
        copy.execute("PRAGMA journal_mode=DELETE")


def is_sound(path: Path) -> bool:
    """Whether SQLite finds the file whole, its indexes included."""
    try:
        with closing(sqlite3.connect(path)) as database:
            return database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    except sqlite3.DatabaseError:
        return False


def is_in_use(path: Path) -> bool:
    """Whether another program has the database open: SQLite leaves its WAL mode only for the last one there."""
    with closing(sqlite3.connect(path, timeout=0)) as database:
        try:
            database.execute("PRAGMA journal_mode=DELETE")
        except sqlite3.OperationalError:
            return True
        return False
