"""The timing command: one JSON text for a file that can be measured, exit code 2 and one sentence for what is not sound."""

import io
import json
from pathlib import Path

import numpy as np
import pytest
import soundfile

from barnlight.cli import main
from barnlight.media.audio import to_wav

RATE_HZ = 48_000


def two_clicks(interval_s: float) -> bytes:
    """A recording with a release click, an opening knock, a train's ticks and, `interval_s` after the opening, a louder closing knock."""
    noise = np.random.default_rng(7)
    samples = noise.normal(0, 1e-3, RATE_HZ * 2)
    ring_s = np.arange(int(0.02 * RATE_HZ)) / RATE_HZ

    def knock(at_s: float, peak: float, decay_s: float = 0.0008) -> None:
        start = round(at_s * RATE_HZ)
        samples[start : start + ring_s.size] += peak * np.exp(-ring_s / decay_s) * noise.normal(0, 0.3, ring_s.size)

    knock(0.788, 0.3)
    knock(0.8, 0.5)
    knock(0.8 + interval_s, 0.9)
    for tick in range(int(interval_s / 0.008) - 2):
        knock(0.812 + tick * 0.008, 0.03, 0.0005)
    return to_wav(samples, RATE_HZ)


def floats(value: float) -> bytes:
    out = io.BytesIO()
    soundfile.write(out, np.full(500, value), RATE_HZ, format="WAV", subtype="FLOAT")
    return out.getvalue()


def test_it_measures_a_known_interval(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    # Outside truth: the interval is placed in the file by this test, not by the project's simulator.
    (tmp_path / "known.wav").write_bytes(two_clicks(0.25))
    assert main(["timing", "--marked", "1/5", "--series", "older", str(tmp_path / "known.wav")]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["open_time_s"] == pytest.approx(0.25, abs=0.0005)
    # 0.25 s on a mark of 1/5 is log2(1.25) = 0.322 stop (arithmetic).
    assert found["error_stops"] == pytest.approx(0.322, abs=0.003)
    assert (found["marked_s"], found["nominal_s"], found["interval"]) == (0.2, 0.2, "click to click")
    assert len(found["firings"]) == 1


def test_a_mark_is_held_against_what_it_stands_for(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    (tmp_path / "known.wav").write_bytes(two_clicks(0.0625))
    assert main(["timing", str(tmp_path / "known.wav"), "--marked", "1/15", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    # 1/15 of the current series stands for 1/16 s (figures: marks against exact powers of two).
    assert found["nominal_s"] == 0.0625
    assert found["error_stops"] == pytest.approx(0, abs=0.02)


def test_a_quiet_file_is_measured_as_unusable(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    (tmp_path / "quiet.wav").write_bytes(to_wav(np.zeros(RATE_HZ), RATE_HZ))
    assert main(["timing", str(tmp_path / "quiet.wav"), "--marked", "1/50"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert (found["verdict"], found["reason"], found["open_time_s"], found["error_stops"]) == ("unusable", "too_quiet", None, None)


def test_8_khz_is_measured(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    (tmp_path / "phone_call.wav").write_bytes(to_wav(np.random.default_rng(3).normal(0, 0.1, 16_000), 8_000))
    assert main(["timing", str(tmp_path / "phone_call.wav"), "--marked", "1/50"]) == 0
    assert json.loads(capsys.readouterr().out)["verdict"] in ("doubtful", "unusable")


@pytest.mark.parametrize(
    ("data", "options", "said"),
    [
        (b"", [], "empty"),
        (b"RIFF and nothing else", [], "not a sound recording"),
        (None, [], "cannot be read"),
        (b"\xff\xd8\xff\xe0" + bytes(200), [], "not a sound recording"),  # a picture under the name .wav
        (two_clicks(0.1)[:5000], [], "cut short"),
        (two_clicks(0.1)[:40] + b"\xf0\xff\xff\xff" + two_clicks(0.1)[44:], [], "cut short"),
        (floats(np.nan), [], "no sound"),
        (two_clicks(0.1), ["--marked", "fast"], "no marked speed"),
        (two_clicks(0.1), ["--series", "mine"], "current, older, odd"),
    ],
)
def test_what_cannot_be_measured_is_said_in_one_line(tmp_path: Path, capsys: pytest.CaptureFixture, data, options, said) -> None:
    path = tmp_path / "file.wav"
    if data is not None:
        path.write_bytes(data)
    assert main(["timing", str(path), *options]) == 2
    out, error = capsys.readouterr()
    assert out == ""
    assert said in error and len(error.splitlines()) == 1
