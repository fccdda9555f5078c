"""Puts a backup back: everything is checked and made ready beside the place, which is then taken."""

from __future__ import annotations

import hashlib
import os
import shutil
import tempfile
import zipfile
from dataclasses import dataclass, replace
from io import RawIOBase
from pathlib import Path
from typing import Any

from barnlight.backup import form
from barnlight.backup.writing import POSTGRES_HINT
from barnlight.config import Config
from barnlight.errors import ConfigError, Conflict, NotReady
from barnlight.exchange.erasure import erase_again, write_lists
from barnlight.services import Services
from barnlight.store import snapshot, spaces
from barnlight.store.blobs import DiskBlobs, TooManyBytes
from barnlight.store.erased_list import NAME, Gone, both, read
from barnlight.store.place import take

MOST_FILE_BYTES = 1024 * 1024 * 1024
BEFORE = "-before-"


@dataclass(frozen=True)
class Restored:
    """What was put back, and where the store that was there before lies now."""

    manifest: dict[str, Any]
    before: Path | None
    erased: int  # records taken out again, because they were erased since


def restore(path: Path, config: Config, *, replace_it: bool, now_ms: int) -> Restored:
    """Put the backup into `config.data_dir`. Raises BarnlightError; then nothing there has changed."""
    if config.database_url:
        raise ConfigError("A backup file is put back into a folder, not into a database elsewhere.", hint=POSTGRES_HINT)
    place = Path(os.path.abspath(config.data_dir))
    _require_free(place, replace_it)
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=place.parent, prefix=".barnlight-restore-") as work:
            ready = Path(work) / "store"
            manifest = _unpack(path, ready)
            # Opening brings an older backup's tables up to date.
            opened = Services.open(replace(config, data_dir=ready))
            erased = make_current(opened, both(read(path.parent / NAME), read(place / NAME)))
            opened.database.close()
            if config.tls_dir.is_dir():  # in no backup; without it every phone would have to trust this computer anew
                shutil.copytree(config.tls_dir, replace(config, data_dir=ready).tls_dir)
            moment = form.file_name(now_ms).removeprefix("barnlight-").removesuffix(".zip")
            before = place.with_name(f"{place.name}{BEFORE}{moment}")
            had_one = take(ready, place, before)
    except OSError as error:
        raise NotReady(f"The backup could not be put into {place}: {error.strerror}.", hint="Choose another folder or make room there.") from None
    return Restored(manifest, before if had_one else None, erased)


def make_current(services: Services, gone: Gone) -> int:
    """Take out what was erased since (the count of records is returned), and give every space a new epoch.

    Devices then offer all they hold, so that what was made since the backup comes back.
    """
    erased = erase_again(services, gone)
    write_lists(services)
    with services.database.write() as db:
        for space in spaces.every(db):
            spaces.renew_epoch(space)
    return erased


def kept_before(place: Path) -> list[Path]:
    """The stores that restoring with `replace_it` has put aside, the oldest first; nothing is ever erased in them."""
    return sorted(folder for folder in place.parent.iterdir() if folder.name.startswith(f"{place.name}{BEFORE}"))


def _require_free(place: Path, replace_it: bool) -> None:
    if not place.exists() or not any(place.iterdir()):
        return
    if not replace_it:
        raise Conflict(f"{place} is not empty.", hint="Choose another folder with --data, or add --replace: what is there is kept beside it.")
    database = place / form.DATABASE
    if database.is_file() and snapshot.is_in_use(database):
        raise Conflict("The server is running on this folder.", hint="Stop it, then restore.")


def _unpack(path: Path, ready: Path) -> dict[str, Any]:
    """Only names that a backup can hold are read, and their places follow from space and hash."""
    blobs = DiskBlobs(ready / "media")
    with form.open_backup(path) as archive:
        manifest = form.read_manifest(archive)
        database, digest = ready / form.DATABASE, hashlib.sha256()
        database.touch(mode=0o600, exist_ok=False)
        with database.open("wb") as target:
            for piece in form.member(archive, form.DATABASE):
                digest.update(piece)
                target.write(piece)
        if digest.hexdigest() != manifest["files"][form.DATABASE] or not snapshot.is_sound(database):
            raise form.damaged("its database is not what was written")
        for name in manifest["files"]:
            if (named := form.media_of(name)) is not None:
                _keep(archive, name, blobs, *named)
    return manifest


def _keep(archive: zipfile.ZipFile, name: str, blobs: DiskBlobs, space: str, sha256: str) -> None:
    try:
        with blobs.receive(_Stream(archive, name), MOST_FILE_BYTES) as incoming:
            if incoming.sha256 != sha256:
                raise form.damaged(f"{name} is not what was written")
            blobs.keep(space, incoming)
    except TooManyBytes:
        raise form.damaged(f"{name} is larger than any photo or sound") from None


class _Stream(RawIOBase):
    """A file in the zip as something to read from, whose faults are those of a damaged backup."""

    def __init__(self, archive: zipfile.ZipFile, name: str) -> None:
        self._pieces = form.member(archive, name)

    def read(self, _size: int = -1) -> bytes:
        return next(self._pieces, b"")
