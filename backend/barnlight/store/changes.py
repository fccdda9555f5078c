"""The history: appends changes under the space's lock, gives them numbers, and reads them back by number."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from sqlalchemy import delete, insert, select
from sqlalchemy.orm import Session

from barnlight.domain import merge
from barnlight.store import spaces
from barnlight.store.batches import in_batches
from barnlight.store.kinds import parent_fields
from barnlight.store.models import Change, Parent, Record

# What a change is made of; anything else a newer app gave it is kept in `more`.
PARTS = ("id", "space", "kind", "record", "field", "value", "stamp", "base", "settles", "device", "author", "schema")
# Its number is given here anew, whatever another server may have given.
NOT_MORE = (*PARTS, "number")


class Book:
    """A space opened for writing, with the records and the known changes that a batch touches already loaded.

    Everything appended lands together when `close` is called and the transaction commits.
    """

    def __init__(self, db: Session, space: str, ids: Iterable[str], records: Iterable[str]) -> None:
        self._db = db
        self.space = spaces.lock(db, space)
        self._known = {row.id: row for row in in_batches(db, select(Change).where(Change.space == space), Change.id, ids)}
        found = in_batches(db, select(Record).where(Record.space == space), Record.id, records)
        self._records = {row.id: row for row in found}
        self._rows: list[dict[str, Any]] = []
        self._appended: dict[str, dict[str, Any]] = {}
        self._moved: dict[tuple[str, str], str | None] = {}

    def known(self, change: str) -> dict[str, Any] | None:
        """The stored change of that id, with its number and `sent_stamp`."""
        if change in self._appended:
            return self._appended[change]
        row = self._known.get(change)
        return row and {**as_change(row), "sent_stamp": row.sent_stamp}

    def kind_of(self, record: str) -> str | None:
        """The kind the record already has."""
        row = self._records.get(record)
        return row and row.kind

    def append(self, change: dict[str, Any], *, sent_stamp: str | None, deferred: bool, sender: str, now_ms: int) -> int:
        """Put a checked change into the history, and into its record unless it is deferred. Returns its number."""
        self.space.last_number += 1
        self.space.clock = max(self.space.clock or "", change["stamp"])
        kept = {part: change[part] for part in PARTS}
        self._rows.append({
            **kept, "space": self.space.id, "number": self.space.last_number, "sent_stamp": sent_stamp, "deferred": deferred,
            "more": {name: value for name, value in change.items() if name not in NOT_MORE}, "sender": sender, "received_ms": now_ms,
        })
        self._appended[change["id"]] = {**kept, "number": self.space.last_number, "sent_stamp": sent_stamp}
        if not deferred:
            self.apply(change)
        return self.space.last_number

    def apply(self, change: dict[str, Any]) -> None:
        """Let the change win its field, if it does."""
        record = self._records.get(change["record"])
        if record is None:
            record = Record(space=self.space.id, id=change["record"], kind=change["kind"], fields={})
            self._records[record.id] = record
            self._db.add(record)
        held = record.fields.get(change["field"])
        if held and not merge.wins(change, {"stamp": held["stamp"], "id": held["change"]}):
            return
        winner = {"value": change["value"], "change": change["id"], "stamp": change["stamp"], "author": change["author"]}
        record.fields = {**record.fields, change["field"]: winner}
        if change["field"] in parent_fields(record.kind):
            self._moved[record.id, change["field"]] = change["value"]

    def close(self) -> None:
        """Write what was appended."""
        self._db.flush()
        if self._rows:
            self._db.execute(insert(Change), self._rows)
        for (child, field), parent in self._moved.items():
            here = (Parent.space == self.space.id, Parent.child == child, Parent.field == field)
            self._db.execute(delete(Parent).where(*here))
            if parent is not None:
                self._db.execute(insert(Parent).values(space=self.space.id, child=child, field=field, parent=parent))


def since(db: Session, space: str, after: int, limit: int) -> list[dict[str, Any]]:
    """At most `limit` changes with a number above `after`, in the order of their numbers."""
    rows = select(Change).where(Change.space == space, Change.number > after).order_by(Change.number).limit(limit)
    return [as_change(row) for row in db.scalars(rows)]


def every(db: Session, space: str) -> list[dict[str, Any]]:
    """The whole history, in the order of numbers."""
    return [as_change(row) for row in db.scalars(select(Change).where(Change.space == space).order_by(Change.number))]


def has(db: Session, space: str, change: str) -> bool:
    """Whether the history holds the change of that id."""
    return db.scalar(select(Change.number).where(Change.space == space, Change.id == change)) is not None


def of_records(db: Session, space: str, records: Sequence[str]) -> list[dict[str, Any]]:
    """The whole history of these records, in the order of numbers."""
    rows = in_batches(db, select(Change).where(Change.space == space), Change.record, records)
    return sorted(map(as_change, rows), key=lambda change: change["number"])


def deferred(db: Session) -> dict[str, list[dict[str, Any]]]:
    """The changes that were kept without being understood, by space."""
    found: dict[str, list[dict[str, Any]]] = {}
    for row in db.scalars(select(Change).where(Change.deferred).order_by(Change.space, Change.number)):
        found.setdefault(row.space, []).append(as_change(row))
    return found


def understood(db: Session, space: str, change: str) -> None:
    """Note that a deferred change has been merged."""
    db.scalars(select(Change).where(Change.space == space, Change.id == change)).one().deferred = False


def as_change(row: Change) -> dict[str, Any]:
    """A stored change as devices exchange it, with its number."""
    return {**row.more, **{part: getattr(row, part) for part in PARTS}, "number": row.number}

