"""Spaces: the books of records that one server holds, each sealed from the others."""

from __future__ import annotations

import secrets

from sqlalchemy import select
from sqlalchemy.orm import Session

from barnlight.store.models import Space


def make(db: Session, name: str, now_ms: int) -> Space:
    """A new, empty book."""
    space = Space(id=secrets.token_hex(16), name=name, epoch=secrets.token_hex(16), last_number=0, clock=None, created_ms=now_ms)
    db.add(space)
    db.flush()
    return space


def first(db: Session) -> Space | None:
    """The oldest book, which a server with one owner lives in."""
    return db.scalars(select(Space).order_by(Space.created_ms, Space.id).limit(1)).first()


def get(db: Session, space: str) -> Space | None:
    """The book of that id."""
    return db.get(Space, space)


def renew_epoch(space: Space) -> None:
    """Tell every device that the book was put back from an earlier state, so that it offers all it holds."""
    space.epoch = secrets.token_hex(16)


def lock(db: Session, space: str) -> Space:
    """The book, held until the transaction ends, so that numbers are given in the order of commits.

    SQLite holds its one write lock already; PostgreSQL locks the row.
    """
    return db.scalars(select(Space).where(Space.id == space).with_for_update()).one()


def every(db: Session) -> list[Space]:
    """All books of this server, the oldest first."""
    return list(db.scalars(select(Space).order_by(Space.created_ms, Space.id)))
