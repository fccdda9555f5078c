"""Which photos and sounds a space holds; their bytes are in `blobs`."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import select
from sqlalchemy.orm import Session

from barnlight.store.batches import in_batches
from barnlight.store.models import Media


def add(db: Session, space: str, sha256: str, kind: str, size: int, now_ms: int) -> None:
    """Note that the bytes are on disk and checked; again is no harm."""
    if db.get(Media, (space, sha256)) is None:
        db.add(Media(space=space, hash=sha256, type=kind, bytes=size, created_ms=now_ms))


def get(db: Session, space: str, sha256: str) -> Media | None:
    """What is known of those bytes, if the space holds them."""
    return db.get(Media, (space, sha256))


def every(db: Session) -> list[Media]:
    """All that the server holds, by space and hash."""
    return list(db.scalars(select(Media).order_by(Media.space, Media.hash)))


def known(db: Session, space: str, hashes: Iterable[str]) -> set[str]:
    """Those of the hashes that the space holds."""
    return {row.hash for row in in_batches(db, select(Media).where(Media.space == space), Media.hash, hashes)}
