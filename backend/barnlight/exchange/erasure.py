"""Erases on the server and writes the list of erased ids beside the store and beside its backups by the clock."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from barnlight.services import Services
from barnlight.store import erased_list, erasing, records, spaces
from barnlight.store.erased_list import Gone
from barnlight.sync import erase as erasure


def erase(services: Services, space: str, kind: str, record: str, *, dry_run: bool) -> dict[str, Any]:
    """What went, or with `dry_run` would go; `lists` are the files that keep the ids. Raises NotFound."""
    if dry_run:
        return {**erasure.preview(services.database, space, kind, record), "lists": []}
    done = erasure.erase(services.database, services.blobs, space, kind, record, services.now_ms())
    return {**done, "lists": [str(path) for path in write_lists(services)]}


def write_lists(services: Services) -> list[Path]:
    """Bring the lists up to date with the store."""
    with services.database.read() as db:
        gone = erased_list.of_store(db)
    if not gone:
        return []
    copies = [Path(services.config.backup_dir).expanduser()] if services.config.backup_dir else []
    return [erased_list.write(folder, gone) for folder in [services.config.data_dir, *copies]]


def erase_again(services: Services, listed: Gone) -> int:
    """Take out what a store put back from a backup holds of records erased since; returns how many records that were."""
    now_ms, held = services.now_ms(), 0
    with services.database.read() as db:
        here = {space.id for space in spaces.every(db)}
    for space in sorted(listed.keys() & here):
        with services.database.write() as db:
            known = erasing.erased_among(db.connection(), space, listed[space])
            going = erasing.reach(db, space, {record: kind for record, kind in listed[space].items() if record not in known})
            held += len(records.load(db, space, ids=going.records))
            erasure.take_out(db, going, now_ms)
        erasure.clear_away(services.database, services.blobs, going)
    return held
