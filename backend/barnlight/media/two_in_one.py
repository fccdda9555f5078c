"""Finds files that are a photo or sound by their first bytes and something else to who looks elsewhere.

No walk over a picture's parts sees what stands inside its squeezed pixels, or among the samples of a sound: decoders pass over it.
Sources: ZIP Appnote 6.3 (4.3.12, 4.3.16); PDF 32000-1:2008 7.5.2, and that readers look through the first 1024 bytes (common
practice, no source).
"""

from __future__ import annotations

import struct

ZIP_END, ZIP_ENTRY = b"PK\5\6", b"PK\1\2"
ZIP_END_BYTES, MOST_COMMENT_BYTES = 22, 65_535
PDF_START, PDF_WITHIN_BYTES = b"%PDF-", 1024


def second_kind(data: bytes) -> str | None:
    """What else these bytes are: "PDF", "ZIP" or None. By chance a photo is not: several right bytes must meet at the right places."""
    if data.find(PDF_START, 0, PDF_WITHIN_BYTES) >= 0:
        return "PDF"
    return "ZIP" if _holds_zip(data) else None


def _holds_zip(data: bytes) -> bool:
    """Readers look for the end record from the end on, and for its directory right before it."""
    begin = max(0, len(data) - ZIP_END_BYTES - MOST_COMMENT_BYTES)
    at = data.find(ZIP_END, begin)
    while at >= 0:
        if len(data) - at >= ZIP_END_BYTES:
            (directory_bytes,) = struct.unpack_from("<I", data, at + 12)
            if 0 <= at - directory_bytes and data.startswith(ZIP_ENTRY, at - directory_bytes):
                return True
        at = data.find(ZIP_END, at + 1)
    return False
