"""Talk as a phone hears it at a sale: voices, whispers, laughter, hard consonants, dishes; none of it is a firing.

What is assumed: a voice is glottal pulses through formants (`shutter_talk`); a stop consonant is a release of under a
millisecond, rubbing air for 5-30 ms and then the vowel; laughter repeats short breathy vowels 4-6 times a second; dishes ring
in modes for 10-150 ms. Sentences have rests, so that a lone word may stand in a quiet room.
"""

from __future__ import annotations

import numpy as np
from scipy.signal import butter, sosfilt

from barnlight.demo import shutter_phone
from barnlight.demo.shutter_ranges import HOME
from barnlight.demo.shutter_sound import Scene, mains_and_noise
from barnlight.demo.shutter_study import in_room
from barnlight.demo.shutter_talk import speech, vowel
from barnlight.demo.shutter_voice import ms_rms

TALKS = ("speech", "two voices", "whisper", "laughter", "plosives", "dishes")
NOISE_BELOW_DB = (15, 55)


def talk(rng: np.random.Generator, kind: str, rate_hz: int = 48_000) -> np.ndarray:
    """1.5 to 4 s of one of TALKS, in a room, as a phone keeps it: full scale -1..1."""
    length = round(rng.uniform(1.5, 4) * rate_hz)
    made = {"two voices": _two_voices, "whisper": _whisper, "laughter": _laughter, "plosives": _plosives, "dishes": _dishes}.get(kind, speech)
    sound = made(rng, length, rate_hz) * _rests(rng, length, rate_hz)
    # A voice may be near the phone or across the room.
    heard = in_room(rng, sound, HOME)
    noise = mains_and_noise(rng, length, Scene(snr_db=0, rate_hz=rate_hz))
    heard += noise * max(ms_rms(heard), 1e-6) * 10 ** (-rng.uniform(*NOISE_BELOW_DB) / 20)
    return shutter_phone.take_up(rng, heard, rate_hz, HOME)


def _rests(rng: np.random.Generator, length: int, rate_hz: int) -> np.ndarray:
    """1 where there is talk and 0 in the rests: from hardly any to a lone word."""
    gain = np.ones(length)
    for _ in range(rng.integers(0, 4)):
        start, rest = rng.integers(0, length), round(rng.uniform(0.2, 1.5) * rate_hz)
        gain[start : start + rest] = 0.0
    fade = round(0.02 * rate_hz)
    return np.convolve(gain, np.full(fade, 1 / fade), "same")


def _two_voices(rng: np.random.Generator, length: int, rate_hz: int) -> np.ndarray:
    return speech(rng, length, rate_hz) + rng.uniform(0.2, 1) * speech(rng, length, rate_hz)


def _shaped_noise(rng: np.random.Generator, length: int, rate_hz: int, low_hz: float, high_hz: float) -> np.ndarray:
    noise = sosfilt(butter(1, (low_hz, high_hz), "bandpass", fs=rate_hz, output="sos"), rng.normal(size=length))
    return noise / max(ms_rms(noise), 1e-9)


def _consonant(rng: np.random.Generator, rate_hz: int) -> np.ndarray:
    """A stop: the release (0.1-1 ms), rubbing air (5-30 ms), breath (0-60 ms)."""
    length = round(0.12 * rate_hz)
    since = np.arange(length) / rate_hz
    place_hz = rng.uniform(700, 4_500)  # lips, teeth, palate
    rise_s = rng.lognormal(np.log(0.0004), 0.6)
    release = rng.normal(size=length) * np.exp(-since / rng.uniform(0.0003, 0.002)) * rng.uniform(0, 2)
    rubbing = _shaped_noise(rng, length, rate_hz, place_hz, min(3 * place_hz, 0.45 * rate_hz)) * np.exp(-since / rng.uniform(0.005, 0.03))
    breath = _shaped_noise(rng, length, rate_hz, 500, 5_000) * np.exp(-since / rng.uniform(0.01, 0.06)) * rng.uniform(0, 0.4)
    return (release + rubbing + breath) * (1 - np.exp(-since / rise_s))


def _add(sound: np.ndarray, at: int, wave: np.ndarray) -> None:
    sound[at : at + len(wave)] += wave[: max(0, len(sound) - at)]


