"""The open export format: one JSON document of changes, and the photos and sounds they name, each file named by its hash."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from barnlight.errors import BadInput, NotFound, TooLarge

FORMAT, VERSION = "barnlight-export", 1
DOCUMENT = "barnlight-export.json"
SUFFIX = {"image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp", "audio/wav": ".wav"}
MOST_BYTES = 64 * 1024 * 1024
MOST_CHANGES = 200_000
MOST_MEDIA = 5_000

_HASH = re.compile(r"[0-9a-f]{64}")


def read_document(folder: Path) -> dict[str, Any]:
    """The document of an export, its outer form checked; what it says is still a stranger's. Raises BarnlightError."""
    path = folder / DOCUMENT
    if not path.is_file():
        raise NotFound(f"There is no {DOCUMENT} in {folder}.", hint="Choose the folder that an export was unpacked into.")
    if path.stat().st_size > MOST_BYTES:
        raise TooLarge(f"{DOCUMENT} is larger than {MOST_BYTES // 1024 // 1024} MiB.")
    try:
        document = json.loads(path.read_text(encoding="utf-8"))
    except (ValueError, RecursionError):
        raise BadInput(f"{DOCUMENT} is damaged: it is not JSON.", hint="Export again.") from None
    _check(document)
    return document


def media_path(folder: Path, entry: dict[str, Any]) -> Path:
    """Where the bytes of a media entry lie: told by hash and type alone, whatever names or paths an export may speak of."""
    return folder / "media" / f"{entry['hash']}{SUFFIX[entry['type']]}"


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
