"""Uploads that are not whole yet, by (space, SHA-256): pieces are written where they belong, so that a cut loses one at most."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from barnlight.store.blobs import CHUNK, TooManyBytes

KEPT_S = 3 * 24 * 3600


class Gap(Exception):
    """The piece does not begin where the bytes that are here end; `received` says where that is."""

    def __init__(self, received: int) -> None:
        super().__init__(f"{received} bytes are here")
        self.received = received


class Partials:
    """`root` is a folder of the server's own, on the disk that keeps the blobs."""

    def __init__(self, root: Path) -> None:
        self._root = root

    def received(self, space: str, sha256: str) -> int:
        """How many bytes are here from the start on."""
        try:
            return self._path(space, sha256).stat().st_size
        except FileNotFoundError:
            return 0

    def add(self, space: str, sha256: str, stream: BinaryIO, offset: int, total: int) -> int:
        """Write a piece at its place; what arrived of one that was cut stays. Returns how many bytes are here then.

        Raises Gap, or TooManyBytes if the piece goes beyond `total`.
        """
        path, here = self._path(space, sha256), self.received(space, sha256)
        if offset > here:
            raise Gap(here)
        if not here:
            path.parent.mkdir(parents=True, exist_ok=True)
            self.drop_old()
        # Two senders of the same bytes write the same at the same place; others are found out by the hash.
        with open(os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o600), "r+b") as file:
            file.seek(offset)
            while chunk := stream.read(CHUNK):
                if file.tell() + len(chunk) > total:
                    raise TooManyBytes(f"more than {total} bytes")
                file.write(chunk)
                file.flush()
        return self.received(space, sha256)

    @contextmanager
    def whole(self, space: str, sha256: str) -> Iterator[BinaryIO]:
        """All bytes, to be copied: another sender may still have the file open and write into it. They are gone after the block."""
        path = self._path(space, sha256)
        try:
            with path.open("rb") as file:
                yield file
        except FileNotFoundError:  # another sender brought the last piece, too, and was quicker
            raise Gap(0) from None
        finally:
            path.unlink(missing_ok=True)

    def remove(self, space: str, sha256: str) -> None:
        """Throw away what is here of these bytes; nothing there is no harm."""
        self._path(space, sha256).unlink(missing_ok=True)

    def drop_old(self) -> int:
        """Throw away what nobody went on with for three days; returns how many."""
        old = [path for path in self._root.glob("*/*") if path.stat().st_mtime < time.time() - KEPT_S]
        for path in old:
            path.unlink(missing_ok=True)
        return len(old)

    def _path(self, space: str, sha256: str) -> Path:
        return self._root / space / sha256
