"""Sound files in and out: every depth, rate and channel count a recorder makes, and every way a file can be broken."""

import io
import struct
from collections.abc import Callable

import numpy as np
import pytest
import soundfile

from barnlight.media import RefusedMedia, audio

RATE_HZ = 48_000


def tone(seconds: float = 0.2, rate_hz: int = RATE_HZ) -> np.ndarray:
    return 0.5 * np.sin(2 * np.pi * 440 * np.arange(round(seconds * rate_hz)) / rate_hz)


def file_of(samples: np.ndarray, rate_hz: int = RATE_HZ, **kind: str) -> bytes:
    """Written by libsndfile, the reference for what the bytes should mean."""
    out = io.BytesIO()
    soundfile.write(out, samples, rate_hz, **({"format": "WAV", "subtype": "PCM_16"} | kind))
    return out.getvalue()


def patched(data: bytes, at: int, form: str, value: int) -> bytes:
    changed = bytearray(data)
    struct.pack_into(form, changed, at, value)
    return bytes(changed)


@pytest.mark.parametrize(
    ("form", "subtype", "within"),
    [
        *[(form, subtype, 1e-4) for form in ("WAV", "WAVEX") for subtype in ("PCM_16", "PCM_24", "PCM_32", "FLOAT", "DOUBLE")],
        ("WAV", "PCM_U8", 0.01),
        ("WAV", "IMA_ADPCM", 0.2),
    ],
)
def test_every_depth_reads(form, subtype, within):
    samples, rate_hz = audio.read_sound(file_of(tone(), format=form, subtype=subtype))
    assert rate_hz == RATE_HZ
    # A block codec fills its last block; all others keep the length.
    assert samples[: len(tone())] == pytest.approx(tone(), abs=within)


@pytest.mark.parametrize("rate_hz", [8_000, 11_025, 44_100, 96_000, 192_000])
def test_every_rate_reads(rate_hz):
    samples, found_hz = audio.read_sound(file_of(tone(rate_hz=rate_hz), rate_hz))
    assert (found_hz, len(samples)) == (rate_hz, round(0.2 * rate_hz))


@pytest.mark.parametrize("form", ["FLAC", "OGG", "AIFF"])
def test_other_recorders_formats_read(form):
    subtype = "VORBIS" if form == "OGG" else "PCM_16"
    samples, _ = audio.read_sound(file_of(tone(), format=form, subtype=subtype))
    assert len(samples) == len(tone())


def test_the_loudest_channel_is_taken_not_a_mix():
    both = np.stack([0.2 * tone(), -tone(), np.zeros_like(tone())], axis=1)
    samples, _ = audio.read_sound(file_of(both))
    assert samples == pytest.approx(-tone(), abs=1e-4)


def test_what_is_written_reads_back_and_is_what_the_store_takes():
    data = audio.to_wav(np.concatenate((tone(), [1.5, -1.5])), RATE_HZ)
    samples, rate_hz = soundfile.read(io.BytesIO(data))
    assert samples[:-2] == pytest.approx(tone(), abs=1 / 65_536)
    assert samples[-2:] == pytest.approx([1, -1], abs=1e-4)
    assert audio.check_wav(data) == {"rate_hz": RATE_HZ, "duration_ms": pytest.approx(200, abs=0.1)}


GOOD = file_of(tone())
NOT_SOUND: dict[str, tuple[Callable[[], bytes], str]] = {
    "empty": (lambda: b"", "empty"),
    "a letter": (lambda: b"R", "not_sound"),
    "text": (lambda: b"Dear buyer, " * 40, "not_sound"),
    "a picture": (lambda: b"\xff\xd8\xff\xe0" + bytes(200), "not_sound"),
    "header only": (lambda: GOOD[:44], "cut_short"),
    "half a header": (lambda: GOOD[:20], "cut_short"),
    "cut in the middle": (lambda: GOOD[: len(GOOD) // 2], "cut_short"),
    "data size lies": (lambda: patched(GOOD, 40, "<I", 0xFFFFFFF0), "cut_short"),
    "no channel": (lambda: patched(GOOD, 22, "<H", 0), "bad_header"),
    "rate 0": (lambda: patched(GOOD, 24, "<I", 0), "bad_rate"),
    "rate of gigahertz": (lambda: patched(GOOD, 24, "<I", 4_000_000_000), "bad_rate"),
    "frame size lies": (lambda: patched(GOOD, 32, "<H", 7), "bad_header"),
    "no bits": (lambda: patched(GOOD, 34, "<H", 0), "bad_header"),
    "no samples": (lambda: file_of(np.zeros(0)), "no_sound"),
    "not numbers": (lambda: file_of(np.full(100, np.nan), subtype="FLOAT"), "not_numbers"),
    "infinite": (lambda: file_of(np.full(100, np.inf), subtype="FLOAT"), "not_numbers"),
    "too long": (lambda: file_of(np.zeros(181 * 8_000), 8_000), "too_long"),
    "too much at its rate": (lambda: file_of(np.zeros(10_000_001), 192_000), "too_long"),
}


@pytest.mark.parametrize("name", NOT_SOUND)
def test_what_is_not_sound_is_refused_in_a_sentence(name):
    make, code = NOT_SOUND[name]
    with pytest.raises(RefusedMedia) as refused:
        audio.read_sound(make())
    assert refused.value.code == code
    assert refused.value.message.endswith(".") and refused.value.hint


def test_the_limit_is_said_in_minutes():
    with pytest.raises(RefusedMedia, match="longer than 3 minutes"):
        audio.read_sound(NOT_SOUND["too long"][0]())
    with pytest.raises(RefusedMedia, match=r"longer than 0\.9 minutes"):
        audio.read_sound(NOT_SOUND["too much at its rate"][0]())


def with_words() -> bytes:
    """A WAV with an INFO list, in which recorders write names and places."""
    note = b"LIST" + struct.pack("<I", 20) + b"INFOINAM" + struct.pack("<I", 8) + b"a place\0"
    return patched(GOOD + note, 4, "<I", len(GOOD) + len(note) - 8)


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (with_words(), "metadata"),
        (file_of(np.stack([tone(), tone()], axis=1)), "not_plain"),
        (file_of(tone(), subtype="PCM_24"), "not_plain"),
        (file_of(tone(), format="FLAC"), "not_wav"),
        (GOOD[:5000], "cut_short"),
    ],
)
def test_the_store_takes_only_plain_recordings(data, code):
    with pytest.raises(RefusedMedia) as refused:
        audio.check_wav(data)
    assert refused.value.code == code


def test_a_recording_with_words_is_still_measured():
    assert len(audio.read_sound(with_words())[0]) == len(tone())
