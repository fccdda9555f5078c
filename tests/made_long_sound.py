"""A long recording by a recipe of whole numbers, so that the web app's tests make the very same bytes: tests/files/long_sound.json."""

import json
import math
from pathlib import Path

import numpy as np

from barnlight.media.audio import to_wav

RECIPE = json.loads((Path(__file__).parent / "files" / "long_sound.json").read_text("utf-8"))
MINSTD, MODULUS = 16_807, 2_147_483_647  # Park and Miller's generator: exact in JavaScript's numbers too


FADE, TICK_S = 0.93, 0.008


def made_long_sound() -> bytes:
    """A WAV: a quiet room, knocks, and firings with release, train and closing click at the recipe's moments."""
    rate_hz, state = RECIPE["rate_hz"], RECIPE["seed"]

    def noise() -> float:
        nonlocal state
        state = state * MINSTD % MODULUS
        return state / MODULUS - 0.5

    samples = np.array([noise() * RECIPE["noise"] for _ in range(RECIPE["seconds"] * rate_hz)])

    def knock(at_s: float, peak: float) -> None:
        start = math.floor(at_s * rate_hz + 0.5)
        for index in range(start, start + 200):
            samples[index] += peak * noise()
            peak *= FADE

    for at_s in RECIPE["knocks"]:
        knock(at_s, 1.2)
    for open_s, time_s in RECIPE["firings"]:
        knock(open_s - 0.012, 0.3)
        knock(open_s, 0.7)
        for tick in range(math.floor(time_s / TICK_S) - 2):
            knock(open_s + 0.012 + tick * TICK_S, 0.04)
        knock(open_s + time_s, 1.0)
    return to_wav(samples, rate_hz)
