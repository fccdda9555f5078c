"""The Python engine reads the kept recordings as written down; the web app's tests hold the phone's engine to the same file."""

import json
import math
from pathlib import Path

import pytest

from barnlight import catalogue
from barnlight.domain.shutter_timing import measure
from barnlight.media.audio import read_sound

FOLDER = Path(__file__).parent / "files" / "shutter_sound"
HELD = json.loads((FOLDER / "results.json").read_text("utf-8"))
CONSTANTS = catalogue.load()["shutter_timing"]


@pytest.mark.parametrize("entry", HELD, ids=lambda entry: entry["file"])
def test_recording_reads_as_written_down(entry):
    result = measure(*read_sound((FOLDER / entry["file"]).read_bytes()), entry["marked_s"], CONSTANTS)
    held = entry["result"]
    assert (result["verdict"], result["reason"], result["algorithm"]) == (held["verdict"], held["reason"], held["algorithm"])
    assert len(result["firings"]) == len(held["firings"])
    assert result["buzz"] == (held["buzz"] and pytest.approx(held["buzz"], abs=1e-6))
    # A different build of the numeric libraries may differ in the last bits; a sample is 1e-5 s.
    assert result["clicks_s"] == pytest.approx(held["clicks_s"], abs=1e-9)
    for firing, kept in zip(result["firings"], held["firings"], strict=True):
        assert {name: firing[name] for name in ("open_s", "close_s", "open_time_s", "low_s", "high_s")} == pytest.approx(
            {name: kept[name] for name in ("open_s", "close_s", "open_time_s", "low_s", "high_s")}, abs=1e-6
        )


def test_what_is_written_down_as_clear_is_true():
    clear = [entry for entry in HELD if entry["result"]["verdict"] == "clear"]
    assert len(clear) >= 10
    for entry in clear:
        true_s = sorted(entry["true_open_times_s"])[len(entry["true_open_times_s"]) // 2]
        assert abs(math.log2(entry["result"]["open_time_s"] / true_s)) < 1 / 3, entry["file"]
        assert len(entry["result"]["firings"]) == len(entry["true_open_times_s"]), entry["file"]


def test_every_recording_is_written_down():
    assert {path.name for path in FOLDER.glob("*.wav")} == {entry["file"] for entry in HELD}
