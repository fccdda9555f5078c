"""The list of erased ids, kept in files beside the store and its backups, so that no old copy brings them back."""

from __future__ import annotations

import json
import os
import re
import tempfile
from pathlib import Path
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from barnlight.errors import BadInput
from barnlight.store.models import Erased

NAME = "barnlight-erased.json"
FORMAT, VERSION = "barnlight-erased", 1

_ID = re.compile(r"[0-9a-f]{32}")

Gone = dict[str, dict[str, str]]  # space: {record: kind}


def of_store(db: Session) -> Gone:
    """What this store knows to be erased."""
    found: Gone = {}
    for row in db.scalars(select(Erased).order_by(Erased.space, Erased.record)):
        found.setdefault(row.space, {})[row.record] = row.kind
    return found


def read(path: Path) -> Gone:
    """The list in a file; none if the file is not there. Raises BadInput: a backup must not be restored past a list that is damaged."""
    try:
        said = json.loads(path.read_text(encoding="utf-8"))
        listed = said["spaces"] if (said["format"], said["version"]) == (FORMAT, VERSION) else None
    except FileNotFoundError:
        return {}
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        listed = None
    if not isinstance(listed, dict) or not all(isinstance(gone, dict) and all(map(_is_entry, gone.items())) for gone in listed.values()):
        raise BadInput(f"The list of erased records in {path} is damaged.", hint="Use another copy of it, or look what it said and take it away.")
    return listed


def both(one: Gone, other: Gone) -> Gone:
    """What either list names."""
    return {space: {**one.get(space, {}), **other.get(space, {})} for space in sorted({*one, *other})}


def write(folder: Path, gone: Gone) -> Path:
    """Add to the list in a folder, which holds ids and nothing else; returns its path. Raises OSError or BadInput."""
    path = folder / NAME
    folder.mkdir(parents=True, exist_ok=True)
    data: dict[str, Any] = {"format": FORMAT, "version": VERSION, "about": "Restoring a backup takes these out again.", "spaces": both(read(path), gone)}
    handle, unnamed = tempfile.mkstemp(dir=folder, prefix=".barnlight-erased-")
    with os.fdopen(handle, "w", encoding="utf-8") as file:
        json.dump(data, file, indent=1)
        file.flush()
        os.fsync(file.fileno())
    Path(unnamed).replace(path)
    return path


def _is_entry(entry: tuple[Any, Any]) -> bool:
    return isinstance(entry[0], str) and _ID.fullmatch(entry[0]) is not None and isinstance(entry[1], str)
