"""Where an export lies: in a folder it was unpacked into, or still in its zip; either is a stranger's till checked."""

from __future__ import annotations

import struct
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, BinaryIO, Protocol

from barnlight.errors import BadInput, NotFound, TooLarge
from barnlight.exchange import form

# What the end of a zip says of its directory, which is read as a whole (PKWARE's APPNOTE 6.3.10, section 4.3.16).
END = struct.Struct("<4sHHHHIIH")
END_MARK, MOST_COMMENT = b"PK\x05\x06", 65_535
MOST_ENTRIES = 2 * form.MOST_MEDIA
MOST_DIRECTORY_BYTES = 4 * 1024 * 1024
MOST_TOTAL_BYTES = 8 * 1024 * 1024 * 1024
# JSON of a book packs to a tenth or so; photos and sounds hardly at all.
MOST_RATIO = 200
RATIO_FROM_BYTES = 1024 * 1024
BROKEN = (zipfile.BadZipFile, zipfile.LargeZipFile, EOFError, NotImplementedError, RuntimeError, OSError, ValueError, struct.error)


class Source(Protocol):
    """An export that can be read."""

    def document(self) -> dict[str, Any]:
        """What it holds, its outer form checked. Raises BarnlightError."""

    def open(self, entry: dict[str, Any]) -> Any:
        """A block in which the bytes of a media entry are a stream, or None if they are not in it. Raises BarnlightError."""


class Folder:
    """An export unpacked into a folder."""

    def __init__(self, path: Path) -> None:
        self._path = path

    def document(self) -> dict[str, Any]:
        path = self._path / form.DOCUMENT
        if not path.is_file():
            raise NotFound(f"There is no {form.DOCUMENT} in {self._path}.", hint="Choose the folder that an export was unpacked into.")
        with path.open("rb") as stream:
            return form.read_document(stream)

    @contextmanager
    def open(self, entry: dict[str, Any]) -> Iterator[BinaryIO | None]:
        path = self._path / form.media_name(entry)
        if not path.is_file():
            yield None
            return
        with path.open("rb") as stream:
            yield stream


class Zip:
    """An export in one file. Only names that an export gives are ever looked for; all others are ignored."""

    def __init__(self, archive: zipfile.ZipFile) -> None:
        self._archive = archive

    @classmethod
    @contextmanager
    def at(cls, path: Path) -> Iterator[Zip]:
        """Raises NotFound, BadInput or TooLarge."""
        if not path.is_file():
            raise NotFound(f"There is no file {path}.")
        _check_end(path)
        try:
            archive = zipfile.ZipFile(path)
        except BROKEN:
            raise _broken() from None
        with archive:
            _check_sizes(archive)
            yield cls(archive)

    def document(self) -> dict[str, Any]:
        if form.DOCUMENT not in self._archive.namelist():
            raise BadInput("This zip is not an export of Barnlight.", hint="A file made by `barnlight backup` is put back with `barnlight restore`.")
        try:
            with self._archive.open(form.DOCUMENT) as stream:
                return form.read_document(stream)
        except BROKEN:
            raise _broken() from None

    @contextmanager
    def open(self, entry: dict[str, Any]) -> Iterator[BinaryIO | None]:
        if form.media_name(entry) not in self._archive.namelist():
            yield None
            return
        try:
            with self._archive.open(form.media_name(entry)) as stream:
                yield stream
        except BROKEN:
            raise _broken() from None


def _check_end(path: Path) -> None:
    """Before anything is read by its directory: how large does the zip say that it is?"""
    with path.open("rb") as stream:
        size = stream.seek(0, 2)
        stream.seek(max(0, size - END.size - MOST_COMMENT))
        tail = stream.read()
    at = tail.rfind(END_MARK)
    if at < 0 or at + END.size > len(tail):
        raise BadInput("This file is not a zip, or its end is missing.", hint="Use another copy of it.")
    *_, entries, directory_bytes, _, _ = END.unpack_from(tail, at)
    # All ones point to a larger form, which no export of ours needs for its directory.
    if entries > MOST_ENTRIES or directory_bytes > MOST_DIRECTORY_BYTES:
        raise TooLarge(f"This zip holds more than {MOST_ENTRIES} files.")


def _check_sizes(archive: zipfile.ZipFile) -> None:
    """What it says of itself; the streams are bounded besides, since it may lie."""
    ours = [each for each in archive.infolist() if form.is_own_name(each.filename)]
    if sum(each.file_size for each in ours) > MOST_TOTAL_BYTES:
        raise TooLarge(f"This zip unpacks to more than {MOST_TOTAL_BYTES // 1024**3} GiB.")
    if any(each.file_size > RATIO_FROM_BYTES and each.file_size > MOST_RATIO * each.compress_size for each in ours):
        raise TooLarge("This zip unpacks to far more than an export of its size can hold.", code="zip_bomb")


def _broken() -> BadInput:
    return BadInput("This zip is damaged.", hint="Use another copy of it, or export again.")
