"""Takes in one photo or sound: hashed while it streams, checked fully, on the disk before it is confirmed."""

from __future__ import annotations

import errno
from collections.abc import Iterator
from contextlib import contextmanager
from typing import BinaryIO

from barnlight.errors import BadInput, Conflict, StoreFull, TooLarge, WrongKind
from barnlight.media import MOST_BYTES, RefusedMedia, audio
from barnlight.media.image import FORMATS, check_photo
from barnlight.services import Services
from barnlight.store import media
from barnlight.store.blobs import Incoming, TooManyBytes
from barnlight.store.partials import Gap

SOUND = "audio/wav"


def take_in(services: Services, space: str, sha256: str, kind: str, stream: BinaryIO) -> int:
    """Keep the bytes as they are, for good. Returns their number; bytes that are here already are confirmed again.

    Raises WrongKind, TooLarge, BadInput or StoreFull; then nothing is kept.
    """
    if (held := bytes_held(services, space, sha256)) is not None:
        return held
    with _said_plainly(), services.blobs.receive(stream, MOST_BYTES) as incoming:
        _keep(services, space, sha256, kind, incoming)
        return incoming.size


def take_piece(services: Services, space: str, sha256: str, kind: str, stream: BinaryIO, offset: int, total: int) -> tuple[int, bool]:
    """Take a piece of the bytes; once all are here they are kept. Returns how many are here, and whether they are kept.

    Raises Conflict `offset` (with `received`) if a piece before it is missing, and what `take_in` raises; then all begins anew.
    """
    if (held := bytes_held(services, space, sha256)) is not None:
        return held, True
    if total > MOST_BYTES:
        raise _too_large()
    with _said_plainly():
        try:
            received = services.partials.add(space, sha256, stream, offset, total)
            if received < total:
                return received, False
            with services.partials.whole(space, sha256) as pieces, services.blobs.receive(pieces, MOST_BYTES) as incoming:
                _keep(services, space, sha256, kind, incoming)
        except Gap as gap:
            raise Conflict("A piece before this one is missing.", code="offset", hint="Go on from `received`.", received=gap.received) from None
        return total, True


def bytes_held(services: Services, space: str, sha256: str) -> int | None:
    """How many bytes these are, if they are here, confirmed and whole; damaged ones are taken anew."""
    with services.database.read() as db:
        held = media.get(db, space, sha256)
    return held.bytes if held is not None and services.blobs.is_whole(space, sha256) else None


def _keep(services: Services, space: str, sha256: str, kind: str, incoming: Incoming) -> None:
    if incoming.sha256 != sha256:
        raise BadInput("The bytes are not those of this hash: they were cut or changed on the way.", code="wrong_hash", hint="Send them again.")
    check(kind, incoming.path.read_bytes())
    # The row is there after the bytes: a power cut between the two leaves a file without a row, never a row without a file. Under the
    # store's lock: who takes bytes off the disk looks under it whether they have a row.
    with services.database.write() as db:
        services.blobs.keep(space, incoming)
        media.add(db, space, sha256, kind, incoming.size, services.now_ms())


@contextmanager
def _said_plainly() -> Iterator[None]:
    """A stream without end and a full disk, in words for a person."""
    try:
        yield
    except TooManyBytes:
        raise _too_large() from None
    except OSError as error:
        if error.errno != errno.ENOSPC:
            raise
        raise StoreFull("The server's disk is full; this file was not stored.", hint="Make room there; the phone keeps its copy.") from None


def _too_large() -> TooLarge:
    return TooLarge(f"This file is larger than {MOST_BYTES // 1024 // 1024} MiB.", hint="Send a smaller photo or a shorter recording.")


def check(kind: str, data: bytes) -> None:
    """Whether the bytes are a clean photo or sound of the kind they claim. Raises WrongKind."""
    try:
        if kind == SOUND:
            audio.check_wav(data)
        elif kind not in FORMATS:
            raise RefusedMedia("kind_not_taken", "Only JPEG, PNG or WebP photos and WAV recordings are taken.")
        elif (found := check_photo(data).type) != kind:
            raise RefusedMedia("other_kind", f"This file says it is {kind}, but it is {found}.")
    except RefusedMedia as refused:
        raise WrongKind(refused.message, code=refused.code, hint=refused.hint) from None
