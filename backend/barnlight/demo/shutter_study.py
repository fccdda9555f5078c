"""The hard simulator ("study"): recordings of a shutter that never was, as bad as an estate sale makes them.

Each unit is one made-up shutter; the hand cocks, knocks and sets down; the room echoes and talks; the phone turns its gain,
clips, codes. All shares and ranges are in `shutter_ranges`. The truth is the first contact of opening and closing.
"""

from __future__ import annotations

import numpy as np
from scipy.fft import next_fast_len
from scipy.signal import fftconvolve

from barnlight.demo import shutter_phone
from barnlight.demo.shutter_ranges import HOME, Ranges
from barnlight.demo.shutter_sound import SLOWEST_FREE_RUN_S, Scene, Truth, add_bounces, mains_and_noise
from barnlight.demo.shutter_talk import babble, thud
from barnlight.demo.shutter_voice import Voice, ms_rms

RATE_HZ = 48_000
LEAD_S, TAIL_S, REST_S = 0.9, 0.8, (0.7, 1.3)
FAST_MARK_S, GEARED_FROM_S = 1 / 200, 0.06
# The wheel has so many teeth, each with a sound of its own that comes round again.
TEETH, TOOTH_RINGS_S = 18, 0.015


def true_time_s(rng: np.random.Generator, marked_s: float, ranges: Ranges = HOME) -> float:
    """What a shutter marked so might really do, in seconds: mostly near, some slow, a few fast."""
    kind = rng.random()
    if kind < ranges.slow_tail_share:
        stops = ranges.slow_tail_stops.draw(rng)
    elif kind < ranges.slow_tail_share + ranges.fast_tail_share:
        stops = ranges.fast_tail_stops.draw(rng)
    else:
        stops = ranges.off_stops.draw(rng)
    if marked_s < FAST_MARK_S:
        stops += ranges.fast_speed_extra_stops.draw(rng)
    return marked_s * 2**stops


def study_recording(
    rng: np.random.Generator, *, open_times_s: list[float], snr_db: float, ranges: Ranges = HOME
) -> tuple[np.ndarray, int, Truth]:
    """(samples, samples a second, truth) of firings of one shutter. SNR: closing impact over noise in 1-14 kHz.

    Empty `open_times_s` gives the hand, the room and the phone without a shutter. Truth is in real seconds.
    """
    truth = Truth(clock_ppm=float(np.clip(rng.normal(0, 30), -ranges.clock_ppm, ranges.clock_ppm)))
    starts, at = [], LEAD_S
    for open_time_s in open_times_s:
        starts.append(at)
        at += open_time_s + rng.uniform(*REST_S)
    end_s = starts[-1] + open_times_s[-1] if starts else LEAD_S + 0.3
    voice = Voice(rng, RATE_HZ * (1 + truth.clock_ppm * 1e-6), round((end_s + TAIL_S) * RATE_HZ))
    cocked = rng.random() < ranges.cocking_share
    levels_db = ranges.open_db.draw(rng), ranges.release_db.draw(rng), ranges.release_ahead_ms.draw(rng), ranges.ticks_db.draw(rng)
    has_release = rng.random() >= ranges.release_absent_share
    for start_s, open_time_s in zip(starts, open_times_s, strict=True):
        if cocked:
            _cock(rng, voice, start_s - ranges.cocking_before_s.draw(rng), ranges)
        _fire(rng, voice, start_s, start_s + open_time_s, levels_db, has_release, ranges)
        truth.firings.append({"open_s": start_s, "close_s": start_s + open_time_s, "open_time_s": open_time_s})
    _handle(rng, voice, end_s, ranges)
    heard = in_room(rng, voice.sound, ranges) + _surroundings(rng, len(voice.sound), snr_db, ranges)
    return shutter_phone.take_up(rng, heard, RATE_HZ, ranges), RATE_HZ, truth


def _fire(rng, voice: Voice, open_s: float, close_s: float, levels_db: tuple, has_release: bool, ranges: Ranges) -> None:
    """All sounds of one firing. A shutter keeps its habits, so levels vary by a decibel or so between its firings."""
    open_db, release_db, ahead_ms, ticks_db = levels_db
    close_db = rng.normal(0, 0.7)
    if has_release:
        voice.impact(open_s - ahead_ms * rng.normal(1, 0.05) / 1000, release_db + rng.normal(0, 1.5))
    voice.impact(open_s, open_db + rng.normal(0, 1))
    if rng.random() < ranges.rebound_share:
        voice.impact(open_s + ranges.rebound_after_ms.draw(rng) / 1000, ranges.rebound_db.draw(rng))
    voice.slide(open_s, close_s, ranges.slide_db.draw(rng))
    if close_s - open_s > SLOWEST_FREE_RUN_S:
        _train(rng, voice, open_s, close_s, ticks_db, ranges)
    voice.impact(close_s, close_db)
    low_ms, high_ms = ranges.bounce_gap_ms.least, ranges.bounce_gap_ms.most
    add_bounces(rng, voice, close_s, int(rng.integers(ranges.bounces[0], ranges.bounces[1] + 1)), (low_ms / 1000, high_ms / 1000))


