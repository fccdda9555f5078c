"""Opens the database, sets what SQLite needs for safety, and hands out reading and writing sessions."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from alembic import command
from alembic.config import Config as AlembicConfig
from sqlalchemy import Connection, Engine, create_engine, event, make_url
from sqlalchemy.orm import Session

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
        if self.is_sqlite and address.database:
            Path(address.database).parent.mkdir(parents=True, exist_ok=True)
        self.engine = create_engine(address)
        self._writing = self.engine.execution_options(writing=True)
        if self.is_sqlite:
            _prepare_sqlite(self.engine)

    def migrate(self) -> None:
        """Bring the tables up to date; a fresh database gets all of them."""
        config = AlembicConfig()
        # Alembic reads % as interpolation; a folder may have one in its name.
        config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
        with self._writing.begin() as connection:
            config.attributes["connection"] = connection
            command.upgrade(config, "head")

    @contextmanager
    def read(self) -> Iterator[Session]:
        """One consistent view of the store; nothing is kept of what is done to it."""
        with Session(self.engine) as session:
            yield session

    @contextmanager
    def write(self) -> Iterator[Session]:
        """One transaction: committed at the end of the block, undone if the block raises; its rows can be read afterwards."""
        with Session(self._writing, expire_on_commit=False) as session, session.begin():
            yield session

    def forget(self) -> None:
        """Take deleted rows off the disk too: out of SQLite's journal, now that no page still holds them."""
        if self.is_sqlite:
            with self.engine.connect() as connection:
                connection.exec_driver_sql("COMMIT")  # a checkpoint cannot run inside a transaction
                connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")
                connection.exec_driver_sql("BEGIN")

    def close(self) -> None:
        """Give back all connections."""
        self.engine.dispose()


def _prepare_sqlite(engine: Engine) -> None:
    """Pragmas on every connection, and transactions begun by us rather than by Python's driver.

    A writer takes SQLite's lock at BEGIN: one that read first and asked for it later could be refused half way.
    """

    @event.listens_for(engine, "connect")
    def _connect(raw, _record) -> None:
        raw.isolation_level = None
        for pragma in PRAGMAS:
            raw.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        writing = connection.get_execution_options().get("writing")
        # Asked of the driver itself, since every request begins two transactions.
        connection.connection.dbapi_connection.execute("BEGIN IMMEDIATE" if writing else "BEGIN")
