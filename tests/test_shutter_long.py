"""A recording of any length: the firings are found in bounded memory, alike on phone and server, and it can be stopped."""

import io
import json
import struct
import sys
import tracemalloc
from pathlib import Path

import numpy as np
import pytest
import soundfile
from made_long_sound import RECIPE, made_long_sound

from barnlight.catalogue import load
from barnlight.cli import main
from barnlight.domain.shutter_stretch import ClickOutline, stretches
from barnlight.media.audio import to_wav

LIMITS = load()["shutter_timing"]["stretch"]
MEMORY_MOST = 40 * 1024 * 1024


@pytest.fixture
def long_file(tmp_path: Path) -> Path:
    path = tmp_path / "long.wav"
    path.write_bytes(made_long_sound())
    return path


def test_levels_are_the_energy_of_the_differences_whatever_the_blocks() -> None:
    # Outside truth: the definition, written out with NumPy on the whole sound at once.
    values = np.random.default_rng(4).uniform(-1, 1, (4_123, 2)) * [1.0, 0.3]
    steps = np.diff(values, axis=0, prepend=values[:1])
    whole = steps[: len(steps) // 40 * 40].reshape(-1, 40, 2)
    expected = np.round(100 * np.log10(np.square(whole).mean(axis=1).max(axis=1) + 1e-12))
    for block in (1, 39, 40, 1_000, 9_999):
        outline = ClickOutline(8_000, LIMITS)
        for at in range(0, len(values), block):
            outline.add(values[at : at + block])
        assert outline.levels().tolist() == expected.tolist()


def test_the_outline_and_the_stretches_are_those_of_the_phone() -> None:
    samples, rate_hz = soundfile.read(io.BytesIO(made_long_sound()), dtype="float32", always_2d=True)
    outline = ClickOutline(rate_hz, LIMITS)
    outline.add(samples)
    assert int(outline.levels().sum()) == RECIPE["levels_sum"]
    assert stretches(outline.levels(), outline.frame_s, LIMITS) == RECIPE["stretches"]


def test_the_command_measures_the_stretch_with_the_firings(long_file: Path, capsys: pytest.CaptureFixture) -> None:
    assert main(["timing", str(long_file), "--marked", RECIPE["marked"]]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["stretch"] == RECIPE["stretch"]
    # Outside truth: the moments at which the recipe puts its clicks, from the start of the file.
    firings = [(round(one["open_s"], 2), round(one["open_time_s"], 3)) for one in found["firings"]]
    assert firings == [(90.0, 0.2), (97.0, 0.205), (103.0, 0.198)]
    assert found["stretch"]["from_s"] <= 90 - 0.5 and found["stretch"]["to_s"] >= 103.198 + 0.5


def hour(path: Path, subtype: str = "PCM_16") -> None:
    with soundfile.SoundFile(path, "w", 8_000, 1, subtype) as file:
        for minute in range(60):
            block = np.zeros(60 * 8_000)
            if minute == 30:
                block[[100, 1_700]] = 0.5
            file.write(block)


def test_an_hour_takes_no_more_memory_than_a_few_blocks(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    hour(tmp_path / "hour.wav")
    tracemalloc.start()
    try:
        assert main(["timing", str(tmp_path / "hour.wav"), "--marked", "1/5"]) == 0
        _, most = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert json.loads(capsys.readouterr().out)["stretch"]["from_s"] == pytest.approx(1_800 - 1, abs=0.1)
    # As 32-bit samples the hour is 115 MB; NumPy reports its memory to tracemalloc.
    assert most < MEMORY_MOST


def test_progress_is_told_to_who_watches_and_to_no_file(long_file: Path, capsys: pytest.CaptureFixture, monkeypatch: pytest.MonkeyPatch) -> None:
    assert main(["timing", str(long_file)]) == 0
    assert capsys.readouterr().err == ""
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    assert main(["timing", str(long_file)]) == 0
    assert "looking for the firings: 100%" in capsys.readouterr().err


def test_ctrl_c_stops_it_with_one_line(long_file: Path, capsys: pytest.CaptureFixture, monkeypatch: pytest.MonkeyPatch) -> None:
    def pressed(self: ClickOutline, values: np.ndarray) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(ClickOutline, "add", pressed)
    assert main(["timing", str(long_file)]) == 130
    out, error = capsys.readouterr()
    assert out == "" and error.strip() == "barnlight: stopped; nothing was measured."


def _cut(data: bytes) -> bytes:
    return data[: len(data) // 2]


def _with_nan(data: bytes) -> bytes:
    out = io.BytesIO()
    samples, rate_hz = soundfile.read(io.BytesIO(data), dtype="float32")
    samples[len(samples) // 2] = np.nan
    soundfile.write(out, samples, rate_hz, format="WAV", subtype="FLOAT")
    return out.getvalue()


def _lying(data: bytes) -> bytes:
    return data[:40] + struct.pack("<I", 0xFFFFFFF0) + data[44:]


@pytest.mark.parametrize(("spoil", "said"), [(_cut, "cut short"), (_with_nan, "no sound"), (_lying, "cut short")])
def test_a_long_file_that_is_broken_is_said_in_one_line(tmp_path: Path, capsys: pytest.CaptureFixture, spoil, said) -> None:
    (tmp_path / "long.wav").write_bytes(spoil(to_wav(np.zeros(200 * 8_000), 8_000)))
    assert main(["timing", str(tmp_path / "long.wav")]) == 2
    out, error = capsys.readouterr()
    assert out == "" and said in error and len(error.splitlines()) == 1


def test_more_than_six_hours_are_refused_before_they_are_read(tmp_path: Path, capsys: pytest.CaptureFixture, monkeypatch: pytest.MonkeyPatch) -> None:
    bytes_ = int(6.1 * 3600 * 8_000) * 2
    path = tmp_path / "night.wav"
    header = bytearray(to_wav(np.zeros(1), 8_000)[:44])
    struct.pack_into("<I", header, 40, bytes_)
    with path.open("wb") as file:
        file.write(header)
        file.truncate(44 + bytes_)  # sparse, so that it takes no room
    monkeypatch.setattr(ClickOutline, "add", lambda *_: pytest.fail("it was gone through"))
    assert main(["timing", str(path)]) == 2
    out, error = capsys.readouterr()
    assert out == "" and "longer than 6 hours" in error and len(error.splitlines()) == 1
