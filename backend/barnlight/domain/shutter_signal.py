"""The recording made ready for finding clicks: high-passed energy, its running sums, the noise floor (steps 1-3).

Constants are the `shutter_timing` data of the catalogue; its times hold at any sample rate.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

LEAST_RATE_HZ = 8_000


@dataclass(frozen=True)
class Signal:
    """High-passed energy of a recording; positions are sample indices."""

    rate_hz: int
    energy_sum: np.ndarray  # energy_sum[b] - energy_sum[a] = energy of samples a..b-1
    floor: float  # mean energy of the quiet parts
    floor_db: float
    frame: int  # samples in a frame of `frame_db_sum`
    frame_db_sum: np.ndarray  # running sum of frame energies in dB

    def samples(self, ms: float) -> int:
        """A time as a whole number of samples, at least one."""
        return max(1, math.floor(ms * self.rate_hz / 1000 + 0.5))

    def mean_energy(self, start: np.ndarray, length: int) -> np.ndarray:
        """Mean energy of `length` samples from each `start`, cut at the ends of the recording."""
        first = np.clip(start, 0, len(self.energy_sum) - 1)
        last = np.clip(start + length, 0, len(self.energy_sum) - 1)
        return (self.energy_sum[last] - self.energy_sum[first]) / length

    def mean_db(self, start: np.ndarray, end: np.ndarray, without: float | None) -> np.ndarray:
        """Mean frame energy in dB between sample positions; NaN, or `without`, where there is no whole frame."""
        most = len(self.frame_db_sum) - 1
        first = np.clip(np.floor(start / self.frame), 0, most).astype(int)
        last = np.clip(np.floor(end / self.frame), 0, most).astype(int)
        count = last - first
        mean = (self.frame_db_sum[np.maximum(first, last)] - self.frame_db_sum[first]) / np.maximum(count, 1)
        return np.where(count > 0, mean, np.nan if without is None else without)


def why_unusable(samples: np.ndarray, constants: dict) -> str | None:
    """"too_quiet", "clipped" or None, before anything is looked for. `samples` are full scale -1..1."""
    limits = constants["prepare"]
    if len(samples) == 0 or not np.max(np.abs(samples - np.mean(samples, dtype=float))) >= limits["least_peak"]:
        return "too_quiet"
    magnitude = np.abs(samples)
    peak = np.max(magnitude)
    if peak > limits["clip_from"] and np.mean(magnitude >= peak * (1 - limits["clip_near"])) > limits["clip_share"]:
        return "clipped"
    return None


def highpass_coefficients(cutoff_hz: float, q: float, rate_hz: float) -> tuple[list[float], list[float]]:
    """(b, a) of the second-order high-pass (bilinear transform, cutoff pre-warped); with q = 1/sqrt(2) it is Butterworth's."""
    warped = math.tan(math.pi * cutoff_hz / rate_hz)
    scale = 1 / (1 + warped / q + warped * warped)
    return [scale, -2 * scale, scale], [1.0, 2 * (warped * warped - 1) * scale, (1 - warped / q + warped * warped) * scale]


def prepare(samples: np.ndarray, rate_hz: int, constants: dict) -> Signal:
    """The signal of a recording. `samples` mono, full scale -1..1. Raises ValueError below 8000 samples a second."""
    # Loaded with the first recording: it takes over a second, which a server's start must not wait for.
    from scipy.signal import lfilter

    if rate_hz < LEAST_RATE_HZ:
        raise ValueError(f"the recording has only {rate_hz} samples a second; at least {LEAST_RATE_HZ} are needed")
    filter_is = constants["highpass"]
    b, a = highpass_coefficients(filter_is["hz"], filter_is["q"], rate_hz)
    energy = lfilter(b, a, samples - np.mean(samples, dtype=float))
    np.square(energy, out=energy)
    energy_sum = np.zeros(len(energy) + 1)
    np.cumsum(energy, out=energy_sum[1:])
    floor_is = constants["floor"]
    long_frames = frame_energies(energy_sum, round_half_up(floor_is["frame_ms"] * rate_hz / 1000))
    quiet = float(np.percentile(long_frames, floor_is["percentile"])) if len(long_frames) else 0.0
    floor = max(quiet, floor_is["least"])
    frame = round_half_up(constants["span_frame_ms"] * rate_hz / 1000)
    frames_db = 10 * np.log10(np.maximum(frame_energies(energy_sum, frame), floor_is["least"]))
    return Signal(rate_hz, energy_sum, floor, 10 * math.log10(floor), frame, np.concatenate(([0.0], np.cumsum(frames_db))))


def frame_energies(energy_sum: np.ndarray, length: int) -> np.ndarray:
    """Mean energy of each whole frame of `length` samples."""
    return np.diff(energy_sum[::length]) / length


def round_half_up(value: float) -> int:
    """The nearest whole number, halves up: the same on phone and server."""
    return math.floor(value + 0.5)
