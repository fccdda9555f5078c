"""The voice of one made-up shutter: impacts that ring in its modes, and the hiss of sliding blades, added to one sound."""

from __future__ import annotations

import numpy as np
from scipy.signal import lfilter

RING_S = 0.06
LEVEL_OVER_S = 0.005


def ms_rms(sound: np.ndarray) -> float:
    """Root of the mean square."""
    return float(np.sqrt(np.mean(np.square(sound))))


class Voice:
    """All impacts of a shutter share its modes (frequencies, decays); each excites them differently."""

    def __init__(self, rng: np.random.Generator, rate_hz: float, length: int) -> None:
        self.rng, self.rate_hz = rng, rate_hz
        self.sound = np.zeros(length)
        modes = rng.integers(6, 15)
        self.mode_hz = np.exp(rng.uniform(np.log(1_000), np.log(min(14_000, 0.45 * rate_hz)), modes))
        self.decay_s = rng.uniform(0.001, 0.010, modes) * np.sqrt(2_000 / self.mode_hz)
        self.gain = rng.lognormal(0, 0.6, modes)

    def impact(self, at_s: float, level_db: float) -> None:
        """A blow at `at_s`; `level_db` is its RMS over 5 ms against the closing impact's 1."""
        first = int(np.floor(at_s * self.rate_hz))
        self.add(first, self.blow((first + np.arange(round(RING_S * self.rate_hz))) / self.rate_hz - at_s, level_db))

    def blow(self, since: np.ndarray, level_db: float) -> np.ndarray:
        """The sound of one to four contacts within 0.4 ms; `since` is seconds from the first."""
        gains = self.gain * self.rng.lognormal(0, 0.4, len(self.gain)) * self.rng.choice((-1, 1), len(self.gain))
        contact_s = self.rng.uniform(25e-6, 120e-6)
        delays = np.concatenate(([0.0], np.cumsum(self.rng.uniform(50e-6, 150e-6, self.rng.integers(0, 4)))))
        strengths = np.concatenate(([1.0], self.rng.uniform(0.2, 0.7, len(delays) - 1)))
        wave = sum(strength * self._ring(since - delay, gains, contact_s) for delay, strength in zip(delays, strengths, strict=True))
        return wave * 10 ** (level_db / 20) / ms_rms(wave[: round(LEVEL_OVER_S * self.rate_hz)])

    def _ring(self, since: np.ndarray, gains: np.ndarray, contact_s: float) -> np.ndarray:
        """The modes struck at 0; the contact's duration softens the start and the high modes."""
        after = np.maximum(since, 0.0)[None, :]
        soft = 1 / (1 + (2 * self.mode_hz * contact_s) ** 2)
        ringing = (gains * soft)[:, None] * np.exp(-after / self.decay_s[:, None]) * np.sin(2 * np.pi * self.mode_hz[:, None] * after)
        return ringing.sum(axis=0) * (1 - np.exp(-after[0] / contact_s))

    def slide(self, from_s: float, to_s: float, level_db: float) -> None:
        """Blades or a lever rubbing: high-passed noise that swells and fades."""
        first, last = int(from_s * self.rate_hz), int(to_s * self.rate_hz)
        hiss = lfilter([1.0, -1.0], [1.0, -0.6], self.rng.normal(size=max(last - first, 2)))
        self.add(first, hiss / ms_rms(hiss) * 10 ** (level_db / 20) * np.hanning(len(hiss)))

    def add(self, first: int, wave: np.ndarray) -> None:
        """Adds a sound from sample `first`; what lies outside the recording is dropped."""
        start, end = max(first, 0), min(first + len(wave), len(self.sound))
        if start < end:
            self.sound[start:end] += wave[start - first : end - first]
