"""Whether the squeezed part of a PNG holds the picture's pixels and nothing behind them: readers stop once they have all rows.

Source: PNG third edition (W3C), 7.2 scanlines, 8.1 interlace, 10.2 compression of the sequence of filtered scanlines.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator

SAMPLES = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}  # samples a pixel, by colour type
# First column and row, and steps between them, of the seven passes of Adam7.
ADAM7 = ((0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2))
PIECE_BYTES = 1 << 20
START_BYTES = 8


def only_pixels(data: bytes) -> bool:
    """Whether nothing stands behind the rows, squeezed or plain. `data`: a PNG whose parts and size were looked at, and which decodes."""
    width, height, depth, colour, _, _, interlaced = struct.unpack_from(">IIBBBBB", data, START_BYTES + 8)
    bits = depth * SAMPLES[colour]
    passes = ADAM7 if interlaced else ((0, 0, 1, 1),)
    left = sum(_rows_bytes(-(-(width - x) // dx), -(-(height - y) // dy), bits) for x, y, dx, dy in passes)
    unpacker = zlib.decompressobj()
    for squeezed in _squeezed(data):
        if unpacker.eof and squeezed:
            return False
        while squeezed:
            left -= len(unpacker.decompress(squeezed, PIECE_BYTES))
            if left < 0 or unpacker.unused_data:
                return False
            squeezed = unpacker.unconsumed_tail
    return True


def _rows_bytes(width: int, height: int, bits: int) -> int:
    """Bytes of the rows of a picture or pass: one for the filter, then the pixels; a pass without columns has no rows."""
    return height * (1 + -(-width * bits // 8)) if width > 0 and height > 0 else 0


def _squeezed(data: bytes) -> Iterator[bytes]:
    """What the IDAT chunks hold, one by one."""
    at = START_BYTES
    while at < len(data):
        length, name = struct.unpack_from(">I4s", data, at)
        if name == b"IDAT":
            yield data[at + 8 : at + 8 + length]
        at += 12 + length
