"""Photos and sounds that nothing names, and files that no row knows: what a lost change, a power cut or an erasure leaves behind."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from barnlight.store import media
from barnlight.store.batches import in_batches
from barnlight.store.blobs import DiskBlobs
from barnlight.store.engine import Database
from barnlight.store.models import Change, Media, Publication

# A phone sends its changes before its photos, but may be without signal for long between the two.
GRACE_MS = 30 * 24 * 3600 * 1000

_HASH = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True)
class Orphan:
    """Bytes that can go."""

    space: str
    sha256: str
    bytes: int


def named(db: Session, space: str) -> set[str]:
    """Every hash in any value of the history, also of kinds not known here, and those that reports show."""
    found = {sha256 for value in db.scalars(select(Change.value).where(Change.space == space)) for sha256 in hashes_in(value)}
    return found.union(*db.scalars(select(Publication.media).where(Publication.space == space)))


def unnamed(db: Session, space: str, now_ms: int) -> list[Orphan]:
    """What the space has held for more than 30 days without anything naming it."""
    names = named(db, space)
    rows = db.scalars(select(Media).where(Media.space == space, Media.created_ms < now_ms - GRACE_MS).order_by(Media.hash))
    return [Orphan(space, row.hash, row.bytes) for row in rows if row.hash not in names]


def unnamed_among(db: Session, space: str, hashes: set[str]) -> list[Orphan]:
    """Those of the hashes that the space holds without anything naming them, however young."""
    rows = in_batches(db, select(Media).where(Media.space == space), Media.hash, hashes)
    names = named(db, space) if hashes else set()
    return [Orphan(space, row.hash, row.bytes) for row in rows if row.hash not in names]


def unknown(db: Session, blobs: DiskBlobs, now_ms: int) -> Iterator[Orphan]:
    """Files on the disk that no row knows of, older than the same 30 days."""
    known = {(row.space, row.hash) for row in media.every(db)}
    for space, sha256, size, written_ms in blobs.every():
        if (space, sha256) not in known and written_ms < now_ms - GRACE_MS:
            yield Orphan(space, sha256, size)


def forget(db: Session, orphans: list[Orphan]) -> None:
    """Take their rows out; `db` must be open for writing, and they must have been found in that transaction."""
    for orphan in orphans:
        db.execute(delete(Media).where(Media.space == orphan.space, Media.hash == orphan.sha256))


def clear(database: Database, blobs: DiskBlobs, space: str, hashes: Iterable[str]) -> None:
    """Take bytes off the disk that no row knows of now: one of them may have been sent again since its row went, and bytes are kept under the same lock."""
    for sha256 in hashes:
        with database.write() as db:
            if media.get(db, space, sha256) is None:
                blobs.remove(space, sha256)


def on_phones(db: Session, space: str) -> int:
    """How many photos and sounds are named but not here yet."""
    here = set(db.scalars(select(Media.hash).where(Media.space == space)))
    files = db.scalars(select(Change.value).where(Change.space == space, Change.field == "file"))
    return len({sha256 for value in files for sha256 in hashes_in(value)} - here)


def hashes_in(value: object) -> list[str]:
    """All that may be hashes of photos and sounds in a value, of whatever form."""
    return _HASH.findall(json.dumps(value))
