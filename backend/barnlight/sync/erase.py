"""Erases a session or a seller on the server, and tells every device to drop it: the one way in which a value ever leaves."""

from __future__ import annotations

import secrets
from collections import Counter
from typing import Any

from sqlalchemy.orm import Session

from barnlight.errors import NotFound
from barnlight.store import erasing, orphans, records, spaces
from barnlight.store.blobs import DiskBlobs
from barnlight.store.engine import Database
from barnlight.store.erasing import Reach
from barnlight.store.partials import Partials
from barnlight.sync import own

AT_ONCE = 400  # what records.json lets one notice name


def preview(database: Database, space: str, kind: str, record: str) -> dict[str, Any]:
    """What would go, and what stays though it names what goes. Raises NotFound."""
    with database.read() as db:
        return told(_reach(db, space, kind, record))


def erase(database: Database, blobs: DiskBlobs, partials: Partials, space: str, kind: str, record: str, now_ms: int) -> dict[str, Any]:
    """Erase it everywhere on this server; devices drop it when they next ask. Returns what went. Raises NotFound."""
    with database.write() as db:
        spaces.lock(db, space)
        going = _reach(db, space, kind, record)
        take_out(db, going, now_ms)
    clear_away(database, blobs, partials, going)
    return told(going)


def take_out(db: Session, going: Reach, now_ms: int) -> None:
    """Delete the rows, loosen what stays, and write the notice for devices. `db` must be open for writing."""
    erasing.carry_out(db, going, now_ms)
    for loose in going.loose:
        own.write(db, going.space, loose["kind"], loose["id"], {"seller": None}, now_ms)
    notify(db, going.space, list(going.records), now_ms)


def notify(db: Session, space: str, ids: list[str], now_ms: int) -> None:
    """Ordinary changes of the server's own kind `erasure`, so that each device hears of it once and in order."""
    for start in range(0, len(ids), AT_ONCE):
        own.write(db, space, "erasure", secrets.token_hex(16), {"records": ids[start : start + AT_ONCE]}, now_ms)


def clear_away(database: Database, blobs: DiskBlobs, partials: Partials, going: Reach) -> None:
    """What lies outside the transaction: bytes on the disk, whole or half sent, and the pages the database has given up."""
    orphans.clear(database, blobs, going.space, going.media)
    for sha256 in going.named:
        partials.remove(going.space, sha256)
    database.forget()


def told(going: Reach) -> dict[str, Any]:
    """What goes, in numbers and names, for a person."""
    return {
        "records": dict(sorted(Counter(going.records.values()).items())), "changes": going.changes,
        "reports": [{"title": report["title"], "version": report["version"]} for report in going.reports], "links": going.links,
        "media": len(going.media), "media_bytes": sum(going.media.values()), "stays": going.loose,
    }


def _reach(db: Session, space: str, kind: str, record: str) -> Reach:
    if not records.load(db, space, kind, [record]):
        raise NotFound(f"There is no such {kind} on the server.", hint="Let the phone send its work first; what was erased before is gone already.")
    return erasing.reach(db, space, erasing.belonging(db, space, kind, record))
