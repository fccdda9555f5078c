"""Writes a backup while the server goes on, checks what was written, and only then gives it its name."""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
import zipfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from barnlight import __version__
from barnlight.backup import form
from barnlight.errors import BarnlightError, ConfigError, Conflict, NotReady
from barnlight.services import Services
from barnlight.store import erased_list, media, snapshot, spaces
from barnlight.store.engine import Database
from barnlight.store.place import flush

UNFINISHED = ".barnlight-backup-"
POSTGRES_HINT = "Copy the database with pg_dump and the folder of photos and sounds with any copying program, in this order."


@dataclass(frozen=True)
class Written:
    """A backup that was read back and found whole; `missing` names files the store itself has lost or that changed on its disk."""

    path: Path
    bytes: int
    files: int
    missing: list[str]


def write_backup(services: Services, target: Path) -> Written:
    """Write one file, or a file named by the moment if `target` is a folder. Raises BarnlightError; then there is no new file."""
    source = snapshot.sqlite_file(services.config.database)
    if source is None:
        raise ConfigError("Only a store that keeps its database in a file of its own is copied by this command.", hint=POSTGRES_HINT)
    path = target / form.file_name(services.now_ms()) if target.is_dir() else target
    if path.exists():
        raise Conflict(f"{path} is there already; a backup never overwrites another.", hint="Choose another name, or a folder.")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        # Beside its final place, so that taking its name is one step.
        with tempfile.TemporaryDirectory(dir=path.parent, prefix=UNFINISHED) as work:
            return _write(services, source, path, Path(work))
    except OSError as error:
        raise NotReady(f"The backup {path} could not be written: {error.strerror}.", hint="Choose another folder or make room there.") from None


def _write(services: Services, source: Path, path: Path, work: Path) -> Written:
    """The new file is for its owner alone: it holds everything."""
    database, unnamed = work / "database", work / "backup.zip"
    snapshot.copy_database(source, database)
    if not snapshot.is_sound(database):
        raise BarnlightError("The database itself is damaged, so no backup was made.", hint="Keep this folder as it is, and restore an earlier backup elsewhere.")
    held = _contents(database)
    files, missing = {}, []
    unnamed.touch(mode=0o600)
    with unnamed.open("wb") as stream:
        # What is photo or sound is packed already.
        with zipfile.ZipFile(stream, "w", zipfile.ZIP_STORED) as archive:
            files[form.DATABASE] = _add(archive, database, form.DATABASE, zipfile.ZIP_DEFLATED)
            for space, sha256 in held["media"]:
                name, kept = form.media_name(space, sha256), services.blobs.path(space, sha256)
                if not kept.is_file():
                    missing.append(sha256)
                elif (digest := _add(archive, kept, name)) == sha256:
                    files[name] = digest
                else:  # what is spoilt is not carried on; its name stays in the list of what is missing
                    missing.append(sha256)
            manifest = {
                "format": form.FORMAT, "version": form.VERSION, "made_by": f"Barnlight {__version__}", "made_ms": services.now_ms(),
                "spaces": held["spaces"], "files": files, "missing": missing,
            }
            archive.writestr(form.MANIFEST, json.dumps(manifest, ensure_ascii=False, indent=1), zipfile.ZIP_DEFLATED)
        stream.flush()
        os.fsync(stream.fileno())
    form.check(unnamed)
    size = unnamed.stat().st_size
    unnamed.replace(path)
    flush(path.parent)
    if held["erased"]:
        erased_list.write(path.parent, held["erased"])
    return Written(path, size, len(files) - 1, missing)


def _contents(database: Path) -> dict[str, Any]:
    """The spaces and media of the copy: not of the store, which has gone on since."""
    copy = Database(f"sqlite:///{database}")
    try:
        with copy.read() as db:
            held = [{"id": space.id, "name": space.name, "changes": space.last_number} for space in spaces.every(db)]
            return {"spaces": held, "media": [(row.space, row.hash) for row in media.every(db)], "erased": erased_list.of_store(db)}
    finally:
        copy.close()


def _add(archive: zipfile.ZipFile, path: Path, name: str, packing: int = zipfile.ZIP_STORED) -> str:
    """Put a file into the zip; returns the hash of the very bytes that went in."""
    digest, entry = hashlib.sha256(), zipfile.ZipInfo(name)
    entry.compress_type = packing
    with path.open("rb") as source, archive.open(entry, "w", force_zip64=True) as target:
        for piece in form.chunks(source):
            digest.update(piece)
            target.write(piece)
    return digest.hexdigest()
