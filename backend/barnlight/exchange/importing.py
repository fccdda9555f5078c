"""Brings an export into a space: as changes that merge with what is there, so that nothing is overwritten."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Any

from barnlight.exchange.erasure import clear_away
from barnlight.exchange.intake import take_in
from barnlight.exchange.sources import Folder, Source, Zip
from barnlight.services import Services
from barnlight.store import changes as history
from barnlight.store import orphans
from barnlight.store.kinds import declared
from barnlight.sync.push import push
from barnlight.sync.validate import judge_shape

AT_ONCE = 500


@dataclass
class Imported:
    """What became of an export: changes by result (ok, duplicate, deferred, refused), and files by what happened to them."""

    changes: Counter[str] = field(default_factory=Counter)
    refused: list[dict[str, Any]] = field(default_factory=list)
    left_out: int = 0  # of published reports, which stay with the server that made them
    media: int = 0
    media_missing: list[str] = field(default_factory=list)


def import_folder(services: Services, space: str, folder: Path) -> Imported:
    """Import an unpacked export. Raises BarnlightError as `import_from` does."""
    return import_from(services, space, Folder(folder))


def import_zip(services: Services, space: str, path: Path) -> Imported:
    """Import an export from its zip, as a server or a phone made it. Raises BarnlightError as `import_from` does."""
    with Zip.at(path) as source:
        return import_from(services, space, source)


def import_from(services: Services, space: str, source: Source) -> Imported:
    """Import an export. Again is no harm. Raises BarnlightError for a document or a file that cannot be taken.

    Files come first: once the last change is there, everything is.
    """
    document, done = source.document(), Imported()
    for entry in document["media"]:
        with source.open(entry) as stream:
            if stream is None:
                done.media_missing.append(entry["hash"])
                continue
            take_in(services, space, entry["hash"], entry["type"], stream)
        done.media += 1
    changes = [{**change, "space": space} if isinstance(change, dict) else change for change in document["changes"] if not _of_another_server(change)]
    done.left_out = len(document["changes"]) - len(changes)
    for start in range(0, len(changes), AT_ONCE):
        _, results = push(services.database, space, space, changes[start : start + AT_ONCE], services.now_ms(), partial(clear_away, services))
        done.changes.update(result["result"] for result in results)
        done.refused += [result for result in results if result["result"] == "refused"]
    if erased := {result["id"] for result in done.refused if result["reason"] == "erased"}:
        done.media -= _take_back(services, space, [change for change in changes if judge_shape(change) is None and change["id"] in erased])
    return done


def is_imported(services: Services, space: str, folder: Path) -> bool:
    """Whether the space holds the last change of this export."""
    last = Folder(folder).document()["changes"][-1:]
    with services.database.read() as db:
        return all(judge_shape(change) is None and history.has(db, space, change["id"]) for change in last)


def _take_back(services: Services, space: str, refused: list[dict[str, Any]]) -> int:
    """Remove the files that only these changes name, of which nothing may come back; returns how many."""
    files = {sha256 for change in refused for sha256 in orphans.hashes_in(change["value"])}
    with services.database.write() as db:
        gone = orphans.unnamed_among(db, space, files)
        orphans.forget(db, gone)
    orphans.clear(services.database, services.blobs, space, [orphan.sha256 for orphan in gone])
    return len(gone)


def _of_another_server(change: Any) -> bool:
    """Whether it speaks of what only a server makes, such as a published report: that one is not in an export."""
    kind = change.get("kind") if isinstance(change, dict) else None
    return isinstance(kind, str) and declared()["kinds"].get(kind, {}).get("server_only", False)
