"""Makes the hostile and good media of this folder; run it again after a change: `python tests/files/make.py`.

Nothing here was taken with a camera or found anywhere: pictures are noise, places are made up.
"""

from __future__ import annotations

import io
import random
import struct
import sys
import zlib
from pathlib import Path

from PIL import Image

HERE = Path(__file__).parent
RIFF_HEADER = "<4sI4s4sIHHIIHH4sI"
GPS = 0x8825


def picture(kind: str, **more: object) -> bytes:
    """A small picture of noise, the same each time."""
    made = random.Random(7)
    out = io.BytesIO()
    Image.frombytes("RGB", (48, 32), bytes(made.randrange(256) for _ in range(48 * 32 * 3))).save(out, kind, **more)
    return out.getvalue()


def with_gps() -> bytes:
    exif = Image.Exif()
    exif[0x010F] = "NO SUCH MAKER"
    exif.get_ifd(GPS).update({1: "N", 2: (12.0, 34.0, 56.0), 3: "E", 4: (65.0, 43.0, 21.0)})
    return picture("JPEG", exif=exif)


def chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def bomb() -> bytes:
    """12,000 x 12,000 pixels of one bit, all alike: 17.5 kB that open as 144 million pixels."""
    header = struct.pack(">IIBBBBB", 12_000, 12_000, 1, 0, 0, 0, 0)
    rows = zlib.compress(bytes(1 + 12_000 // 8) * 12_000, 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


def with_text() -> bytes:
    png = picture("PNG")
    return png[:33] + chunk(b"tEXt", b"Comment\0made at a place that is nobody's business") + png[33:]


def wav(claimed: int, samples: int = 4410, channels: int = 1) -> bytes:
    """Silence whose header claims `claimed` bytes of sound."""
    body = bytes(2 * samples)
    align = 2 * channels
    return struct.pack(RIFF_HEADER, b"RIFF", 36 + claimed, b"WAVE", b"fmt ", 16, 1, channels, 44_100, 44_100 * align, align, 16, b"data", claimed) + body


FILES = {
    "good.jpg": lambda: picture("JPEG"),
    "good.png": lambda: picture("PNG"),
    "good.webp": lambda: picture("WEBP"),
    "good.wav": lambda: wav(8820),
    "empty.jpg": lambda: b"",
    "page.jpg": lambda: b"<!doctype html><script>alert(1)</script>",
    "drawing.jpg": lambda: b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>',
    "truncated.jpg": lambda: picture("JPEG")[:-200],
    "gps.jpg": with_gps,
    "comment.jpg": lambda: picture("JPEG", comment=b"a name"),
    "tail.jpg": lambda: picture("JPEG") + b"PK\x03\x04 and a program",
    "png_as.jpg": lambda: picture("PNG"),
    "text.png": with_text,
    "bomb.png": bomb,
    "profile.webp": lambda: picture("WEBP", icc_profile=bytes(128)),
    "moving.webp": lambda: picture("WEBP", save_all=True, append_images=[Image.new("RGB", (48, 32))]),
    "lying.wav": lambda: wav(2_000_000_000),
    "stereo.wav": lambda: wav(8820, channels=2),
}

if __name__ == "__main__":
    for name, make in FILES.items():
        (HERE / name).write_bytes(make())
        print(name, (HERE / name).stat().st_size, file=sys.stderr)
