"""The backup file: a zip of the database, the photos and sounds, and a manifest that tells the hash of each."""

from __future__ import annotations

import hashlib
import json
import re
import zipfile
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, BinaryIO

from barnlight.errors import BadInput, NotFound

FORMAT, VERSION = "barnlight-backup", 1
MANIFEST, DATABASE = "manifest.json", "barnlight.sqlite3"
MOST_MANIFEST_BYTES = 256 * 1024 * 1024
CHUNK = 256 * 1024

_MEDIA = re.compile(r"media/([0-9a-f]{32})/([0-9a-f]{64})")
_NAME = "barnlight-%Y%m%d-%H%M%S.zip"


def file_name(now_ms: int) -> str:
    """What a backup made at that moment is called; the moment is UTC."""
    return datetime.fromtimestamp(now_ms / 1000, UTC).strftime(_NAME)


def moment_of(name: str) -> datetime | None:
    """The moment in a name made by `file_name`; None for any other file."""
    try:
        return datetime.strptime(name, _NAME).replace(tzinfo=UTC)
    except ValueError:
        return None


def media_name(space: str, sha256: str) -> str:
    """Where a photo or sound lies in the zip."""
    return f"media/{space}/{sha256}"


def media_of(name: str) -> tuple[str, str] | None:
    """The space and hash of a name made by `media_name`; None for any other."""
    found = _MEDIA.fullmatch(name)
    return found and (found[1], found[2])


def chunks(stream: BinaryIO) -> Iterator[bytes]:
    """The bytes of a stream, a bounded piece at a time."""
    while piece := stream.read(CHUNK):
        yield piece


def open_backup(path: Path) -> zipfile.ZipFile:
    """Raises NotFound or BadInput."""
    if not path.is_file():
        raise NotFound(f"There is no file {path}.")
    try:
        return zipfile.ZipFile(path)
    except (zipfile.BadZipFile, OSError):
        raise damaged("it is not a zip file, or its end is missing") from None


def read_manifest(archive: zipfile.ZipFile) -> dict[str, Any]:
    """The manifest, its form checked. Raises BadInput."""
    try:
        if archive.getinfo(MANIFEST).file_size > MOST_MANIFEST_BYTES:
            raise damaged("its list of files is too long")
        manifest = json.loads(archive.read(MANIFEST))
    except (KeyError, ValueError, RecursionError, zipfile.BadZipFile, OSError, EOFError):
        raise damaged("its list of files is missing or cannot be read") from None
    if not isinstance(manifest, dict) or manifest.get("format") != FORMAT:
        raise BadInput("This file is not a backup of Barnlight.", hint="A file made by `barnlight export` or a phone goes in with `barnlight import`.")
    if manifest.get("version") != VERSION:
        raise BadInput("This backup was made by a newer version.", hint="Update Barnlight, then restore it.")
    files = manifest.get("files")
    if not isinstance(files, dict) or DATABASE not in files or not all(isinstance(digest, str) for digest in files.values()):
        raise damaged("its list of files is missing or cannot be read")
    if not all(name == DATABASE or media_of(name) for name in files):
        raise damaged("it lists a file that no backup holds")
    return manifest


def check(path: Path) -> dict[str, Any]:
    """Read every byte and compare it with the manifest, which is returned. Raises NotFound or BadInput."""
    with open_backup(path) as archive:
        manifest = read_manifest(archive)
        for name, expected in manifest["files"].items():
            digest = hashlib.sha256()
            for piece in member(archive, name):
                digest.update(piece)
            if digest.hexdigest() != expected:
                raise damaged(f"{name} is not what was written")
    return manifest


def member(archive: zipfile.ZipFile, name: str) -> Iterator[bytes]:
    """The bytes of one file in the zip. Raises BadInput."""
    try:
        with archive.open(name) as stream:
            yield from chunks(stream)
    except (KeyError, zipfile.BadZipFile, zipfile.LargeZipFile, OSError, EOFError, NotImplementedError, RuntimeError):
        raise damaged(f"{name} is missing or cannot be read") from None


def damaged(what: str) -> BadInput:
    """The refusal of a backup that is not whole."""
    return BadInput(f"This backup is damaged: {what}.", code="backup_damaged", hint="Use another copy of it.")
