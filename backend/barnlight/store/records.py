"""Reads records: by kind, by id, by parent, and whole pieces or sessions as plain values."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from sqlalchemy import bindparam, select
from sqlalchemy.orm import Session

from barnlight.store.batches import Among
from barnlight.store.models import Parent, Record

OF_VISIT = ("answer", "reading", "photo", "recording", "take", "claim")
OF_PIECE = ("claim", "repair", "film_test")

# Columns, not mapped rows: what a session has read before must not stand in for what is there now.
_PARTS = (Record.id, Record.kind, Record.fields)
_OF_SPACE = Record.space == bindparam("space")
_BY_ID = Among(select(*_PARTS).where(_OF_SPACE), Record.id)
_CHILDREN = Among(select(*_PARTS).join(Parent, (Parent.space == Record.space) & (Parent.child == Record.id)).where(_OF_SPACE), Parent.parent)

Rec = dict[str, Any]
ByKind = dict[str, list[Rec]]


def load(db: Session, space: str, kind: str | None = None, ids: Iterable[str] | None = None) -> list[Rec]:
    """Records `{id, kind, fields: {name: {value, change, stamp, author}}}`, deleted ones too, in the order of their ids."""
    if ids is None:
        query = select(*_PARTS).where(Record.space == space)
        rows = db.execute(query if kind is None else query.where(Record.kind == kind))
    else:
        rows = (row for row in _BY_ID.rows(db.connection(), ids, space=space) if kind in (None, row.kind))
    return sorted((row._asdict() for row in rows), key=_id)


def children(db: Session, space: str, parents: Iterable[str], kinds: Sequence[str]) -> list[Rec]:
    """The records of these kinds that name one of the parents, each once, in the order of their ids."""
    found = {row.id: row._asdict() for row in _CHILDREN.rows(db.connection(), parents, space=space) if row.kind in kinds}
    return sorted(found.values(), key=_id)


def plain(record: Rec) -> Rec:
    """The record's values alone: `{id, kind, field: value, ...}`; a piece's own field `kind` (camera, lens) stands for it."""
    return {"id": record["id"], "kind": record["kind"], **{name: held["value"] for name, held in record["fields"].items()}}


def of_session(db: Session, space: str, session: str) -> ByKind:
    """All that belongs to one session, as plain values by kind, deleted left out; empty if there is no such session.

    Holds private fields: whoever shows it to others copies what may be seen.
    """
    found = _Gathered(db, space)
    if found.add(load(db, space, "session", [session])):
        visits = found.add(children(db, space, [session], ["visit"]))
        pieces = found.add(load(db, space, "piece", named(visits, "piece")))
        found.below(visits, pieces)
    return found.by_kind


def of_piece(db: Session, space: str, piece: str) -> ByKind:
    """All that belongs to one piece over all its visits, in the same form as `of_session`."""
    found = _Gathered(db, space)
    pieces = found.add(load(db, space, "piece", [piece]))
    if pieces:
        visits = found.add(children(db, space, [piece], ["visit"]))
        found.add(load(db, space, "session", named(visits, "session")))
        found.below(visits, pieces)
    return found.by_kind


class _Gathered:
    """Plain records by kind, each once; every step is a bounded number of queries over the parents' index."""

    def __init__(self, db: Session, space: str) -> None:
        self._db, self._space = db, space
        self.by_kind: ByKind = {}
        self._seen: set[str] = set()

    def add(self, records: list[Rec]) -> list[Rec]:
        """Keep those that are new and not deleted, in the order they were made; returns them as plain values."""
        kept = [(record["kind"], plain(record)) for record in sorted(records, key=_made) if record["id"] not in self._seen]
        kept = [(kind, values) for kind, values in kept if not values.get("deleted")]
        for kind, values in kept:
            self._seen.add(values["id"])
            self.by_kind.setdefault(kind, []).append(values)
        return [values for _, values in kept]

    def below(self, visits: list[Rec], pieces: list[Rec]) -> None:
        """Follow the visits and pieces down to spots and marks."""
        self.add(children(self._db, self._space, map(_id, visits), OF_VISIT))
        self.add(children(self._db, self._space, map(_id, pieces), OF_PIECE))
        self.add(children(self._db, self._space, map(_id, self.by_kind.get("photo", [])), ["spot", "leak_reading"]))
        self.add(children(self._db, self._space, map(_id, self.by_kind.get("take", [])), ["mark"]))


def named(records: Iterable[Rec], field: str) -> list[str]:
    """The records that these plain ones name in a field, in their order."""
    return [record[field] for record in records if record.get(field)]


def _id(record: Rec) -> str:
    return record["id"]


def _made(record: Rec) -> tuple[str, str]:
    return min((held["stamp"] for held in record["fields"].values()), default=""), record["id"]
