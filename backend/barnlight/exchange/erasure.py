"""Erases on the server and writes the list of erased ids beside the store and beside its backups by the clock."""

from __future__ import annotations

import logging
from pathlib import Path
from typing import Any

from barnlight.errors import BarnlightError
from barnlight.services import Services
from barnlight.store import erased_list, erasing, records, spaces
from barnlight.store.erased_list import Gone
from barnlight.store.erasing import Reach
from barnlight.sync import erase as erasure

log = logging.getLogger(__name__)


def erase(services: Services, space: str, kind: str, record: str, *, dry_run: bool) -> dict[str, Any]:
    """What went, or with `dry_run` would go. `lists` are the files that keep the ids, `unlisted` the folders not reached. Raises NotFound."""
    if dry_run:
        return {**erasure.preview(services.database, space, kind, record), "lists": [], "unlisted": []}
    done = erasure.erase(services.database, services.blobs, services.partials, space, kind, record, services.now_ms())
    lists, unlisted = write_lists(services)
    return {**done, "lists": [str(path) for path in lists], "unlisted": [str(folder) for folder in unlisted]}


def write_lists(services: Services) -> tuple[list[Path], list[Path]]:
    """Bring the lists up to date with the store; returns them, and the folders that could not be written to.

    Such a folder, as of a disk that is not plugged in, gets its list with the next copy made there.
    """
    with services.database.read() as db:
        gone = erased_list.of_store(db)
    written: list[Path] = []
    missed: list[Path] = []
    if not gone:
        return written, missed
    copies = [Path(services.config.backup_dir).expanduser()] if services.config.backup_dir else []
    for folder in (services.config.data_dir, *copies):
        try:
            written.append(erased_list.write(folder, gone))
        except (OSError, BarnlightError) as error:
            log.error("The list of erased ids could not be written into %s: %s", folder, error)
            missed.append(folder)
    return written, missed


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
        clear_away(services, going)
    return held


def clear_away(services: Services, going: Reach) -> None:
    """Take off the disk what a transaction that erased these has left there."""
    erasure.clear_away(services.database, services.blobs, services.partials, going)
