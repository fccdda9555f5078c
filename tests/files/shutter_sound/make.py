"""Makes the recordings of this folder and writes down what they hold and what the Python engine reads in them.

`PYTHONPATH=backend python tests/files/shutter_sound/make.py`: run it when the algorithm changes on purpose; phone and server
are then held to the new results. Everything is simulated by the project's own code; no shutter was recorded.
"""

import json
from pathlib import Path

import numpy as np

from barnlight import catalogue
from barnlight.demo.shutter_sound import Scene, recording
from barnlight.domain.shutter_timing import measure
from barnlight.media.audio import read_sound, to_wav

FOLDER = Path(__file__).parent
BEFORE_S, AFTER_S = 0.14, 0.18

# name: seed, marked speed or None, true open times, scene, why it is here
RECORDINGS = {
    "half": (11, 0.5, [0.52], Scene(rate_hz=16_000), "slow train, 16 kHz"),
    "fifth": (12, 0.2, [0.19], Scene(rate_hz=24_000), "slow train, 24 kHz"),
    "tenth": (13, 0.1, [0.11], Scene(), "slow train"),
    "tenth_slow": (14, 0.1, [0.21], Scene(), "more than a stop slow"),
    "25th": (15, 0.04, [0.043], Scene(), "gears without pallet"),
    "25th_noisy": (16, 0.04, [0.041], Scene(snr_db=12), "noise"),
    "50th": (17, 0.02, [0.021], Scene(), "free run"),
    "50th_unmarked": (18, None, [0.020], Scene(), "marked speed not known"),
    "50th_cocked": (19, 0.02, [0.022], Scene(cocking=True, handling=True), "cocking and knocks in the recording"),
    "50th_three": (20, 0.02, [0.0205, 0.0210, 0.0208], Scene(rate_hz=24_000, gap_s=(0.32, 0.36)), "three firings, 24 kHz"),
    "100th": (21, 0.01, [0.0105], Scene(), "free run"),
    "100th_44k": (22, 0.01, [0.0098], Scene(rate_hz=44_100), "44.1 kHz"),
    "100th_96k": (23, 0.01, [0.0102], Scene(rate_hz=96_000), "96 kHz"),
    "100th_two": (24, 0.01, [0.0100, 0.0104], Scene(rate_hz=32_000, gap_s=(0.30, 0.34)), "two firings, 32 kHz"),
    "150th": (25, 1 / 150, [0.0072], Scene(), "odd mark"),
    "250th": (26, 0.004, [0.0052], Scene(), "top speed, slow"),
    "250th_noisy": (27, 0.004, [0.0047], Scene(snr_db=18), "top speed, noise"),
    "500th": (28, 0.002, [0.0026], Scene(), "the limit of what sound can tell"),
    "500th_unmarked": (29, None, [0.0027], Scene(), "the limit, marked speed not known"),
    "50th_far_off": (95_001, 0.02, [0.1], Scene(snr_db=40), "so slow that the mark would hide it"),
    "room": (30, 0.04, [], Scene(), "a room and no shutter"),
}


def main() -> None:
    constants = catalogue.load()["shutter_timing"]
    held = []
    for name, (seed, marked_s, open_times_s, scene, why) in RECORDINGS.items():
        samples, rate_hz, truth = recording(np.random.default_rng(seed), open_times_s=open_times_s, scene=scene)
        first_s, last_s = (truth.firings[0]["open_s"], truth.firings[-1]["close_s"]) if truth.firings else (0.2, 0.3)
        data = to_wav(samples[int((first_s - BEFORE_S) * rate_hz) : int((last_s + AFTER_S) * rate_hz)], rate_hz)
        (FOLDER / f"{name}.wav").write_bytes(data)
        result = measure(*read_sound(data), marked_s, constants)
        held.append({"file": f"{name}.wav", "why": why, "marked_s": marked_s, "true_open_times_s": open_times_s, "result": result})
    (FOLDER / "results.json").write_text(json.dumps(held, indent=1) + "\n", encoding="utf-8")
    # Rounding would hide a difference between the sides, so the figures are written in full.
    print(f"{len(held)} recordings, {sum(path.stat().st_size for path in FOLDER.glob('*.wav')) // 1000} kB")


if __name__ == "__main__":
    main()
