"""A stranger's sound file in, mono samples out, through libsndfile; and the mono 16-bit WAV that is stored.

Layout of a WAV file after the RIFF/WAVE description of Microsoft and IBM (1991) and its extensible form.
"""

from __future__ import annotations

import io
import mmap
import struct
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, BinaryIO

import numpy as np
import soundfile

from barnlight.media import RefusedMedia
from barnlight.media.two_in_one import second_kind

# The longest recording measured as a whole; of a longer one, long_sound looks for the stretch with the firings.
LONGEST_MIN = 3
# Bounds the memory of measuring, whatever the rate: three minutes up to 55 kHz.
MOST_FRAMES = 10_000_000
MOST_VALUES = 4 * MOST_FRAMES
LEAST_RATE_HZ, MOST_RATE_HZ = 8_000, 384_000
# What stands before the sound in a WAV that holds nothing else: RIFF, its description, the length of the sound.
PLAIN = struct.Struct("<4sI4s4sIHHIIHH4sI")
PCM, FLOAT, EXTENSIBLE = 1, 3, 0xFFFE


def read_sound(data: bytes) -> tuple[np.ndarray, int]:
    """(mono samples as float32, full scale -1..1; samples a second) of a sound file. Raises RefusedMedia, one sentence."""
    check_header(data)
    with opened(io.BytesIO(data)) as file:
        if is_long(file):
            raise _too_long(file.channels, file.samplerate)
        return loudest_channel(checked(file.read(dtype="float32", always_2d=True))), file.samplerate


def check_header(data: bytes | mmap.mmap) -> None:
    """Raises RefusedMedia for a file that is empty, or a WAV whose header does not tell the truth."""
    if len(data) == 0:
        raise RefusedMedia("empty", "This file is empty.", "Record again, or choose another file.")
    if data[:4] == b"RIFF":
        wav_chunks(data)


@contextmanager
def opened(source: BinaryIO | str) -> Iterator[soundfile.SoundFile]:
    """The sound file at a path or in a stream, with at least one sample at a rate that can be measured. Raises RefusedMedia."""
    try:
        with soundfile.SoundFile(source) as file:
            _check_rate(file.samplerate)
            if file.frames == 0:
                raise RefusedMedia("no_sound", "This recording holds no sound.", "Record again.")
            yield file
    except soundfile.LibsndfileError:
        raise RefusedMedia("not_sound", "This file is not a sound recording that can be read.", "Choose a WAV file.") from None


def is_long(file: soundfile.SoundFile) -> bool:
    """Whether a recording is too long to be measured as a whole."""
    return file.frames > LONGEST_MIN * 60 * file.samplerate or file.frames > MOST_FRAMES or file.frames * file.channels > MOST_VALUES


def checked(values: np.ndarray) -> np.ndarray:
    """The samples, if they are there and all of them numbers. Raises RefusedMedia."""
    if len(values) == 0:
        raise RefusedMedia("no_sound", "This recording holds no sound.", "Record again.")
    if not np.isfinite(values).all():
        raise RefusedMedia("not_numbers", "This recording holds values that are no sound.", "Record again, or export it anew.")
    return values


def loudest_channel(values: np.ndarray) -> np.ndarray:
    """One channel, never a mix: two microphones hear a click at different moments, and a mix would hear it twice."""
    loudest = int(np.argmax(np.square(values, dtype=float).sum(axis=0)))
    return np.ascontiguousarray(values[:, loudest])


