"""Photos and sounds for the end-to-end tests, made here with nothing of the real world in them."""

from __future__ import annotations

import struct
import wave
from pathlib import Path

import numpy as np
from barnlight.demo.shutter_sound import Scene, recording
from PIL import Image, ImageDraw
from PIL.ExifTags import GPS, IFD, Base

# Chromium's fake microphone runs at this rate; any other is resampled on the way and loses time.
MICROPHONE_HZ = 44_100


def photo_with_gps(path: Path, colour: str = "sienna") -> Path:
    """A JPEG of 1600 x 1200 px as a phone makes it: with the place, the maker and the time in its EXIF."""
    picture = Image.linear_gradient("L").resize((1600, 1200)).convert("RGB")
    ImageDraw.Draw(picture).ellipse((500, 300, 1100, 900), fill=colour)
    exif = Image.Exif()
    exif[Base.Make] = "Invented camera works"
    exif[Base.DateTime] = "2026:05:02 10:00:00"
    exif.get_ifd(IFD.GPSInfo).update({GPS.GPSLatitudeRef: "N", GPS.GPSLatitude: (51.0, 30.0, 26.0),
                                      GPS.GPSLongitudeRef: "W", GPS.GPSLongitude: (0.0, 7.0, 39.0)})
    picture.save(path, exif=exif, quality=90)
    with Image.open(path) as made:
        assert made.getexif().get_ifd(IFD.GPSInfo), "the test photo must carry a place, or it proves nothing"
    return path


def firing(path: Path, open_time_s: float, seed: int = 9) -> Path:
    """A WAV of one firing of a made-up shutter that stays open for `open_time_s`, in a quiet room.

    The seed is one whose two clicks stand out: this is a test of the way, the engine's own tests cover the doubtful ones.
    """
    return firings(path, [open_time_s], seed=seed)


def firings(path: Path, open_times_s: list[float], *, rest_s: float = 0, before_s: float = 0, seed: int = 11) -> Path:
    """A WAV of several firings of one made-up shutter in a quiet room, `rest_s` between them and `before_s` of the room before all."""
    random = np.random.default_rng(seed)
    scene = Scene(snr_db=40.0, rate_hz=MICROPHONE_HZ, peak=(0.5, 0.6), gap_s=(rest_s, rest_s))
    sound, rate_hz, _ = recording(random, open_times_s=open_times_s, scene=scene)
    # The room goes on as loud as it is ahead of the first firing.
    room = random.normal(0, np.std(sound[: rate_hz // 5]), round(before_s * rate_hz))
    sound = np.concatenate([room, sound])
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(rate_hz)
        file.writeframes((sound * 32_767).astype("<i2").tobytes())
    return path


def quiet_hour(path: Path) -> Path:
    """A WAV of an hour of silence; sparse, so that it takes next to no room on the disk."""
    bytes_ = 2 * 3_600 * MICROPHONE_HZ
    header = struct.pack("<4sI4s4sIHHIIHH4sI", b"RIFF", 36 + bytes_, b"WAVE", b"fmt ", 16, 1, 1, MICROPHONE_HZ, 2 * MICROPHONE_HZ, 2, 16, b"data", bytes_)
    with path.open("wb") as file:
        file.write(header)
        file.truncate(len(header) + bytes_)
    return path
