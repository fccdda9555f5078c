"""Looks whether a space is whole: numbers, records against their history, parents against records, bytes against hashes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from barnlight.domain import merge
from barnlight.store import orphans
from barnlight.store.blobs import DiskBlobs
from barnlight.store.kinds import parent_fields
from barnlight.store.models import Change, Erased, Media, Parent, Publication, Record, Space


def faults(db: Session, blobs: DiskBlobs, space: Space) -> Iterator[str]:
    """One sentence a fault; nothing is mended. Reads everything, so it takes as long as a copy would."""
    yield from _history(db, space)
    yield from _records(db, space)
    yield from _bytes(db, blobs, space)
    yield from _shown(db, blobs, space)


def _history(db: Session, space: Space) -> Iterator[str]:
    gone = {number for numbers in db.scalars(select(Erased.numbers).where(Erased.space == space.id)) for number in numbers}
    here = set()
    for number, stamp in db.execute(select(Change.number, Change.stamp).where(Change.space == space.id)):
        here.add(number)
        if stamp > (space.clock or ""):
            yield f"Change number {number} is later than the clock of the space."
    yield from (f"Change number {number} is missing." for number in range(1, space.last_number + 1) if number not in here | gone)
    yield from (f"Change number {number} was never given." for number in sorted(here) if number > space.last_number)
    yield from (f"Change number {number} was erased, but is there." for number in sorted(here & gone))


def _records(db: Session, space: Space) -> Iterator[str]:
    winners: dict[str, dict[str, Change]] = {}
    for change in db.scalars(select(Change).where(Change.space == space.id, Change.deferred.is_(False))):
        fields = winners.setdefault(change.record, {})
        held = fields.get(change.field)
        if held is None or merge.wins(_placed(change), _placed(held)):
            fields[change.field] = change
    parents = {(row.child, row.field): row.parent for row in db.scalars(select(Parent).where(Parent.space == space.id))}
    for record in db.scalars(select(Record).where(Record.space == space.id)):
        expected = winners.pop(record.id, {})
        if {name: held["change"] for name, held in record.fields.items()} != {name: change.id for name, change in expected.items()}:
            yield f"The {record.kind} {record.id} is not what its history adds up to."
        for name in parent_fields(record.kind):
            if parents.pop((record.id, name), None) != record.fields.get(name, {}).get("value"):
                yield f"The {record.kind} {record.id} is not found by its {name}."
    yield from (f"The record {record} has a history but is not there." for record in winners)
    yield from (f"The parent {field} of {child} belongs to nothing." for child, field in parents)


def _bytes(db: Session, blobs: DiskBlobs, space: Space) -> Iterator[str]:
    for row in db.scalars(select(Media).where(Media.space == space.id)):
        if not blobs.has(space.id, row.hash):
            yield f"The file {row.hash} is missing on the disk."
        elif not blobs.is_whole(space.id, row.hash):
            yield f"The file {row.hash} has changed on the disk."


def notes(db: Session, blobs: DiskBlobs, space: Space, now_ms: int) -> Iterator[str]:
    """What is worth knowing but no fault: what is still to come, and what nothing needs."""
    if (coming := orphans.on_phones(db, space.id)) > 0:
        yield f"{coming} photos and sounds are still on a phone."
    if (idle := len(orphans.unnamed(db, space.id, now_ms))) > 0:
        yield f"{idle} photos and sounds are named by nothing; `barnlight tidy` removes them."


def _shown(db: Session, blobs: DiskBlobs, space: Space) -> Iterator[str]:
    for title, version, shown in db.execute(select(Publication.title, Publication.version, Publication.media).where(Publication.space == space.id)):
        missing = [sha256 for sha256 in shown if not blobs.has(space.id, sha256)]
        if missing:
            yield f"The report {title!r}, version {version}, lacks {len(missing)} of its photos."


def _placed(change: Change) -> dict[str, Any]:
    return {"id": change.id, "stamp": change.stamp}
