"""Walks the parts a picture file is made of, and names the first that a clean photo does not have.

An allow-list: what carries pixels, size, resolution or plain colour numbers stays; all else may carry words, places, a
second picture or a program. Sources: JPEG ITU-T T.81 annex B and JFIF 1.02; PNG third edition (W3C); WebP container (RFC 9649).
Text, EXIF (APP1, eXIf, EXIF), XMP, comments, thumbnails, animations and colour profiles are refused: a profile may hold names
and serial numbers, so the phone turns colours to sRGB instead of sending one.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator

PNG_START = b"\x89PNG\r\n\x1a\n"
# With the most bytes that each may hold (sections 11.2 and 11.3 of the PNG standard): more of them would be words in disguise.
PNG_CLEAN = {
    b"IHDR": 13, b"PLTE": 768, b"IDAT": 2**31 - 1, b"IEND": 0, b"tRNS": 256, b"gAMA": 4, b"cHRM": 32, b"sRGB": 1, b"sBIT": 4,
    b"bKGD": 6, b"pHYs": 9,
}  # fmt: skip
WEBP_CLEAN = {b"VP8 ", b"VP8L", b"VP8X", b"ALPH"}
# Frame headers, tables, restart interval, scan: the parts of a JPEG that its pixels need.
JPEG_CLEAN = {*range(0xC0, 0xD0), 0xDA, 0xDB, 0xDD}
# A picture that gets sharper in steps has some ten scans. Each costs a pass over all pixels, however few bytes it has:
# thousands of them would keep the server busy for hours.
MOST_SCANS = 64
ADOBE_BYTES = 12  # of the colour transform's part, Adobe technical note 5116
EOI, SOS, APP0, APP14 = 0xD9, 0xDA, 0xE0, 0xEE


class Malformed(ValueError):
    """The file breaks the rules of its own format, or ends early."""


def kind_of(data: bytes) -> str | None:
    """The MIME type that the first bytes speak of; None for anything but JPEG, PNG and WebP."""
    if data.startswith(b"\xff\xd8\xff"):
        return "image/jpeg"
    if data.startswith(PNG_START):
        return "image/png"
    return "image/webp" if data[:4] == b"RIFF" and data[8:12] == b"WEBP" else None


def foreign_part(data: bytes, kind: str) -> str | None:
    """The name of the first part that a clean photo of this kind does not have, or None. Raises Malformed."""
    walk = {"image/jpeg": _jpeg_foreign, "image/png": _png_foreign, "image/webp": _webp_foreign}[kind]
    try:
        return next(walk(data), None)
    except (struct.error, IndexError):
        raise Malformed("the file ends early") from None


def _jpeg_foreign(data: bytes) -> Iterator[str]:
    at, scans = 2, 0
    while True:
        if data[at] != 0xFF:
            raise Malformed("a part does not begin where it should")
        while data[at] == 0xFF:  # fill bytes may stand before a marker
            at += 1
        marker, at = data[at], at + 1
        if marker == EOI:
            break
        (length,) = struct.unpack_from(">H", data, at)
        body = data[at + 2 : at + length]
        if length < 2 or len(body) != length - 2:
            raise Malformed("a part is shorter than it says")
        if not (marker in JPEG_CLEAN or (marker == APP0 and _is_bare_jfif(body)) or (marker == APP14 and _is_bare_adobe(body))):
            yield f"APP{marker - APP0}" if APP0 <= marker <= 0xEF else "comment" if marker == 0xFE else f"part {marker:02X}"
        at += length
        if marker == SOS:
            scans += 1
            if scans > MOST_SCANS:
                yield f"more than {MOST_SCANS} scans"
            at = _after_scan(data, at)
    if at != len(data):
        yield "bytes after the end"


def _is_bare_jfif(body: bytes) -> bool:
    """JFIF with no thumbnail: five letters, version, density, and a thumbnail of no width or height."""
    return len(body) == 14 and body[:5] == b"JFIF\0" and 0 in body[12:14]


def _is_bare_adobe(body: bytes) -> bool:
    """Which numbers the colours are, and no words behind it."""
    return len(body) == ADOBE_BYTES and body[:5] == b"Adobe"


def _after_scan(data: bytes, at: int) -> int:
    """Where the next marker stands after compressed data, in which FF is followed by 0 or a restart number."""
    while (at := data.find(b"\xff", at)) >= 0:
        following = data[at + 1]
        if following != 0 and not 0xD0 <= following <= 0xD7:
            return at
        at += 2
    raise Malformed("the picture ends early")


def _png_foreign(data: bytes) -> Iterator[str]:
    at, name = len(PNG_START), b""
    while name != b"IEND":
        length, name = struct.unpack_from(">I4s", data, at)
        if length > PNG_CLEAN.get(name, -1):
            yield f"chunk {name.decode('ascii', 'replace')}"
        at += 12 + length
        if at > len(data):
            raise Malformed("a chunk is shorter than it says")
    if at != len(data):
        yield "bytes after the end"


def _webp_foreign(data: bytes) -> Iterator[str]:
    (size,) = struct.unpack_from("<I", data, 4)
    end, at = 8 + size, 12
    if end > len(data):
        raise Malformed("the picture ends early")
    while at < end:
        name, length = struct.unpack_from("<4sI", data, at)
        if name not in WEBP_CLEAN:
            yield f"chunk {name.decode('ascii', 'replace')}"
        at += 8 + length + length % 2
    if at != len(data):
        yield "bytes after the end"