def _train(rng, voice: Voice, open_s: float, close_s: float, level_db: float, ranges: Ranges) -> None:
    """The escapement's ticks: spin-up, wobble, tick and tock not alike; when sticking, stalls and a slow stretch."""
    since = np.arange(round(TOOTH_RINGS_S * voice.rate_hz)) / voice.rate_hz
    teeth = [voice.blow(since, 0.0) for _ in range(TEETH)]
    open_time_s = close_s - open_s
    sticking = open_time_s > GEARED_FROM_S and rng.random() < ranges.sticking_share
    jitter = (ranges.sticking_jitter if sticking else ranges.tick_jitter).draw(rng)
    stalls = rng.uniform(0.1, 0.9, rng.integers(ranges.stalls[0], ranges.stalls[1] + 1)) if sticking and rng.random() < 0.7 else ()
    waiting = sorted(open_s + place * open_time_s for place in stalls)
    stretch = (0.0, 0.0)
    if sticking and (not waiting or rng.random() < 0.5):
        stretch_from = open_s + rng.uniform(0.1, 0.5) * open_time_s
        stretch = (stretch_from, stretch_from + ranges.slow_stretch_of_time.draw(rng) * open_time_s)
    rate, spacing_s = ranges.slow_stretch_rate.draw(rng), 1 / ranges.ticks_per_s.draw(rng)
    asymmetry_db, wobble, drift = rng.uniform(0, 4), rng.uniform(0, 0.06), rng.uniform(-0.1, 0.1)
    at, count = open_s + rng.uniform(0.003, 0.008), 0
    while at < close_s - 0.004:
        tick_db = level_db + (asymmetry_db if count % 2 else 0) + rng.normal(0, 1.5)
        voice.add(int(at * voice.rate_hz), teeth[count % TEETH] * 10 ** (tick_db / 20))
        step_s = spacing_s * (1 + 0.6 * np.exp(-count / 3)) * (1 + wobble * np.sin(count * 6.28 / TEETH) + rng.normal(0, jitter))
        at += max(0.001, step_s * (1 + drift * (at - open_s) / open_time_s) / (rate if stretch[0] <= at < stretch[1] else 1))
        if waiting and at >= waiting[0]:
            waiting.pop(0)
            at += max(0.012, ranges.stall_of_time.draw(rng) * open_time_s)
        count += 1


def _cock(rng, voice: Voice, at: float, ranges: Ranges) -> None:
    """The cocking lever pushed over: a scrape with a click at each end and sometimes one between."""
    takes_s = rng.uniform(0.06, 0.25)
    voice.slide(at - takes_s, at, rng.uniform(-30, -14))
    for place in (1.0, 0.0, 0.5)[: rng.integers(1, 4)]:
        voice.impact(at - takes_s * place, ranges.cocking_db.draw(rng))
    voice.impact(at, ranges.cocking_db.draw(rng))


def _handle(rng, voice: Voice, end_s: float, ranges: Ranges) -> None:
    """Set-down clicks after the last firing, thuds anywhere."""
    if rng.random() < ranges.set_down_share:
        at = end_s + ranges.set_down_after_s.draw(rng)
        for _ in range(rng.integers(1, 4)):
            voice.impact(at, ranges.set_down_db.draw(rng))
            at += rng.uniform(0.01, 0.12)
    if rng.random() < ranges.thuds_share:
        for _ in range(rng.integers(1, 4)):
            sound = thud(rng, RATE_HZ) * 10 ** (ranges.thud_db.draw(rng) / 20)
            voice.add(int(rng.uniform(0, end_s + TAIL_S) * RATE_HZ), sound)


def in_room(rng, sound: np.ndarray, ranges: Ranges) -> np.ndarray:
    """The sound with early reflections (0.2-6 ms) and a room that decays."""
    rt60_s = ranges.rt60_s.draw(rng)
    after = np.arange(round(rt60_s * RATE_HZ)) / RATE_HZ
    room = rng.normal(size=len(after)) * 10 ** (-3 * after / rt60_s)
    room[: round(0.004 * RATE_HZ)] = 0.0
    room *= 10 ** (-ranges.direct_over_room_db.draw(rng) / 20) / np.sqrt(np.sum(room**2))
    for _ in range(rng.integers(ranges.reflections[0], ranges.reflections[1] + 1)):
        room[round(rng.uniform(0.0002, 0.006) * RATE_HZ)] += rng.choice((-1, 1)) * 10 ** (rng.uniform(-24, -7) / 20)
    return sound + fftconvolve(sound, room)[: len(sound)]


def _surroundings(rng, length: int, snr_db: float, ranges: Ranges) -> np.ndarray:
    """Coloured noise and hum; with babble, half of the noise's power is talk."""
    padded = next_fast_len(length, real=True)
    noise = mains_and_noise(rng, padded, Scene(snr_db=snr_db, rate_hz=RATE_HZ))[:length]
    if rng.random() < ranges.babble_share:
        talk = babble(rng, length, RATE_HZ)
        noise = (noise + talk * 10 ** (-snr_db / 20) / max(ms_rms(talk), 1e-9)) / np.sqrt(2)
    return noise
