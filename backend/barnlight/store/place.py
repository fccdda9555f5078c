"""The folder of a store, and how another store takes its place: a cut at any moment leaves a whole one there, or the next start puts it there."""

from __future__ import annotations

import os
import shutil
from pathlib import Path


def take(ready: Path, place: Path, before: Path) -> bool:
    """Move the whole store `ready`, on the same disk, to `place`; whether one was there, which is at `before` then. Raises OSError; then all is as it was."""
    waits = _waits_for(place)
    shutil.rmtree(waits, ignore_errors=True)  # of an earlier try that was cut before it moved anything away
    ready.rename(waits)  # from now on it only waits
    kept = place.exists() and any(place.iterdir())
    try:
        if kept:
            place.rename(before)
        elif place.exists():
            place.rmdir()
        finish(place)
    except OSError:
        if kept and not place.exists():
            before.rename(place)
        waits.rename(ready)
        raise
    flush(place.parent)
    return kept


def finish(place: Path) -> bool:
    """Move in the store that waits for this place, if the one before is out of the way; whether there was one. Raises OSError."""
    waits = _waits_for(place)
    if place.exists() or not waits.is_dir():
        return False
    waits.rename(place)
    return True


def flush(folder: Path) -> None:
    """A rename is safe only once its folder is on the disk too."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _waits_for(place: Path) -> Path:
    whole = Path(os.path.abspath(place))  # "." has no name
    return whole.parent / f".barnlight-restored-{whole.name}"