def check_wav(data: bytes) -> dict[str, Any]:
    """{rate_hz, duration_ms} of a WAV as the phone stores it: mono, 16-bit, nothing but sound inside. Raises RefusedMedia."""
    if data[:4] != b"RIFF":
        raise RefusedMedia("not_wav", "This file is not a WAV recording.", "Send what the app recorded.")
    foreign = [name for name in wav_chunks(data) if name not in ("fmt ", "data")]
    if foreign:
        raise RefusedMedia("metadata", f"This recording carries more than sound (part {foreign[0].strip()!r}).", "Record it through the app.")
    with_samples, rate_hz = read_sound(data)
    info = soundfile.info(io.BytesIO(data))
    if (info.channels, info.subtype) != (1, "PCM_16"):
        raise RefusedMedia("not_plain", "Recordings are kept as mono 16-bit WAV; this one is not.", "Send what the app recorded.")
    if len(data) % 2 or data[: PLAIN.size] != plain_header(len(data) - PLAIN.size, rate_hz):
        raise RefusedMedia("metadata", "This recording carries more than sound, in its header or behind its end.", "Record it through the app.")
    if (also := second_kind(data)) is not None:
        raise RefusedMedia("metadata", f"This recording carries more than sound: it is a {also}, too.", "Record it through the app.")
    return {"rate_hz": rate_hz, "duration_ms": 1000 * len(with_samples) / rate_hz}


def to_wav(samples: np.ndarray, rate_hz: int) -> bytes:
    """A mono 16-bit WAV file of the samples (full scale -1..1; beyond is cut)."""
    whole = np.clip(np.floor(np.asarray(samples, float) * 32768 + 0.5), -32768, 32767).astype("<i2")
    body = whole.tobytes()
    return plain_header(len(body), rate_hz) + body


def plain_header(sound_bytes: int, rate_hz: int) -> bytes:
    """What stands before so many bytes of mono 16-bit sound; nothing in it can be otherwise."""
    return PLAIN.pack(b"RIFF", 36 + sound_bytes, b"WAVE", b"fmt ", 16, PCM, 1, rate_hz, 2 * rate_hz, 2, 16, b"data", sound_bytes)


def wav_chunks(data: bytes | mmap.mmap) -> list[str]:
    """The names of a WAV file's parts, once its header is found to tell the truth. Raises RefusedMedia."""
    if data[8:12] != b"WAVE":
        raise RefusedMedia("not_sound", "This file is not a sound recording that can be read.", "Choose a WAV file.")
    names, at, with_format = [], 12, False
    while at + 8 <= len(data):
        name, size = struct.unpack_from("<4sI", data, at)
        names.append(name.decode("latin-1"))
        if at + 8 + size > len(data):
            raise RefusedMedia("cut_short", "This recording is cut short: its header promises more than is there.", "Copy it again.")
        if name == b"fmt ":
            _check_format(data[at + 8 : at + 8 + size])
            with_format = True
        at += 8 + size + size % 2
    if not with_format or "data" not in names:
        raise RefusedMedia("cut_short", "This WAV file is cut short: it holds no sound.", "Copy it again.")
    return names


def _check_format(body: bytes) -> None:
    if len(body) < 16:
        raise RefusedMedia("bad_header", "This WAV file's header is damaged.", "Record again, or export it anew.")
    tag, channels, rate_hz, _, align, bits = struct.unpack_from("<HHIIHH", body)
    if tag == EXTENSIBLE and len(body) >= 26:
        (tag,) = struct.unpack_from("<H", body, 24)
    if tag in (PCM, FLOAT) and (channels == 0 or bits == 0 or align != channels * bits // 8):
        raise RefusedMedia("bad_header", "This WAV file's header contradicts itself.", "Record again, or export it anew.")
    _check_rate(rate_hz)


def _check_rate(rate_hz: int) -> None:
    if not LEAST_RATE_HZ <= rate_hz <= MOST_RATE_HZ:
        raise RefusedMedia(
            "bad_rate", f"This recording says {rate_hz} samples a second; {LEAST_RATE_HZ} to {MOST_RATE_HZ} can be measured.", "Record again."
        )


def _too_long(channels: int, rate_hz: int) -> RefusedMedia:
    at_most_s = min(LONGEST_MIN * 60, MOST_FRAMES / rate_hz, MOST_VALUES / (rate_hz * channels))
    most = f"{LONGEST_MIN} minutes" if at_most_s == LONGEST_MIN * 60 else f"{at_most_s / 60:.1f} minutes, the most at its rate"
    return RefusedMedia("too_long", f"This recording is longer than {most}.", "Cut it to the firings of one speed.")