def _plosives(rng: np.random.Generator, length: int, rate_hz: int) -> np.ndarray:
    """Words of stops: each a closure, a release, the vowel 10-90 ms later, often a stop at the end."""
    sound, at = np.zeros(length), round(rng.uniform(0.05, 0.5) * rate_hz)
    vowels = rng.uniform(0.05, 1)
    while at < length:
        _add(sound, at, _consonant(rng, rate_hz) * rng.uniform(0.15, 0.8))
        takes = round(rng.uniform(0.04, 0.25) * rate_hz)
        _add(sound, at + round(rng.uniform(0.01, 0.09) * rate_hz), _voiced(rng, takes, rate_hz) * vowels)
        at += takes
        if rng.random() < 0.5:
            at += round(rng.uniform(0.03, 0.12) * rate_hz)  # the closure before a stop at the end
            _add(sound, at, _consonant(rng, rate_hz) * rng.uniform(0.1, 0.6))
        at += round(rng.exponential(0.15) * rate_hz) + round(0.03 * rate_hz)
    return sound


def _voiced(rng: np.random.Generator, length: int, rate_hz: int) -> np.ndarray:
    wave = vowel(rng, length, rate_hz) * np.hanning(length)
    return wave / max(float(np.max(np.abs(wave))), 1e-9)


def _whisper(rng: np.random.Generator, length: int, rate_hz: int) -> np.ndarray:
    """Breath through the mouth in syllables, with stops."""
    sound, at = np.zeros(length), 0
    while at < length:
        takes = round(rng.uniform(0.05, 0.3) * rate_hz)
        low_hz = rng.uniform(600, 3_500)
        _add(sound, at, _shaped_noise(rng, takes, rate_hz, low_hz, 2.5 * low_hz) * np.hanning(takes) ** rng.uniform(0.3, 1.5) * rng.uniform(0.2, 1))
        if rng.random() < 0.5:
            _add(sound, at, _consonant(rng, rate_hz) * rng.uniform(0.2, 1.2))
        at += takes + round(rng.exponential(0.08) * rate_hz)
    return sound


def _laughter(rng: np.random.Generator, length: int, rate_hz: int) -> np.ndarray:
    sound, at, every_s = np.zeros(length), round(rng.uniform(0, 0.4) * rate_hz), 1 / rng.uniform(3.5, 6.5)
    breathy = rng.uniform(0.05, 0.6)
    while at < length:
        takes = round(rng.uniform(0.3, 0.8) * every_s * rate_hz)
        shape = np.exp(-np.arange(takes) / takes * rng.uniform(1, 4)) * (1 - np.exp(-np.arange(takes) / rate_hz / rng.uniform(0.0005, 0.01)))
        breath = _shaped_noise(rng, takes, rate_hz, 800, 6_000) * breathy * 0.3
        _add(sound, at, (vowel(rng, takes, rate_hz) / 3 + breath) * shape * rng.uniform(0.4, 1))
        at += round(every_s * rng.normal(1, 0.08) * rate_hz) if rng.random() < 0.9 else round(rng.uniform(0.3, 1) * rate_hz)
    return sound


def _dishes(rng: np.random.Generator, length: int, rate_hz: int) -> np.ndarray:
    """Talk with cups and spoons: each a few touches of one thing that rings."""
    sound = speech(rng, length, rate_hz) * rng.uniform(0.2, 1)
    since = np.arange(round(0.3 * rate_hz)) / rate_hz
    for _ in range(rng.integers(2, 9)):
        modes_hz = rng.uniform(900, 12_000, rng.integers(3, 8))
        decays_s = rng.uniform(0.01, 0.15, len(modes_hz))
        at = rng.integers(0, length)
        for _ in range(rng.integers(1, 6)):
            gains = rng.lognormal(0, 0.6, len(modes_hz))
            ring = sum(gain * np.exp(-since / decay) * np.sin(2 * np.pi * hz * since) for gain, decay, hz in zip(gains, decays_s, modes_hz, strict=True))
            _add(sound, at, ring * rng.uniform(0.02, 0.2) * (1 - np.exp(-since / 0.0002)))
            at += round(rng.exponential(0.06) * rate_hz) + round(0.004 * rate_hz)
    return sound
