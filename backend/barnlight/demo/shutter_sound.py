"""Makes recordings of a leaf shutter that never was: physically reasoned sound with known open times, for demo and tests.

What is assumed (no real shutter was recorded): a shutter and the hand around it ring in 6-14 modes of 1-14 kHz. A firing is
a release click, some ms later the blades ending their opening, at slow speeds a ticking gear train, the blades ending
their closing (the loudest), a few bounces. Around it: cocking, handling, a room with echoes, coloured noise, hum, a sample
clock that is a little off. The truth is the first contact of the opening and of the closing impact.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from scipy.signal import fftconvolve

from barnlight.demo.shutter_voice import Voice, ms_rms

LEAD_S, TAIL_S = 0.5, 0.4
# Ticks are heard only where a gear train holds the blades.
SLOWEST_FREE_RUN_S = 0.03


@dataclass(frozen=True)
class Scene:
    """Where and how a recording is made."""

    snr_db: float = 35.0  # closing impact (RMS of 5 ms) over the noise in 1-14 kHz
    cocking: bool = False  # the shutter is cocked while recording
    handling: bool = False  # knocks after the firing
    rate_hz: int = 48_000
    gap_s: tuple[float, float] = (0.5, 0.8)  # rest between firings, from closing to the next opening
    peak: tuple[float, float] = (0.15, 0.7)  # of full scale


@dataclass
class Truth:
    """What was put into a recording."""

    firings: list[dict[str, float]] = field(default_factory=list)  # {open_s, close_s, open_time_s}, real seconds
    clock_ppm: float = 0.0


def one_firing(rng: np.random.Generator, *, open_time_s: float, scene: Scene | None = None) -> tuple[np.ndarray, int, Truth]:
    """(samples, samples a second, truth) of a single firing."""
    return recording(rng, open_times_s=[open_time_s], scene=scene)


def recording(rng: np.random.Generator, *, open_times_s: list[float], scene: Scene | None = None) -> tuple[np.ndarray, int, Truth]:
    """(samples, samples a second, truth) of firings of one shutter in one recording. Empty `open_times_s` gives the room alone.

    Samples are full scale -1..1 and stay below it.
    """
    scene = scene or Scene()
    truth = Truth(clock_ppm=float(np.clip(rng.normal(0, 30), -80, 80)))
    times = []
    at = LEAD_S
    for open_time_s in open_times_s:
        times.append((at, at + open_time_s))
        at += open_time_s + rng.uniform(*scene.gap_s)
    length_s = (times[-1][1] if times else LEAD_S) + TAIL_S
    voice = Voice(rng, scene.rate_hz * (1 + truth.clock_ppm * 1e-6), round(length_s * scene.rate_hz))
    for open_s, close_s in times:
        _fire(rng, voice, open_s, close_s)
        truth.firings.append({"open_s": open_s, "close_s": close_s, "open_time_s": close_s - open_s})
        if scene.cocking:
            _cock(rng, voice, open_s - rng.uniform(0.15, 0.4))
        if scene.handling:
            voice.impact(close_s + rng.uniform(0.06, 0.35), rng.uniform(-14, -2))
    heard = _in_room(rng, voice.sound, scene.rate_hz) + mains_and_noise(rng, len(voice.sound), scene)
    return heard * rng.uniform(*scene.peak) / np.max(np.abs(heard)), scene.rate_hz, truth


def _fire(rng: np.random.Generator, voice: Voice, open_s: float, close_s: float) -> None:
    """All sounds of one firing; levels in dB against the closing impact."""
    if rng.random() > 0.08:
        voice.impact(open_s - float(np.clip(rng.lognormal(np.log(0.006), 0.6), 0.002, 0.03)), rng.normal(-9, 5))
    voice.impact(open_s, rng.normal(-4, 3))
    if rng.random() < 0.5:
        voice.impact(open_s + rng.uniform(0.0015, 0.006), rng.normal(-16, 4))
    voice.slide(open_s, close_s, rng.uniform(-40, -24))
    if close_s - open_s > SLOWEST_FREE_RUN_S:
        _tick(rng, voice, open_s, close_s)
    voice.impact(close_s, 0.0)
    add_bounces(rng, voice, close_s, rng.integers(0, 4), (0.002, 0.009))


def add_bounces(rng: np.random.Generator, voice: Voice, close_s: float, count: int, gap_s: tuple[float, float]) -> None:
    """Blades that bounce after closing, ever weaker."""
    bounce_s, level_db = close_s, -8.0
    for _ in range(count):
        bounce_s += rng.uniform(*gap_s)
        level_db -= rng.uniform(2, 7)
        voice.impact(bounce_s, level_db)


def _tick(rng: np.random.Generator, voice: Voice, open_s: float, close_s: float) -> None:
    """The escapement between opening and closing: spin-up, a wobbling wheel, tick and tock not alike."""
    spacing_s, level_db = 1 / rng.uniform(90, 420), rng.uniform(-30, -11)
    asymmetry, wobble, jitter = rng.uniform(0, 4), rng.uniform(0, 0.06), rng.uniform(0.015, 0.04)
    at, count = open_s + rng.uniform(0.003, 0.008), 0
    while at < close_s - 0.004:
        voice.impact(at, level_db + (asymmetry if count % 2 else 0) + rng.normal(0, 1.5))
        spin_up = 1 + 0.6 * np.exp(-count / 3)
        at += spacing_s * spin_up * (1 + wobble * np.sin(count / 5) + rng.normal(0, jitter))
        count += 1


def _cock(rng: np.random.Generator, voice: Voice, at: float) -> None:
    """The cocking lever pushed over before the firing: a scrape and two clicks."""
    voice.slide(at - 0.12, at, rng.uniform(-28, -18))
    voice.impact(at - 0.12, rng.uniform(-15, -4))
    voice.impact(at, rng.uniform(-10, 3))


def _in_room(rng: np.random.Generator, sound: np.ndarray, rate_hz: int) -> np.ndarray:
    """The sound with a few early reflections and a decaying room."""
    rt60_s, direct_over_room_db = rng.uniform(0.2, 0.6), rng.uniform(4, 18)
    after = np.arange(round(rt60_s * rate_hz)) / rate_hz
    room = rng.normal(size=len(after)) * 10 ** (-3 * after / rt60_s)
    room[: round(0.004 * rate_hz)] = 0.0
    room *= 10 ** (-direct_over_room_db / 20) / np.sqrt(np.sum(room**2))
    for _ in range(rng.integers(1, 5)):
        room[round(rng.uniform(0.0002, 0.006) * rate_hz)] += rng.choice((-1, 1)) * 10 ** (rng.uniform(-24, -9) / 20)
    return sound + fftconvolve(sound, room)[: len(sound)]


def mains_and_noise(rng: np.random.Generator, length: int, scene: Scene) -> np.ndarray:
    """Coloured room noise and mains hum; the closing impact has RMS 1 over 5 ms, so SNR is against that."""
    spectrum = np.fft.rfft(rng.normal(size=length))
    hz = np.fft.rfftfreq(length, 1 / scene.rate_hz)
    spectrum *= np.maximum(hz, 50.0) ** -rng.uniform(0.2, 0.9)
    in_band = np.fft.irfft(np.where((hz >= 1_000) & (hz <= 14_000), spectrum, 0), length)
    noise = np.fft.irfft(spectrum, length) / ms_rms(in_band) * 10 ** (-scene.snr_db / 20)
    at = np.arange(length) / scene.rate_hz
    mains_hz = rng.choice((50, 60))
    for harmonic in range(1, 6):
        noise += 10 ** (-scene.snr_db / 20) * rng.uniform(0, 1) / harmonic * np.sin(2 * np.pi * mains_hz * harmonic * at + rng.uniform(0, 6.28))
    return noise
