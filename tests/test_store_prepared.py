"""Prepared statements: SQLite's own driver and the toolkit store and find the same to the letter, and refuse alike."""

from __future__ import annotations

import sqlite3
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from phones import change_of
from sqlalchemy import bindparam, insert, select
from sqlalchemy.exc import IntegrityError, OperationalError

from barnlight.domain import clock
from barnlight.services import Services
from barnlight.store import changes, devices, prepared, records, spaces
from barnlight.store.engine import Database
from barnlight.store.models import Record, Space
from barnlight.sync.push import push

SPACE, DEVICE, SESSION, PIECE = ("5" * 32, "d" * 32, "a" * 32, "b" * 32)
NOW_MS = 1_780_000_000_000
FAR_MS = NOW_MS + 400 * 24 * 3_600_000


def batches() -> list[list[dict[str, Any]]]:
    """Pushes with all that a column can hold: nothing, words of every script, depth, moves, a clock far ahead, the unknown."""
    number = iter(range(1, 100))

    def made(kind: str, record: str, field: str, value: Any, ms: int = NOW_MS, **more: Any) -> dict[str, Any]:
        step = next(number)
        return {**change_of(SPACE, DEVICE, clock.tick(None, ms + step, DEVICE), kind, record, field, value), "id": f"{step:032x}", **more}

    again = made("session", SESSION, "title", "Haus 'Möwe' 納屋 \u2028 \"x\"", later={"deep": [None, True, 1.5e-7]})
    return [
        [again],
        [again],  # the same again, alone: a duplicate
        [made("session", SESSION, "day", "2026-05-02"), made("piece", PIECE, "title", ""), made("piece", PIECE, "title", None)],
        [made("visit", "c" * 32, "session", SESSION), made("visit", "c" * 32, "piece", PIECE)],
        [made("visit", "c" * 32, "session", None)],
        [made("session", SESSION, "title", "later", FAR_MS)],
        [made("marvel", "e" * 32, "size", {"x": [1, {"y": None}], "z": 2**53 - 1})],
        [made("marvel", "e" * 32, "size", False)],
    ]


def stored(folder: Path) -> dict[str, list[Any]]:
    """Every row as SQLite holds it, after the pushes; and the results, and a device asked after."""
    database = Database(f"sqlite:///{folder / 'store.sqlite3'}")
    database.migrate()
    with database.write() as db:
        db.add(Space(id=SPACE, name="Barn", epoch="f" * 32, last_number=0, clock=None, created_ms=NOW_MS))
        db.flush()
        code, _ = devices.make_code(db, SPACE, NOW_MS)
        token, _ = devices.redeem(db, code, DEVICE, "Bench phone", NOW_MS)
    said = [push(database, SPACE, DEVICE, batch, NOW_MS) for batch in batches()]
    found = [tuple(devices.by_token(database, token) or ()), devices.by_token(database, "another")]
    with database.read() as db:
        history = changes.since(db, SPACE, 0, 100)
    database.close()
    held = sqlite3.connect(folder / "store.sqlite3")
    rows = {name: held.execute(f"SELECT * FROM {name} ORDER BY 1, 2, 3").fetchall() for name in ("spaces", "changes", "records", "parents")}
    held.close()
    return {**rows, "said": said, "found": found, "history": history}


def test_both_ways_store_and_find_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "driver").mkdir()
    (tmp_path / "toolkit").mkdir()
    by_driver = stored(tmp_path / "driver")
    monkeypatch.setattr(prepared, "_SQLITE", SimpleNamespace(name="another"))
    by_toolkit = stored(tmp_path / "toolkit")
    assert by_driver == by_toolkit
    results = [one["result"] for _, batch in by_driver["said"] for one in batch]
    assert {"ok", "duplicate", "deferred"} <= set(results), results
    assert len(by_driver["changes"]) == len(by_driver["history"]) == results.count("ok") + results.count("deferred")
    assert by_driver["found"] == [(SPACE, DEVICE, "Bench phone", NOW_MS), None]


def test_a_refusal_of_the_driver_comes_as_the_toolkits(services: Services) -> None:
    """So that a full disk, a lock, a row that is there already are met in one place."""
    add = prepared.Prepared(insert(Space))
    with services.database.append() as line:
        taken = {"id": services.space(), "name": "", "epoch": "", "last_number": 0, "clock": None, "created_ms": 0}
        with pytest.raises(IntegrityError):
            add.write(line, taken)
        line.exec_driver_sql("PRAGMA query_only=ON")
        try:
            with pytest.raises(OperationalError, match="readonly"):
                add.write(line, {**taken, "id": "9" * 32})
        finally:
            line.exec_driver_sql("PRAGMA query_only=OFF")


