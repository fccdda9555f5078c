"""Brings an export into a space: as changes that merge with what is there, so that nothing is overwritten."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from barnlight.exchange.form import media_path, read_document
from barnlight.exchange.intake import take_in
from barnlight.services import Services
from barnlight.store import changes as history
from barnlight.sync.push import push
from barnlight.sync.validate import judge_shape

AT_ONCE = 500


@dataclass
class Imported:
    """What became of an export: changes by result (ok, duplicate, deferred, refused), and files by what happened to them."""

    changes: Counter[str] = field(default_factory=Counter)
    refused: list[dict[str, Any]] = field(default_factory=list)
    media: int = 0
    media_missing: list[str] = field(default_factory=list)


def import_folder(services: Services, space: str, folder: Path) -> Imported:
    """Import an unpacked export. Again is no harm. Raises BarnlightError for a document or a file that cannot be taken.

    Files come first: once the last change is there, everything is.
    """
    document, done = read_document(folder), Imported()
    for entry in document["media"]:
        path = media_path(folder, entry)
        if not path.is_file():
            done.media_missing.append(entry["hash"])
            continue
        with path.open("rb") as stream:
            take_in(services, space, entry["hash"], entry["type"], stream)
        done.media += 1
    changes = [{**change, "space": space} if isinstance(change, dict) else change for change in document["changes"]]
    for start in range(0, len(changes), AT_ONCE):
        _, results = push(services.database, space, space, changes[start : start + AT_ONCE], services.now_ms())
        done.changes.update(result["result"] for result in results)
        done.refused += [result for result in results if result["result"] == "refused"]
    return done


def is_imported(services: Services, space: str, folder: Path) -> bool:
    """Whether the space holds the last change of this export."""
    last = read_document(folder)["changes"][-1:]
    with services.database.read() as db:
        return all(judge_shape(change) is None and history.has(db, space, change["id"]) for change in last)
