"""Opens the database, sets what SQLite needs for safety, and hands out reading and writing sessions."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from alembic import command
from alembic.config import Config as AlembicConfig
from alembic.util import CommandError
from sqlalchemy import Connection, create_engine, event, make_url
from sqlalchemy.exc import OperationalError
from sqlalchemy.orm import Session

from barnlight.errors import NotReady
from barnlight.store.snapshot import sqlite_file

MIGRATIONS = Path(__file__).parent / "migrations"
BUSY_MS = 10_000
# FULL: what was confirmed to a phone is on the disk, not only in the system's memory.
# secure_delete: what a person had erased is written over, not only let go of.
PRAGMAS = ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", "secure_delete=ON", f"busy_timeout={BUSY_MS}")


class Database:
    """One open database. `url` is a SQLAlchemy address; an SQLite file and its folder are made if missing."""

    def __init__(self, url: str) -> None:
        address = make_url(url)
        self.is_sqlite = address.get_backend_name() == "sqlite"
        if (file := sqlite_file(url)) is not None and not file.exists():
            file.parent.mkdir(parents=True, exist_ok=True)
            file.touch(mode=0o600)  # for its owner alone; SQLite gives its journal the same
        self.engine = create_engine(address)
        if self.is_sqlite:
            event.listen(self.engine, "connect", _prepare_sqlite)

    def migrate(self) -> None:
        """Bring the tables up to date; a fresh database gets all of them. Raises NotReady for those of a newer version."""
        config = AlembicConfig()
        # Alembic reads % as interpolation; a folder may have one in its name.
        config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
        with self.append() as connection:
            config.attributes["connection"] = connection
            try:
                command.upgrade(config, "head")
            except CommandError:  # it names a step of which this version has never heard
                raise NotReady("This store was made or used by a newer version.", hint="Update Barnlight; nothing was changed.") from None

    @contextmanager
    def read(self) -> Iterator[Session]:
        """One consistent view of the store; nothing is kept of what is done to it."""
        with Session(self.engine) as session:
            self._begin(session.connection())
            yield session

    @contextmanager
    def write(self) -> Iterator[Session]:
        """One transaction: committed at the end of the block, undone if the block raises; its rows can be read afterwards."""
        with Session(self.engine, expire_on_commit=False) as session, session.begin():
            self._begin(session.connection(), "IMMEDIATE")
            yield session

    @contextmanager
    def append(self) -> Iterator[Connection]:
        """One transaction without mapped rows, for what is written often: a session costs as much as three statements."""
        with self.engine.begin() as line:
            self._begin(line, "IMMEDIATE")
            yield line

    def forget(self) -> None:
        """Take deleted rows off the disk too: out of SQLite's journal, now that no page still holds them."""
        if self.is_sqlite:
            with self.engine.connect() as line:
                line.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")

    def close(self) -> None:
        """Give back all connections."""
        self.engine.dispose()

    def _begin(self, line: Connection, how: str = "DEFERRED") -> None:
        """Begin SQLite's transaction, which its driver is told not to do.

        A writer takes the lock at once (IMMEDIATE): one that read first and asked for it later could be refused half way.
        Not by an event of the engine: one such event makes every statement slower.
        """
        if self.is_sqlite:
            statement = f"BEGIN {how}"
            try:
                line.connection.dbapi_connection.execute(statement)  # the driver itself: the way through the toolkit takes longer
            except sqlite3.OperationalError as refused:
                raise OperationalError(statement, None, refused) from refused


def _prepare_sqlite(raw: sqlite3.Connection, _record: Any) -> None:
    """On every new connection: transactions are begun by us rather than by Python's driver."""
    raw.isolation_level = None
    for pragma in PRAGMAS:
        raw.execute(f"PRAGMA {pragma}")