def test_a_value_that_was_not_given_is_said(services: Services) -> None:
    ask = prepared.Prepared(select(Space.id).where(Space.id == bindparam("id_")))
    with services.database.append() as line, pytest.raises(KeyError, match="id_"):
        ask.rows(line)


def test_a_question_refused_after_its_first_row_comes_as_the_toolkits_too(services: Services) -> None:
    """A disk may fail, and a question be interrupted, at any row (SQLite: sqlite3_step)."""
    space = services.space()
    rows = [{"space": space, "id": f"{number:032x}", "kind": "session", "fields": {}} for number in range(500)]
    with services.database.append() as line:
        prepared.Prepared(insert(Record)).write(line, *rows)
    ask = prepared.Prepared(select(Record.id, Record.fields).where(Record.space == bindparam("space")))
    with services.database.append() as line:
        raw, seen = line.connection.dbapi_connection, []
        raw.set_progress_handler(lambda: seen.append(1) or len(seen) > 1, 1000)
        try:
            with pytest.raises(OperationalError, match="interrupted"):
                ask.rows(line, space=space)
        finally:
            raw.set_progress_handler(None, 0)
        assert len(ask.rows(line, space=space)) == 500


@pytest.mark.parametrize("value", ["half a pair \ud83d", 2**64, -(2**63) - 1, 1.5j], ids=["surrogate", "too large", "too small", "no number"])
@pytest.mark.parametrize("way", ["ask", "write"])
def test_what_sqlite_cannot_hold_is_refused_as_by_the_toolkit(services: Services, monkeypatch: pytest.MonkeyPatch, way: str, value: Any) -> None:
    ask = prepared.Prepared(select(Space.id).where(Space.created_ms == bindparam("value")))
    add = prepared.Prepared(insert(Space))
    row = {"id": "9" * 32, "name": "", "epoch": "", "last_number": 0, "clock": None, "created_ms": value}
    refusals = []
    for dialect in (prepared._SQLITE, SimpleNamespace(name="another")):
        monkeypatch.setattr(prepared, "_SQLITE", dialect)
        with pytest.raises(Exception) as refused, services.database.append() as line:
            ask.rows(line, value=value) if way == "ask" else add.write(line, row)
        refusals.append((refused.type, str(getattr(refused.value, "orig", refused.value))))
    assert refusals[0] == refusals[1]
    with services.database.read() as db:
        assert len(spaces.every(db)) == 1


def test_a_question_leaves_no_view_of_the_store_open(services: Services) -> None:
    """One that stays open keeps SQLite's journal from ever being emptied, and erased words in it (PRAGMA wal_checkpoint: its first column is 0 then)."""
    devices.by_token(services.database, "nobody's")
    with services.database.append() as line, pytest.raises(ValueError):
        line.exec_driver_sql("INSERT INTO records VALUES (?, ?, 'session', '{no JSON')", (services.space(), "1" * 32))
        list(records._BY_ID.rows(line, ["1" * 32], space=services.space()))
    with closing(sqlite3.connect(services.config.data_dir / "barnlight.sqlite3", timeout=0)) as other:
        assert other.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0] == 0


def test_many_threads_ask_and_write_at_once(services: Services) -> None:
    """Each statement is one for all of them; each thread gets the rows it asked for and numbers follow without gaps."""
    space = services.space()

    def work(worker: int) -> list[int]:
        device, numbers = f"{worker:032x}", []
        for step in range(20):
            stamp = clock.tick(None, NOW_MS + step, device)
            change = {**change_of(space, device, stamp, "session", f"{worker:016x}{step:016x}", "title", f"{worker} {step}")}
            numbers.append(push(services.database, space, device, [change], NOW_MS)[1][0]["number"])
            with services.database.read() as db:
                [record] = records.load(db, space, ids=[change["record"]])
            assert record["fields"]["title"]["value"] == f"{worker} {step}"
        return numbers

    with ThreadPoolExecutor(6) as workers:
        given = [number for numbers in workers.map(work, range(6)) for number in numbers]
    assert sorted(given) == list(range(1, 121))
