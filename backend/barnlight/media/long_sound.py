"""A recording of any length, read in bounded memory: one pass for the outline of its clicks, then the stretches worth measuring."""

from __future__ import annotations

import mmap
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import soundfile

from barnlight.domain.shutter_stretch import ClickOutline, stretches
from barnlight.media import RefusedMedia
from barnlight.media.audio import check_header, checked, is_long, loudest_channel, opened

# What a WAV file of a phone can hold; the outline of its clicks stays small.
MOST_HOURS = 6
BLOCK_VALUES = 1 << 18


@dataclass(frozen=True)
class Stretch:
    """Mono samples, and which part of the recording they are; the whole of it from 0 on."""

    samples: np.ndarray
    rate_hz: int
    from_s: float
    to_s: float


def read_stretches(path: Path, limits: Mapping[str, float], tell: Callable[[float], None]) -> tuple[list[Stretch], bool]:
    """What to measure of a sound file, and whether it is only stretches of a long one.

    `limits`: `stretch` of the catalogue's `shutter_timing`; `tell` hears the share of a long file gone through, 0..1. Raises
    RefusedMedia with one sentence, OSError.
    """
    _check_file(path)
    with opened(str(path)) as file:
        rate_hz = file.samplerate
        if not is_long(file):
            samples = loudest_channel(checked(file.read(dtype="float32", always_2d=True)))
            return [Stretch(samples, rate_hz, 0, len(samples) / rate_hz)], False
        if file.frames > MOST_HOURS * 3600 * rate_hz:
            raise RefusedMedia("too_long", f"This recording is longer than {MOST_HOURS} hours.", "Cut it to the part with the firings.")
        outline = _outline(file, limits, tell)
        return [_part(file, span["from_s"], span["to_s"]) for span in stretches(outline.levels(), outline.frame_s, limits)], True


def _check_file(path: Path) -> None:
    """Looks at the header in place: an hour of sound is never read as a whole."""
    if path.stat().st_size == 0:
        check_header(b"")
    with path.open("rb") as file, mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as data:
        check_header(data)


def _outline(file: soundfile.SoundFile, limits: Mapping[str, float], tell: Callable[[float], None]) -> ClickOutline:
    outline = ClickOutline(file.samplerate, limits)
    for block in file.blocks(max(1, BLOCK_VALUES // file.channels), dtype="float32", always_2d=True):
        tell(min(1, file.tell() / file.frames))
        outline.add(checked(block))
    return outline


def _part(file: soundfile.SoundFile, from_s: float, to_s: float) -> Stretch:
    start = int(from_s * file.samplerate)
    file.seek(start)
    values = file.read(int(np.ceil(to_s * file.samplerate)) - start, dtype="float32", always_2d=True)
    return Stretch(loudest_channel(checked(values)), file.samplerate, start / file.samplerate, to_s)
