"""Spaces: the books of records that one server holds, each sealed from the others."""

from __future__ import annotations

import secrets

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from barnlight.errors import BadInput, NotFound
from barnlight.store.models import Change, Device, Space

LONGEST_NAME = 120
LEAST_OF_ID = 4


def make(db: Session, name: str, now_ms: int) -> Space:
    """A new, empty book."""
    space = Space(id=secrets.token_hex(16), name=name, epoch=secrets.token_hex(16), last_number=0, clock=None, created_ms=now_ms)
    db.add(space)
    db.flush()
    return space


def add(db: Session, typed: str, now_ms: int) -> Space:
    """A new, empty book under a name of its own. Raises BadInput."""
    name = " ".join(typed.split())
    if not 1 <= len(name) <= LONGEST_NAME or any(not char.isprintable() for char in name):
        raise BadInput(f"A book needs a name of 1 to {LONGEST_NAME} characters.", field="name")
    if any(space.name.casefold() == name.casefold() for space in every(db)):
        raise BadInput(f"There is a book called {name!r} already.", field="name", hint="Choose another name; `barnlight space list` shows those in use.")
    return make(db, name, now_ms)


def find(db: Session, typed: str) -> Space:
    """The book that a person means by its name or the begin of its id. Raises NotFound or BadInput, which list those there are."""
    here = every(db)
    found = [space for space in here if space.name.casefold() == typed.casefold()]
    found = found or [space for space in here if len(typed) >= LEAST_OF_ID and space.id.startswith(typed.lower())]
    if len(found) == 1:
        return found[0]
    hint = f"There are: {'; '.join(f'{space.id[:8]} {space.name}' for space in found or here)}."
    if found:
        raise BadInput(f"More than one book is called {typed!r}.", field="space", hint=hint)
    raise NotFound(f"There is no book called {typed!r} here.", field="space", hint=hint)


def sizes(db: Session) -> list[tuple[Space, int, int]]:
    """All books, the oldest first, each with how many devices may enter it and how many changes it holds."""
    devices = dict(db.execute(select(Device.space, func.count()).where(Device.revoked_ms.is_(None)).group_by(Device.space)).all())
    changes = dict(db.execute(select(Change.space, func.count()).group_by(Change.space)).all())
    return [(space, devices.get(space.id, 0), changes.get(space.id, 0)) for space in every(db)]


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
    return db.scalars(select(Space).where(Space.id == space).with_for_update().execution_options(populate_existing=True)).one()


def every(db: Session) -> list[Space]:
    """All books of this server, the oldest first."""
    return list(db.scalars(select(Space).order_by(Space.created_ms, Space.id)))
