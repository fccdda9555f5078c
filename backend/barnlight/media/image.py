"""Photos from strangers: decoded fully to check, refused if anything but a picture is in them, made smaller for reports."""

from __future__ import annotations

import struct
import threading
import warnings
import zlib
from dataclasses import dataclass
from io import BytesIO

from PIL import Image

from barnlight.media import RefusedMedia
from barnlight.media.containers import Malformed, foreign_part, kind_of
from barnlight.media.png_pixels import only_pixels
from barnlight.media.two_in_one import second_kind

FORMATS = {"image/jpeg": "JPEG", "image/png": "PNG", "image/webp": "WEBP"}
MOST_PIXELS = 60_000_000
REPORT_PX = 1280
REPORT_QUALITY = 82

# The library only warns above its limit and fails at twice that: here the warning is the failure.
Image.MAX_IMAGE_PIXELS = MOST_PIXELS
warnings.filterwarnings("error", category=Image.DecompressionBombWarning)

# A picture of 60 million pixels takes 240 MB while it is open: no more than two at a time, whoever sends them.
OPENING = threading.BoundedSemaphore(2)

AGAIN = "Take the photo again, or choose another file."
# What the decoders are known to raise on damaged files, beside our own walk over the file's parts.
DAMAGED = (Malformed, OSError, SyntaxError, ValueError, EOFError, IndexError, OverflowError, struct.error, zlib.error)


@dataclass(frozen=True)
class Photo:
    """What a checked photo is."""

    type: str
    width: int
    height: int


def check_photo(data: bytes) -> Photo:
    """Decode every pixel of an untrusted file. Raises RefusedMedia with words for a person."""
    kind = kind_of(data)
    if kind is None:
        raise RefusedMedia("not_a_photo", "This file is not a JPEG, PNG or WebP picture.", AGAIN)
    try:
        foreign = foreign_part(data, kind) or second_kind(data)
        if foreign is not None:
            raise _more_than_pixels(foreign)
        with OPENING, Image.open(BytesIO(data), formats=[FORMATS[kind]]) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                raise Image.DecompressionBombWarning
            picture.load()
            photo = Photo(kind, *picture.size)
        if kind == "image/png" and not only_pixels(data):
            raise _more_than_pixels("bytes behind the last row")
        return photo
    except RefusedMedia:
        raise
    except (Image.DecompressionBombWarning, Image.DecompressionBombError):
        most = MOST_PIXELS // 1_000_000
        raise RefusedMedia("too_many_pixels", f"This picture has more than {most} million pixels.", "Send a smaller one.") from None
    except DAMAGED:
        raise RefusedMedia("damaged", "This picture is damaged or cut short.", AGAIN) from None


def _more_than_pixels(what: str) -> RefusedMedia:
    return RefusedMedia(
        "metadata", f"This picture carries more than its pixels ({what}).",
        "Add it in the app, which takes out place, date and camera before it keeps a photo.",
    )  # fmt: skip


def for_report(data: bytes) -> bytes:
    """A checked photo as a JPEG of at most 1280 px a side, on white where it was see-through."""
    with OPENING, Image.open(BytesIO(data), formats=list(FORMATS.values())) as picture:
        picture.draft("RGB", (REPORT_PX, REPORT_PX))  # lets a large JPEG be decoded at a fraction of its size
        picture.thumbnail((REPORT_PX, REPORT_PX))
        flat = Image.new("RGB", picture.size, "white")
        opaque = picture.convert("RGBA")
        flat.paste(opaque, mask=opaque.getchannel("A"))
    out = BytesIO()
    flat.save(out, "JPEG", quality=REPORT_QUALITY, optimize=True)
    return out.getvalue()
