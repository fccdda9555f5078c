"""The timing command: a line of JSON for each file that can be read, a sentence for each that cannot."""

import json
from pathlib import Path

import numpy as np
import pytest

from barnlight.cli import main
from barnlight.media.audio import to_wav

RATE_HZ = 48_000


def two_clicks(interval_s: float) -> bytes:
    """A quiet recording with two damped knocks, the second `interval_s` after the first."""
    noise = np.random.default_rng(7)
    samples = noise.normal(0, 1e-4, RATE_HZ * 2)
    ring_s = np.arange(int(0.004 * RATE_HZ)) / RATE_HZ
    knock = np.exp(-ring_s / 0.0008) * noise.normal(0, 0.5, ring_s.size)
    for at_s in (0.8, 0.8 + interval_s):
        start = round(at_s * RATE_HZ)
        samples[start : start + knock.size] += knock
    return to_wav(samples.astype(np.float32), RATE_HZ)


def test_it_measures_a_known_interval(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    # Outside truth: the interval is placed in the file by this test, not by the project's simulator.
    (tmp_path / "known.wav").write_bytes(two_clicks(0.25))
    assert main(["timing", "--marked", "0.25", str(tmp_path / "known.wav")]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["open_time_s"] == pytest.approx(0.25, abs=0.0005)


def test_files_that_cannot_be_read_are_named_and_the_rest_is_measured(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    good, bad, none = tmp_path / "good.wav", tmp_path / "bad.wav", tmp_path / "none.wav"
    good.write_bytes(two_clicks(0.1))
    bad.write_bytes(b"RIFF and nothing else")
    assert main(["timing", str(bad), str(none), str(good)]) == 1
    said = capsys.readouterr()
    assert [json.loads(line)["file"] for line in said.out.splitlines()] == [str(good)]
    assert str(bad) in said.err and str(none) in said.err and len(said.err.splitlines()) == 2
