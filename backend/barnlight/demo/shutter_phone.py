"""What a phone does to a sound: turns its gain, clips, codes, rounds to 16 bits."""

from __future__ import annotations

import numpy as np
from scipy.signal import butter, sosfilt

from barnlight.demo.shutter_ranges import Ranges

BLOCK_S = 0.02


def take_up(rng: np.random.Generator, heard: np.ndarray, rate_hz: int, ranges: Ranges) -> np.ndarray:
    """The samples a phone would keep, full scale -1..1."""
    sound = heard / np.max(np.abs(heard))
    if rng.random() < ranges.agc_share:
        sound = _turned_down(rng, sound, rate_hz, ranges.agc_db.draw(rng))
        sound /= np.max(np.abs(sound))
    if rng.random() < ranges.clipping_share:
        sound = np.clip(sound * 10 ** (ranges.clipping_db.draw(rng) / 20), -1, 1) * rng.uniform(0.8, 0.99)
    else:
        sound = sound * rng.uniform(0.08, 0.85)
    if rng.random() < ranges.codec_share:
        sound = _coded(rng, sound, rate_hz, ranges)
    return np.round(np.clip(sound, -1, 1) * 32_767) / 32_768


def _turned_down(rng: np.random.Generator, sound: np.ndarray, rate_hz: int, most_db: float) -> np.ndarray:
    """Automatic gain: quickly down by up to `most_db` when it is loud, slowly up again."""
    frame = rate_hz // 1000
    peaks = np.max(np.abs(sound[: len(sound) // frame * frame]).reshape(-1, frame), axis=1)
    attack, release = 1 - np.exp(-1 / rng.uniform(1, 8)), 1 - np.exp(-1 / rng.uniform(40, 250))
    gains_db, gain_db = np.zeros(len(peaks)), 0.0
    for index, wanted in enumerate(-most_db * np.clip((20 * np.log10(peaks + 1e-9) + 24) / 18, 0, 1)):
        gain_db += (wanted - gain_db) * (attack if wanted < gain_db else release)
        gains_db[index] = gain_db
    # The gain answers a frame late, as it does in a phone.
    return sound * 10 ** (np.interp(np.arange(len(sound)) / frame - 1, np.arange(len(peaks)), gains_db) / 20)


def _coded(rng: np.random.Generator, sound: np.ndarray, rate_hz: int, ranges: Ranges) -> np.ndarray:
    """A lossy codec: high tones go, and each block gets noise in proportion to its own energy (so some before a click)."""
    cutoff_hz = min(ranges.codec_lowpass_hz.draw(rng), 0.45 * rate_hz)
    passed = sosfilt(butter(6, cutoff_hz, fs=rate_hz, output="sos"), sound)
    block = round(BLOCK_S * rate_hz)
    count = -(-len(passed) // block)
    levels = np.sqrt(np.mean(np.pad(passed, (0, count * block - len(passed))).reshape(count, block) ** 2, axis=1))
    noise = sosfilt(butter(2, cutoff_hz, fs=rate_hz, output="sos"), rng.normal(size=len(passed)))
    return passed + noise * np.repeat(levels, block)[: len(passed)] * 10 ** (ranges.codec_noise_db.draw(rng) / 20)
