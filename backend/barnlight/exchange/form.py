"""The open export format: one JSON document of changes, and the photos and sounds they name, each file named by its hash."""

from __future__ import annotations

import json
import re
from typing import Any, BinaryIO

from barnlight.errors import BadInput, TooLarge

FORMAT, VERSION = "barnlight-export", 1
DOCUMENT = "barnlight-export.json"
SUFFIX = {"image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp", "audio/wav": ".wav"}
MOST_BYTES = 64 * 1024 * 1024
MOST_CHANGES = 200_000
MOST_MEDIA = 5_000

_HASH = re.compile(r"[0-9a-f]{64}")
_MEDIA = re.compile(r"media/[0-9a-f]{64}\.(jpg|png|webp|wav)")


def read_document(stream: BinaryIO) -> dict[str, Any]:
    """The document of an export, its outer form checked; what it says is still a stranger's. Raises BarnlightError."""
    data = stream.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise TooLarge(f"{DOCUMENT} is larger than {MOST_BYTES // 1024 // 1024} MiB.")
    try:
        document = json.loads(data.decode("utf-8"))
    except (ValueError, RecursionError):
        raise BadInput(f"{DOCUMENT} is damaged: it is not JSON.", hint="Export again.") from None
    _check(document)
    return document


def media_name(entry: dict[str, Any]) -> str:
    """Where the bytes of a media entry lie: told by hash and type alone, whatever names or paths an export may speak of."""
    return f"media/{entry.get('hash')}{SUFFIX[entry['type']]}"


def is_own_name(name: str) -> bool:
    """Whether a file of this name can belong to an export."""
    return name == DOCUMENT or _MEDIA.fullmatch(name) is not None


def _check(document: Any) -> None:
    if not isinstance(document, dict) or document.get("format") != FORMAT:
        raise BadInput(f"{DOCUMENT} is not an export of Barnlight.")
    if document.get("version") != VERSION:
        raise BadInput("This export was made by a newer version.", hint="Update Barnlight, then import it.")
    changes, media = document.get("changes"), document.get("media")
    if not isinstance(changes, list) or not isinstance(media, list):
        raise BadInput(f"{DOCUMENT} is damaged: it lacks its changes or its media.", hint="Export again.")
    if len(changes) > MOST_CHANGES or len(media) > MOST_MEDIA:
        raise TooLarge(f"This export is larger than {MOST_CHANGES} changes or {MOST_MEDIA} files.")
    for entry in media:
        if not isinstance(entry, dict) or not _HASH.fullmatch(str(entry.get("hash"))) or entry.get("type") not in SUFFIX:
            raise BadInput(f"{DOCUMENT} is damaged: it lists a file without a hash or of a kind that is not taken.", field="media")
