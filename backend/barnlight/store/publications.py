"""Frozen reports: adds one, and finds those about a session or piece."""

from __future__ import annotations

import secrets
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from barnlight.store import spaces
from barnlight.store.models import Publication


def next_version(db: Session, space: str, about: str) -> int:
    """One more than the last version about the same session or piece; holds the space until the transaction ends."""
    spaces.lock(db, space)
    return (db.scalar(select(func.max(Publication.version)).where(Publication.space == space, Publication.about == about)) or 0) + 1


def add(
    db: Session, space: str, *, about: str, about_kind: str, version: int, title: str, view: dict[str, Any], html: str, css: str, media: list[str], now_ms: int
) -> Publication:
    """Freeze a report about a session or piece, with the page and the style sheet as they are now."""
    made = Publication(
        id=secrets.token_hex(16), space=space, about=about, about_kind=about_kind, version=version, title=title,
        published_ms=now_ms, view=view, html=html, css=css, media=media,
    )
    db.add(made)
    db.flush()
    return made


def get(db: Session, space: str, publication: str) -> Publication | None:
    """The report of that id, if it is of this space."""
    found = db.get(Publication, publication)
    return found if found is not None and found.space == space else None


def newest(db: Session, space: str, about: str) -> Publication | None:
    """The last version about a session or piece."""
    rows = select(Publication).where(Publication.space == space, Publication.about == about).order_by(Publication.version.desc()).limit(1)
    return db.scalar(rows)


def about(db: Session, space: str, record: str) -> list[Publication]:
    """The reports about a session or piece, the newest first."""
    rows = select(Publication).where(Publication.space == space, Publication.about == record).order_by(Publication.version.desc())
    return list(db.scalars(rows))
