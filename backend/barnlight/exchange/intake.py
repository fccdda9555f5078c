"""Takes in one photo or sound: hashed while it streams, checked fully, on the disk before it is confirmed."""

from __future__ import annotations

import errno
from typing import BinaryIO

from barnlight.errors import BadInput, StoreFull, TooLarge, WrongKind
from barnlight.media import MOST_BYTES, RefusedMedia, audio
from barnlight.media.image import FORMATS, check_photo
from barnlight.services import Services
from barnlight.store import media
from barnlight.store.blobs import TooManyBytes

SOUND = "audio/wav"


def take_in(services: Services, space: str, sha256: str, kind: str, stream: BinaryIO) -> int:
    """Keep the bytes as they are, for good. Returns their number; bytes that are here already are confirmed again.

    Raises WrongKind, TooLarge, BadInput or StoreFull; then nothing is kept.
    """
    with services.database.read() as db:
        held = media.get(db, space, sha256)
    if held is not None and services.blobs.has(space, sha256):
        return held.bytes
    try:
        with services.blobs.receive(stream, MOST_BYTES) as incoming:
            if incoming.sha256 != sha256:
                raise BadInput("The bytes are not those of this hash: they were cut or changed on the way.", code="wrong_hash", hint="Send them again.")
            check(kind, incoming.path.read_bytes())
            services.blobs.keep(space, incoming)
    except TooManyBytes:
        raise TooLarge(f"This file is larger than {MOST_BYTES // 1024 // 1024} MiB.", hint="Send a smaller photo or a shorter recording.") from None
    except OSError as error:
        if error.errno != errno.ENOSPC:
            raise
        raise StoreFull("The server's disk is full; this file was not stored.", hint="Make room there; the phone keeps its copy.") from None
    # The row comes after the bytes: a power cut between the two leaves a file without a row, never a row without a file.
    with services.database.write() as db:
        media.add(db, space, sha256, kind, incoming.size, services.now_ms())
    return incoming.size


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
