"""Which bytes were published: the hashes of pages, PDFs, photos and recordings of frozen reports, to be found again by a file."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from barnlight.store.models import Evidence, Publication

PAGE, ONE_FILE, PDF, PHOTO, SHOWN_PHOTO, RECORDING, SNAPSHOT = "page", "one_file", "pdf", "photo", "shown_photo", "recording", "snapshot"


@dataclass(frozen=True)
class Proof:
    """Where bytes of that hash were published."""

    what: str
    about: str
    version: int
    newest: int
    published_ms: int


def note(db: Session, publication: Publication, rows: Iterable[tuple[str, str]]) -> None:
    """Remember (hash, what) of the publication; what is known already stays."""
    known = {tuple(row) for row in db.execute(select(Evidence.sha256, Evidence.what).where(Evidence.publication == publication.id))}
    for sha256, what in dict.fromkeys(rows):
        if (sha256, what) not in known:
            db.add(Evidence(publication=publication.id, sha256=sha256, what=what))


def find(db: Session, sha256: str) -> list[Proof]:
    """Everything published with that hash, the newest version first, in whatever book of this server."""
    newest = select(func.max(Publication.version)).where(Publication.about == select(Publication.about).where(Publication.id == Evidence.publication).scalar_subquery())
    rows = select(Evidence.what, Publication.about, Publication.version, newest.scalar_subquery(), Publication.published_ms)
    joined = rows.join(Publication, Publication.id == Evidence.publication).where(Evidence.sha256 == sha256).order_by(Publication.published_ms.desc())
    return [Proof(*row) for row in db.execute(joined)]
