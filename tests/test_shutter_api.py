"""The server reads a synced recording again: the same figures as the domain, only for paired devices, and words for what is not sound."""

from __future__ import annotations

import io
import struct
from pathlib import Path

import numpy as np
import pytest
import soundfile
from flask import Flask
from phones import Phone, sha256

from barnlight.catalogue import load
from barnlight.domain.shutter_beside import measure_beside
from barnlight.media.audio import read_sound, to_wav

SOUNDS = Path(__file__).parent / "files" / "shutter_sound"


@pytest.fixture
def phone(app: Flask) -> Phone:
    return Phone(app).pair()


def kept(phone: Phone, name: str) -> tuple[str, bytes]:
    data = (SOUNDS / name).read_bytes()
    assert phone.put_media(data, "audio/wav").status_code == 200
    return sha256(data), data


def test_it_reads_what_the_domain_reads_and_again_the_same(phone: Phone) -> None:
    name, data = kept(phone, "50th.wav")
    expected = measure_beside(*read_sound(data), 0.02, load()["shutter_timing"])
    first = phone.get(f"/api/recordings/{name}/measure?marked=1/50").json
    assert (first["verdict"], first["open_time_s"], first["algorithm"]) == (expected["verdict"], expected["open_time_s"], expected["algorithm"])
    assert [firing["open_s"] for firing in first["firings"]] == [firing["open_s"] for firing in expected["firings"]]
    assert phone.get(f"/api/recordings/{name}/measure?marked=1/50").json == first


def test_the_gap_between_three_short_firings_is_never_a_clear_long_one(phone: Phone) -> None:
    name, _ = kept(phone, "50th_three.wav")
    found = phone.get(f"/api/recordings/{name}/measure?marked=1").json
    assert found["verdict"] in ("doubtful", "unusable")
    assert found["reason"] in ("several_firings_inside", "far_from_mark", "no_pair_stands_out")


def test_only_paired_devices_of_the_same_book_may_ask(app: Flask, phone: Phone) -> None:
    name, _ = kept(phone, "50th.wav")
    stranger = app.test_client().get(f"/api/recordings/{name}/measure?marked=1/50")
    assert (stranger.status_code, stranger.json["error"]["code"]) == (401, "not_paired")


@pytest.mark.parametrize("ask", ["marked=fast", "marked=", "marked=1/0", f"marked={'1' * 30}"])
def test_a_word_that_is_no_speed_is_said(phone: Phone, ask: str) -> None:
    name, _ = kept(phone, "50th.wav")
    answer = phone.get(f"/api/recordings/{name}/measure?{ask}")
    assert answer.status_code in (400, 422) and answer.json["error"]["message"]


@pytest.mark.parametrize("name", ["0" * 64, "not-a-hash", "..%2f..%2fetc"])
def test_a_recording_that_is_not_here_is_said(phone: Phone, name: str) -> None:
    answer = phone.get(f"/api/recordings/{name}/measure")
    assert answer.status_code == 404 and answer.json["error"]["message"]


def wav(samples: np.ndarray, rate_hz: int = 48_000, **kind: str) -> bytes:
    out = io.BytesIO()
    soundfile.write(out, samples, rate_hz, **({"format": "WAV", "subtype": "PCM_16"} | kind))
    return out.getvalue()


TONE = 0.3 * np.sin(np.arange(4_800))
BAD: dict[str, bytes] = {
    "empty": b"",
    "cut": to_wav(TONE, 48_000)[:3000],
    "lying header": to_wav(TONE, 48_000)[:40] + struct.pack("<I", 0x7FFFFFFF) + to_wav(TONE, 48_000)[44:],
    "floats without a value": wav(np.full(500, np.nan), subtype="FLOAT"),
    "picture under the name": b"\x89PNG\r\n\x1a\n" + bytes(300),
    "words under the name": b"Dear buyer, " * 50,
    "other sound under the name": wav(TONE, format="FLAC"),
    "four minutes at 8 kHz": to_wav(np.zeros(4 * 60 * 8_000), 8_000),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_recordings_are_refused_with_one_sentence_and_what_to_do(phone: Phone, name: str) -> None:
    answer = phone.put_media(BAD[name], "audio/wav")
    error = answer.json["error"]
    assert answer.status_code == 415 and error["message"].count(".") == 1 and error["hint"]


def test_a_slow_rate_is_taken_and_measured(phone: Phone) -> None:
    """8 kHz is the least a telephone records at; the answer may be doubtful or unusable, never a failure."""
    data = to_wav(0.2 * np.random.default_rng(3).standard_normal(16_000).clip(-1, 1), 8_000)
    assert phone.put_media(data, "audio/wav").status_code == 200
    assert phone.get(f"/api/recordings/{sha256(data)}/measure?marked=1/50").json["verdict"] in ("doubtful", "unusable")
