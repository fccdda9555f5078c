"""Sounds that are no shutter: talk, thuds, clipped noise, a single click, silence, for hard recordings and for refusing."""

from __future__ import annotations

import numpy as np
from scipy.signal import butter, lfilter, sosfilt

from barnlight.demo.shutter_voice import Voice, ms_rms

NO_FIRING = ("silence", "speech", "clipped noise", "one click", "thuds", "buzz")


def no_firing(rng: np.random.Generator, kind: str, rate_hz: int = 48_000) -> np.ndarray:
    """1.5 to 3 s of one of NO_FIRING, full scale -1..1."""
    length = round(rng.uniform(1.5, 3) * rate_hz)
    hiss = rng.normal(size=length) * 10 ** (rng.uniform(-70, -50) / 20)
    if kind == "silence":
        return hiss * 10 ** (rng.uniform(-20, 0) / 20)
    if kind == "speech":
        return hiss + _scaled(speech(rng, length, rate_hz), rng.uniform(0.1, 0.7))
    if kind == "clipped noise":
        return np.clip(rng.normal(size=length) * rng.uniform(0.8, 3), -0.9, 0.9)
    if kind == "buzz":
        return hiss + _scaled(buzz(rng, length, rate_hz), rng.uniform(0.05, 0.7))
    voice = Voice(rng, rate_hz, length)
    if kind == "one click":
        voice.impact(rng.uniform(0.3, 1.2), 0.0)
        return hiss + _scaled(voice.sound, rng.uniform(0.1, 0.7))
    for _ in range(rng.integers(2, 7)):
        voice.add(int(rng.uniform(0.1, 1.4) * rate_hz), thud(rng, rate_hz) * rng.uniform(0.2, 1))
    return hiss + _scaled(voice.sound, rng.uniform(0.1, 0.7))


def thud(rng: np.random.Generator, rate_hz: int) -> np.ndarray:
    """A knock on the table or the phone: a low body of 60-400 Hz with a short scratch of wide noise on top; RMS over 5 ms is 1."""
    after = np.arange(round(0.12 * rate_hz)) / rate_hz
    body = np.exp(-after / rng.uniform(0.008, 0.04)) * np.sin(2 * np.pi * rng.uniform(60, 400) * after)
    contact = rng.normal(size=len(after)) * np.exp(-after / rng.uniform(0.0008, 0.006)) * 10 ** (rng.uniform(-26, -8) / 20)
    sound = (body + contact) * (1 - np.exp(-after / rng.uniform(0.0002, 0.002)))
    return sound / max(ms_rms(sound[: round(0.005 * rate_hz)]), 1e-9)


def buzz(rng: np.random.Generator, length: int, rate_hz: int) -> np.ndarray:
    """A motor or a humming voice: even pulses of 60-300 Hz that swell and fade."""
    at = np.arange(length) / rate_hz
    phase = at * rng.uniform(60, 300) + rng.uniform(0, 0.3) * np.sin(2 * np.pi * rng.uniform(2, 7) * at)
    top = rng.integers(8, 60)
    sound = sum(np.sin(2 * np.pi * (number * phase + rng.random())) / number ** rng.uniform(0.7, 1.2) for number in range(1, top))
    return sound * np.clip(np.sin(2 * np.pi * rng.uniform(0.7, 4) * at + rng.uniform(0, 6)) + rng.uniform(0, 0.5), 0, 1)


def babble(rng: np.random.Generator, length: int, rate_hz: int) -> np.ndarray:
    """Several people talking at once."""
    return sum(speech(rng, length, rate_hz) for _ in range(rng.integers(2, 5)))


def speech(rng: np.random.Generator, length: int, rate_hz: int) -> np.ndarray:
    """One made-up talker: a glottal buzz through three formants in syllables, with hisses and small bursts."""
    voiced, at = np.zeros(length), 0
    while at < length:
        stop = min(length, at + round(rng.uniform(0.08, 0.3) * rate_hz))
        shape = np.hanning(stop - at) if stop - at > 2 else np.zeros(stop - at)
        kind = rng.random()
        if kind < 0.65:
            voiced[at:stop] += _scaled(vowel(rng, stop - at, rate_hz), 1.0) * shape
        elif kind < 0.85:
            hiss = lfilter([1, -0.95], [1], rng.normal(size=stop - at))
            voiced[at:stop] += 0.12 * hiss * shape
        if rng.random() < 0.3:
            burst = rng.normal(size=round(0.02 * rate_hz)) * np.exp(-np.arange(round(0.02 * rate_hz)) / rate_hz / 0.004)
            voiced[at : at + len(burst)] += rng.uniform(0.1, 0.4) * burst[: length - at]
        at = stop + round(rng.uniform(0, 0.12) * rate_hz)
    return voiced


def vowel(rng: np.random.Generator, length: int, rate_hz: int) -> np.ndarray:
    """A vowel of gliding pitch: glottal pulses through three formants."""
    pitch = rng.uniform(85, 240) * (1 + 0.1 * np.sin(np.arange(length) / rate_hz * rng.uniform(5, 20)))
    phase = np.cumsum(pitch) / rate_hz
    pulses = np.diff(np.floor(phase), prepend=0.0)
    buzz = lfilter([1.0], [1.0, -0.9], pulses)
    return sum(
        sosfilt(butter(1, (0.85 * hz, 1.15 * hz), "bandpass", fs=rate_hz, output="sos"), buzz) / (1 + number)
        for number, hz in enumerate((rng.uniform(300, 800), rng.uniform(900, 2_200), rng.uniform(2_300, 3_400)))
    )


def _scaled(sound: np.ndarray, peak: float) -> np.ndarray:
    return sound * peak / max(float(np.max(np.abs(sound), initial=0)), 1e-9)
