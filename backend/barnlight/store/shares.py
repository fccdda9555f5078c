"""Share links: a secret a recipient, kept only as its hash, that runs out and can be taken back."""

from __future__ import annotations

import hashlib
import secrets

from sqlalchemy import select
from sqlalchemy.orm import Session

from barnlight.store.models import Publication, ShareLink

TOKEN_BYTES = 24


def make(db: Session, publication: Publication, recipient: str, expires_ms: int, now_ms: int) -> tuple[str, ShareLink]:
    """A new link; the secret is returned this once."""
    token = secrets.token_urlsafe(TOKEN_BYTES)
    link = ShareLink(
        id=secrets.token_hex(16), space=publication.space, publication=publication.id, token_hash=_hash(token), recipient=recipient,
        created_ms=now_ms, expires_ms=expires_ms, revoked_ms=None, opened=0, leads_on=False, last_opened_day=None, pdf_hash=None,
    )
    db.add(link)
    db.flush()
    return token, link


def find(db: Session, token: str) -> tuple[ShareLink, Publication] | None:
    """The link of that secret and what it shows, whether or not it still holds (`is_open`)."""
    row = db.execute(
        select(ShareLink, Publication).join(Publication, Publication.id == ShareLink.publication).where(ShareLink.token_hash == _hash(token))
    ).first()
    return row and (row[0], row[1])


def is_open(link: ShareLink, now_ms: int) -> bool:
    """Whether the link still shows its report."""
    return link.revoked_ms is None and now_ms < link.expires_ms


def count_opening(db: Session, link: str, day: str) -> None:
    """Note that the page was opened; only the day is kept."""
    entry = db.get_one(ShareLink, link)
    entry.opened += 1
    entry.last_opened_day = day


def of_publications(db: Session, publications: list[str]) -> dict[str, list[ShareLink]]:
    """The links of each report, the oldest first."""
    found: dict[str, list[ShareLink]] = {publication: [] for publication in publications}
    rows = select(ShareLink).where(ShareLink.publication.in_(publications)).order_by(ShareLink.created_ms, ShareLink.id)
    for link in db.scalars(rows):
        found[link.publication].append(link)
    return found


def revoke(db: Session, space: str, link: str, now_ms: int) -> bool:
    """Take the link back; False if there is none of that id in the space."""
    entry = db.get(ShareLink, link)
    if entry is None or entry.space != space:
        return False
    entry.revoked_ms = entry.revoked_ms or now_ms
    return True


def lead_on(db: Session, space: str, link: str, leads_on: bool) -> bool:
    """Whether the link's reader may go on to a newer version; False if there is no such link in the space."""
    entry = db.get(ShareLink, link)
    if entry is None or entry.space != space:
        return False
    entry.leads_on = leads_on
    return True


def _hash(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()
