"""What the hard simulator assumes of shutters and rooms: every range and share, as data that a benchmark can print.

No real shutter was recorded. HOME is what the timing engine is tuned on; UNLIKE bends the shutter, not the room.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np

MARKS_S = (1.0, 0.5, 0.2, 0.1, 0.04, 0.02, 0.01, 1 / 150, 0.004, 0.002)


@dataclass(frozen=True)
class Flat:
    """Every value from `least` to `most` alike."""

    least: float
    most: float

    def draw(self, rng: np.random.Generator) -> float:
        return float(rng.uniform(self.least, self.most))

    def __str__(self) -> str:
        return f"{self.least:g} .. {self.most:g}"


@dataclass(frozen=True)
class Bell:
    """Normal, about `middle`."""

    middle: float
    deviation: float

    def draw(self, rng: np.random.Generator) -> float:
        return float(rng.normal(self.middle, self.deviation))

    def __str__(self) -> str:
        return f"{self.middle:g} +- {self.deviation:g}"


@dataclass(frozen=True)
class Skewed:
    """Log-normal about a median, cut at both ends."""

    median: float
    log_deviation: float
    least: float
    most: float

    def draw(self, rng: np.random.Generator) -> float:
        return float(np.clip(rng.lognormal(np.log(self.median), self.log_deviation), self.least, self.most))

    def __str__(self) -> str:
        return f"{self.least:g} .. {self.most:g}, median {self.median:g}"


@dataclass(frozen=True)
class Ranges:
    """Levels in dB are RMS over 5 ms against the closing impact; `_share` is of recordings, times by unit in the name."""

    # The shutter
    open_db: Bell | Flat = Bell(-4, 3)
    release_db: Bell | Flat = Bell(-9, 5)
    release_ahead_ms: Skewed | Flat = Skewed(6, 0.6, 2, 30)
    release_absent_share: float = 0.08
    rebound_share: float = 0.5
    rebound_db: Bell = Bell(-16, 4)
    rebound_after_ms: Flat = Flat(1.5, 6)
    bounces: tuple[int, int] = (0, 3)
    bounce_gap_ms: Flat = Flat(2, 9)
    slide_db: Flat = Flat(-40, -24)
    ticks_db: Flat = Flat(-30, -11)
    ticks_per_s: Flat = Flat(90, 420)
    tick_jitter: Flat = Flat(0.015, 0.04)
    # A sticking train: slow speeds only
    sticking_share: float = 0.25
    stalls: tuple[int, int] = (1, 3)
    stall_of_time: Flat = Flat(0.04, 0.17)
    slow_stretch_rate: Flat = Flat(0.35, 0.65)
    slow_stretch_of_time: Flat = Flat(0.2, 0.5)
    sticking_jitter: Flat = Flat(0.04, 0.14)
    # The true time: marked x 2^d
    off_stops: Bell = Bell(0.05, 0.15)
    slow_tail_share: float = 0.12
    slow_tail_stops: Skewed = Skewed(0.6, 0.6, 0.25, 1.8)
    fast_tail_share: float = 0.03
    fast_tail_stops: Flat = Flat(-1.3, -0.3)
    fast_speed_extra_stops: Flat = Flat(0.1, 0.6)
    firing_scatter_stops: float = 0.025
    # The hand
    cocking_share: float = 0.6
    cocking_before_s: Flat = Flat(0.12, 0.7)
    cocking_db: Flat = Flat(-12, 3)
    set_down_share: float = 0.3
    set_down_db: Flat = Flat(-14, 2)
    set_down_after_s: Flat = Flat(0.1, 0.6)
    thuds_share: float = 0.35
    thud_db: Flat = Flat(-12, 4)
    # The room
    babble_share: float = 0.35
    rt60_s: Flat = Flat(0.2, 0.6)
    direct_over_room_db: Flat = Flat(4, 18)
    reflections: tuple[int, int] = (1, 4)
    # The phone
    agc_share: float = 0.4
    agc_db: Flat = Flat(3, 9)
    clipping_share: float = 0.15
    clipping_db: Flat = Flat(1, 12)
    codec_share: float = 0.3
    codec_lowpass_hz: Flat = Flat(10_000, 17_000)
    codec_noise_db: Flat = Flat(-38, -22)
    clock_ppm: float = 80

    def lines(self) -> list[str]:
        """One readable line a range."""
        return [f"{one.name}: {getattr(self, one.name)}" for one in fields(self)]


HOME = Ranges()
UNLIKE = replace(
    HOME, open_db=Flat(-10, 6), release_db=Flat(-14, 4), release_ahead_ms=Flat(3, 40), ticks_db=Flat(-30, -5)
)
