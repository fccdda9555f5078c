"""What one running server works with: its settings, its database, its media and its clock."""

import time
from collections.abc import Callable
from dataclasses import dataclass

from flask import current_app

from barnlight.config import Config
from barnlight.errors import NotReady
from barnlight.store import spaces
from barnlight.store.blobs import DiskBlobs
from barnlight.store.engine import Database
from barnlight.store.partials import Partials
from barnlight.sync.reconsider import reconsider


def wall_clock_ms() -> int:
    """Now, in milliseconds since 1970 UTC."""
    return time.time_ns() // 1_000_000


@dataclass(frozen=True)
class Services:
    """Handed to every part that needs more than its arguments; tests give it a clock of their own."""

    config: Config
    database: Database
    blobs: DiskBlobs
    now_ms: Callable[[], int] = wall_clock_ms

    @property
    def partials(self) -> Partials:
        """Uploads that are not whole yet."""
        return Partials(self.config.media_dir / "partial")

    @classmethod
    def open(cls, config: Config, now_ms: Callable[[], int] = wall_clock_ms) -> "Services":
        """Opens the store, brings its tables up to date and makes its first book. Raises NotReady."""
        try:
            config.data_dir.mkdir(parents=True, exist_ok=True)
            blobs = DiskBlobs(config.media_dir)
        except OSError as error:
            raise NotReady(f"The store in {config.data_dir} cannot be written: {error.strerror}.", hint="Choose a folder of yours with --data.") from None
        database = Database(config.database)
        database.migrate()
        reconsider(database)
        with database.write() as db:
            if spaces.first(db) is None:
                spaces.make(db, config.space_name, now_ms())
        return cls(config, database, blobs, now_ms)

    def space(self, named: str | None = None) -> str:
        """Id of the book of that name, or of the first, which a server with one owner lives in. Raises NotFound or BadInput."""
        with self.database.read() as db:
            return (spaces.first(db) if named is None else spaces.find(db, named)).id


def services() -> Services:
    """The services of the server that answers the current request."""
    return current_app.extensions["barnlight"]
