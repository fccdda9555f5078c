"""The history: appends changes under the space's lock, gives them numbers, and reads them back by number."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, Select, bindparam, delete, exists, insert, select, update
from sqlalchemy.orm import Session

from barnlight.domain import merge
from barnlight.store.batches import Among, in_batches
from barnlight.store.kinds import parent_fields
from barnlight.store.models import Change, Erased, Parent, Record, Space
from barnlight.store.prepared import Prepared

# What a change is made of; anything else a newer app gave it is kept in `more`.
PARTS = ("id", "space", "kind", "record", "field", "value", "stamp", "base", "settles", "device", "author", "schema")
# Its number is given here anew, whatever another server may have given.
NOT_MORE = (*PARTS, "number")


# Made once: making a statement takes longer than asking it, and a push asks several.
_C, _R, _P, _S = (table.__table__ for table in (Change, Record, Parent, Space))
_HAS_ERASED = exists().where(Erased.space == bindparam("space"))
_HEAD = Prepared(
    select(_S.c.epoch, _S.c.last_number, _S.c.clock, _HAS_ERASED.label("has_erased")).where(_S.c.id == bindparam("space")).with_for_update()
)
_KNOWN = Among(select(_C).where(_C.c.space == bindparam("space")), _C.c.id)
_RECORDS = Among(select(_R.c.id, _R.c.kind, _R.c.fields).where(_R.c.space == bindparam("space")), _R.c.id)
_MOVE_HEAD = Prepared(update(_S).where(_S.c.id == bindparam("space")).values(last_number=bindparam("number"), clock=bindparam("latest")))
_SET_FIELDS = Prepared(update(_R).where(_R.c.space == bindparam("in_space"), _R.c.id == bindparam("record")).values(fields=bindparam("new_fields")))
_LEAVE_PARENT = Prepared(delete(_P).where(_P.c.space == bindparam("space"), _P.c.child == bindparam("child"), _P.c.field == bindparam("field")))
_ADD_RECORDS, _ADD_CHANGES, _ADD_PARENTS = (Prepared(insert(table)) for table in (_R, _C, _P))


@dataclass
class Head:
    """Where a space stands: its last number, the latest stamp it has accepted, and whether anything of it was ever erased."""

    id: str
    epoch: str
    last_number: int
    clock: str | None
    has_erased: bool


class Book:
    """A space opened for writing, with the records and the known changes that a batch touches already loaded.

    Holds the space's lock until the transaction ends, so that numbers are given in the order of commits.
    Everything appended lands together when `close` is called and the transaction commits.
    """

    def __init__(self, line: Connection, space: str, ids: Iterable[str], records: Iterable[str]) -> None:
        self._line = line
        self.space = Head(space, *_HEAD.rows(line, space=space)[0])
        self._known = {row.id: row for row in _KNOWN.rows(line, ids, space=space)}
        self._records = {row.id: (row.kind, row.fields) for row in _RECORDS.rows(line, records, space=space)}
        self._stored, self._touched = set(self._records), set()
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
        held = self._records.get(record)
        return held and held[0]

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
        record, field = change["record"], change["field"]
        kind, fields = self._records.setdefault(record, (change["kind"], {}))
        held = fields.get(field)
        if held and not merge.wins(change, {"stamp": held["stamp"], "id": held["change"]}):
            return
        fields[field] = {"value": change["value"], "change": change["id"], "stamp": change["stamp"], "author": change["author"]}
        self._touched.add(record)
        if field in parent_fields(kind):
            self._moved[record, field] = change["value"]

    def close(self) -> None:
        """Write what was appended."""
        line, space = self._line, self.space.id
        if self._rows:
            _MOVE_HEAD.write(line, {"space": space, "number": self.space.last_number, "latest": self.space.clock})
            _ADD_CHANGES.write(line, *self._rows)
        written = [(record, *self._records[record]) for record in sorted(self._touched)]
        if new := [{"space": space, "id": record, "kind": kind, "fields": fields} for record, kind, fields in written if record not in self._stored]:
            _ADD_RECORDS.write(line, *new)
        if old := [{"in_space": space, "record": record, "new_fields": fields} for record, _, fields in written if record in self._stored]:
            _SET_FIELDS.write(line, *old)
        if moved := [{"space": space, "child": child, "field": field, "parent": parent} for (child, field), parent in self._moved.items()]:
            _LEAVE_PARENT.write(line, *moved)
            if named := [row for row in moved if row["parent"] is not None]:
                _ADD_PARENTS.write(line, *named)


def since(db: Session, space: str, after: int, limit: int) -> list[dict[str, Any]]:
    """At most `limit` changes with a number above `after`, in the order of their numbers."""
    return _in_order(db, select(_C).where(_C.c.space == space, _C.c.number > after).limit(limit))


def every(db: Session, space: str) -> list[dict[str, Any]]:
    """The whole history, in the order of numbers."""
    return _in_order(db, select(_C).where(_C.c.space == space))


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


def _in_order(db: Session, query: Select) -> list[dict[str, Any]]:
    """Changes in the order of their numbers; read as rows, since making objects takes longer than reading."""
    return [as_change(row) for row in db.execute(query.order_by(_C.c.number))]


def as_change(row: Change | Row) -> dict[str, Any]:
    """A stored change as devices exchange it, with its number."""
    return {**row.more, **{part: getattr(row, part) for part in PARTS}, "number": row.number}

