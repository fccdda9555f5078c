"""The database: what SQLite is told for safety, migrations, two writers, and a process killed while it writes."""

from __future__ import annotations

import secrets
import signal
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from phones import change_of
from sqlalchemy import text
from sqlalchemy.dialects import postgresql
from sqlalchemy.exc import IntegrityError
from sqlalchemy.schema import CreateIndex, CreateTable

from barnlight.domain import clock
from barnlight.errors import NotReady
from barnlight.services import Services
from barnlight.store import changes, records, spaces
from barnlight.store.engine import Database
from barnlight.store.models import Base, Change, Media
from barnlight.sync import reconsider as reconsider_module
from barnlight.sync.push import push
from barnlight.sync.reconsider import reconsider

TESTS = Path(__file__).parent


def edits(space: str, count: int) -> list[dict]:
    device = secrets.token_hex(16)
    return [change_of(space, device, clock.tick(None, 1000 + i, device), "session", secrets.token_hex(16), "title", f"{i}") for i in range(count)]


def test_sqlite_is_set_for_safety(services: Services) -> None:
    """Meaning of the values: SQLite's documentation of PRAGMA; synchronous 2 is FULL."""
    with services.database.read() as db:
        found = {name: db.execute(text(f"PRAGMA {name}")).scalar() for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")}
    assert found == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "busy_timeout": 10_000}


def test_migrations_lead_to_the_models(services: Services) -> None:
    services.database.migrate()
    with services.database.engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), Base.metadata) == []


def test_the_tables_can_be_made_in_postgresql() -> None:
    dialect = postgresql.dialect()
    for table in Base.metadata.sorted_tables:
        assert f"CREATE TABLE {table.name}" in str(CreateTable(table).compile(dialect=dialect))
        assert all(str(CreateIndex(index).compile(dialect=dialect)) for index in table.indexes)


def test_a_failed_block_leaves_nothing(services: Services) -> None:
    with pytest.raises(IntegrityError), services.database.write() as db:
        made = spaces.make(db, "Half made", 1).id
        db.add(Media(space="0" * 32, hash="0" * 64, type="image/jpeg", bytes=1, created_ms=1))
    with services.database.read() as db:
        assert spaces.get(db, made) is None


def test_two_writers_get_numbers_without_gaps(services: Services) -> None:
    space = services.space()
    batches = [edits(space, 5) for _ in range(8)]
    results: list[dict] = []

    def write(some: list[list[dict]]) -> None:
        for batch in some:
            results.extend(push(services.database, space, space, batch, 2000)[1])

    threads = [threading.Thread(target=write, args=(batches[i::2],)) for i in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(result["number"] for result in results) == list(range(1, 41))


KILLED = """
import sys
sys.path.insert(0, sys.argv[1])
from test_store_database import edits, push, Database
database = Database(sys.argv[2])
while True:
    batch = edits(sys.argv[3], 3)
    push(database, sys.argv[3], sys.argv[3], batch, 2000)
    print(" ".join(change["id"] for change in batch), flush=True)
"""


def test_what_was_confirmed_is_there_after_a_kill(services: Services) -> None:
    space = services.space()
    words = [sys.executable, "-c", KILLED, str(TESTS), services.config.database, space]
    environment = {"PYTHONPATH": str(TESTS.parent / "backend")}
    with subprocess.Popen(words, stdout=subprocess.PIPE, text=True, env=environment) as process:
        confirmed = [process.stdout.readline() for _ in range(7)]
        process.send_signal(signal.SIGKILL)
        confirmed += process.stdout.read().splitlines(keepends=True)
    ids = [change for line in confirmed if line.endswith("\n") for change in line.split()]
    with services.database.read() as db:
        stored = changes.since(db, space, 0, 100_000)
        assert len(records.load(db, space)) == len(stored)
    assert set(ids) <= {change["id"] for change in stored} and len(ids) >= 21
    assert [change["number"] for change in stored] == list(range(1, len(stored) + 1))
    assert len(stored) % 3 == 0, "a batch lands whole or not at all"


def test_a_newer_server_merges_what_it_had_kept_aside(services: Services, monkeypatch: pytest.MonkeyPatch) -> None:
    space = services.space()
    known, unknown = edits(space, 2)
    unknown.update(kind="tripod", field="legs", value=3)
    push(services.database, space, space, [known, unknown], 2000)
    assert reconsider(services.database) == 0
    monkeypatch.setattr(reconsider_module, "judge_meaning", lambda change, *_: "ok" if change["kind"] == "tripod" else "deferred")
    assert reconsider(services.database) == 1
    with services.database.read() as db:
        [tripod] = records.load(db, space, "tripod")
        assert records.plain(tripod) == {"id": unknown["record"], "kind": "tripod", "legs": 3}
        assert db.query(Change).where(Change.deferred).count() == 0
    assert reconsider(services.database) == 0


def test_a_folder_with_odd_characters_can_hold_the_store(tmp_path: Path) -> None:
    database = Database(f"sqlite:///{tmp_path / 'a barn, 100% ä' / 'store.sqlite3'}")
    database.migrate()
    with database.write() as db:
        assert spaces.make(db, "x", 1).last_number == 0
    database.close()


def test_a_store_of_a_newer_version_is_left_alone_in_words(services: Services) -> None:
    with services.database.append() as line:
        line.exec_driver_sql("UPDATE alembic_version SET version_num = 'later'")
    with pytest.raises(NotReady, match="newer version"):
        Services.open(services.config)
    with services.database.append() as line:
        assert line.exec_driver_sql("SELECT version_num FROM alembic_version").scalar() == "later"
