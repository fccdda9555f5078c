"""Bytes on the local disk by (space, SHA-256): written to a temporary file, hashed on the way, flushed, then renamed.

The methods, `path` left out, are all that a store of objects elsewhere would have to offer in its place.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import BinaryIO

from barnlight.store.place import flush

CHUNK = 256 * 1024
DAY_MS = 24 * 3600 * 1000
MOST_REMEMBERED = 4096  # files found whole; half a kilobyte each


class TooManyBytes(Exception):
    """The stream went on beyond the limit; nothing was kept."""


@dataclass(frozen=True)
class Incoming:
    """Bytes that arrived whole but are not kept yet."""

    path: Path
    sha256: str
    size: int


class DiskBlobs:
    """`root` is a folder of the server's own; it is made if missing."""

    def __init__(self, root: Path) -> None:
        self._root = root
        self._arriving = root / "arriving"
        self._arriving.mkdir(parents=True, exist_ok=True)

    @contextmanager
    def receive(self, stream: BinaryIO, limit: int) -> Iterator[Incoming]:
        """Take in a stream of at most `limit` bytes; it is thrown away at the end of the block unless `keep` was called.

        Raises TooManyBytes.
        """
        handle, name = tempfile.mkstemp(dir=self._arriving)
        path = Path(name)
        try:
            digest, size = hashlib.sha256(), 0
            with os.fdopen(handle, "wb") as file:
                while chunk := stream.read(CHUNK):
                    size += len(chunk)
                    if size > limit:
                        raise TooManyBytes(f"more than {limit} bytes")
                    digest.update(chunk)
                    file.write(chunk)
                file.flush()
                os.fsync(file.fileno())
            yield Incoming(path, digest.hexdigest(), size)
        finally:
            path.unlink(missing_ok=True)

    def keep(self, space: str, incoming: Incoming) -> None:
        """Give the bytes their final name, for good once this returns."""
        self._settle(incoming.path, self.path(space, incoming.sha256))

    def read(self, space: str, sha256: str) -> bytes:
        """All bytes. Raises FileNotFoundError."""
        return self.path(space, sha256).read_bytes()

    def has(self, space: str, sha256: str) -> bool:
        """Whether the bytes are here."""
        return self.path(space, sha256).is_file()

    def is_whole(self, space: str, sha256: str) -> bool:
        """Whether the bytes are here and still those of their hash, read to the last now: disks forget, and nobody tells."""
        try:
            return _digest(self.path(space, sha256)) == sha256
        except FileNotFoundError:
            return False

    def was_whole(self, space: str, sha256: str) -> bool:
        """The same, remembered for as long as the file is the same one, of the same size, last written and moved at the same time.

        What a disk changes behind these is not seen by this, but by `is_whole`.
        """
        path = self.path(space, sha256)
        try:
            about = path.stat()
            return _digest_remembered(path, about.st_ino, about.st_size, about.st_mtime_ns, about.st_ctime_ns) == sha256
        except FileNotFoundError:
            return False

    def derived(self, space: str, sha256: str, form: str, make: Callable[[bytes], bytes]) -> bytes:
        """Bytes that follow from the kept ones, such as a smaller picture: made once, then remembered under `form`.

        Raises FileNotFoundError if the kept bytes are not here.
        """
        path = self._root / "derived" / space / sha256[:2] / f"{sha256}.{form}"
        try:
            return path.read_bytes()
        except FileNotFoundError:
            made = make(self.read(space, sha256))
        handle, name = tempfile.mkstemp(dir=self._arriving)
        with os.fdopen(handle, "wb") as file:
            file.write(made)
        self._settle(Path(name), path)
        if not self.has(space, sha256):  # erased while it was made
            path.unlink(missing_ok=True)
        return made

    def remove(self, space: str, sha256: str) -> None:
        """Take the bytes and all that was derived from them off the disk; none there is no harm."""
        self.path(space, sha256).unlink(missing_ok=True)
        # Afterwards, so that what is being made of them now goes too: who makes it looks then whether they are still here.
        for derived in (self._root / "derived" / space / sha256[:2]).glob(f"{sha256}.*"):
            derived.unlink(missing_ok=True)

    def every(self) -> Iterator[tuple[str, str, int, int]]:
        """(space, hash, bytes, when written in ms) of all kept files."""
        for path in (self._root / "kept").glob("*/*/*"):
            about = path.stat()
            yield path.parts[-3], path.name, about.st_size, about.st_mtime_ns // 1_000_000

    def drop_arriving(self, now_ms: int) -> int:
        """Throw away what a power cut left of uploads of an earlier day; returns how many."""
        old = [path for path in self._arriving.iterdir() if path.stat().st_mtime_ns // 1_000_000 < now_ms - DAY_MS]
        for path in old:
            path.unlink(missing_ok=True)
        return len(old)

    def path(self, space: str, sha256: str) -> Path:
        """The file of the bytes, whether or not it is there; it is only ever read."""
        return self._root / "kept" / space / sha256[:2] / sha256

    def _settle(self, source: Path, target: Path) -> None:
        target.parent.mkdir(parents=True, exist_ok=True)
        source.replace(target)
        flush(target.parent)


def _digest(path: Path) -> str:
    digest = hashlib.sha256()
    with path.open("rb") as file:
        while chunk := file.read(CHUNK):
            digest.update(chunk)
    return digest.hexdigest()


@lru_cache(maxsize=MOST_REMEMBERED)
def _digest_remembered(path: Path, *_about: int) -> str:
    return _digest(path)
