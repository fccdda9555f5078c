"""A photo of a dark room for the leak finder: turned upright, as plain pixels. Read to be looked at, never to be kept."""

from __future__ import annotations

from io import BytesIO

import numpy as np
from PIL import Image, ImageOps

from barnlight.media import RefusedMedia
from barnlight.media.containers import kind_of
from barnlight.media.image import AGAIN, DAMAGED, FORMATS, MOST_PIXELS


def upright_pixels(data: bytes) -> np.ndarray:
    """uint8 RGB (height, width, 3) of a JPEG, PNG or WebP, notes and all. Raises RefusedMedia with words for a person."""
    kind = kind_of(data)
    if kind is None:
        raise RefusedMedia("not_a_photo", "This file is not a JPEG, PNG or WebP picture.", "Choose a photo as the camera made it.")
    try:
        with Image.open(BytesIO(data), formats=[FORMATS[kind]]) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                raise Image.DecompressionBombWarning
            return np.asarray(ImageOps.exif_transpose(picture).convert("RGB"))
    except (Image.DecompressionBombWarning, Image.DecompressionBombError):
        most = MOST_PIXELS // 1_000_000
        raise RefusedMedia("too_many_pixels", f"This picture has more than {most} million pixels.", "Make it smaller first.") from None
    except DAMAGED:
        raise RefusedMedia("damaged", "This picture is damaged or cut short.", AGAIN) from None
