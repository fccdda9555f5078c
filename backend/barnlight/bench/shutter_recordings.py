"""The simulated recordings of a seed and what the engine hears in them; what was heard is cached, the sound is not.

Recording `index` of `kind` and `seed` is the same for ever. Seeds below JUDGING_FROM are for tuning, the others for judging.
"""

from __future__ import annotations

import hashlib
import json
import pickle
import sys
from collections.abc import Callable, Iterable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from barnlight import catalogue
from barnlight.demo import shutter_chatter, shutter_phone, shutter_ranges, shutter_sound, shutter_study, shutter_talk, shutter_voice
from barnlight.demo.shutter_ranges import HOME, MARKS_S, UNLIKE
from barnlight.domain import shutter_candidates, shutter_signal
from barnlight.domain.shutter_timing import Heard, listen

JUDGING_FROM = 100
KINDS = ("one", "three", "unlike", "unlike three", "nothing", "faint", "talk", "even train", "stalled train")
# Slow speeds only, where a gear train ticks between opening and closing.
TRAINS = {"even train": replace(HOME, sticking_share=0.0), "stalled train": replace(HOME, sticking_share=1.0)}
GEARED_MARKS_S = MARKS_S[:4]
LOUD_DB, FAINT_DB = (20, 30, 40), (5, 10, 15)
# What a cached hearing depends on: the simulator and the steps up to the clicks.
SOURCES = (shutter_ranges, shutter_study, shutter_phone, shutter_sound, shutter_talk, shutter_voice, shutter_candidates, shutter_signal)
HEARING = ("prepare", "highpass", "floor", "span_frame_ms", "jump", "refine", "level")


@dataclass(frozen=True)
class Case:
    """One recording: what is true of it and what was heard in it."""

    kind: str
    seed: int
    index: int
    marked_s: float
    snr_db: float
    what: str  # of kinds "nothing" and "talk": which; else "firing"
    times_s: tuple[float, ...]  # true open times
    marks_s: tuple[tuple[float, float], ...]  # opening and closing by the recording's own clock
    heard: Heard | str  # or why it is unusable


def sound(kind: str, seed: int, index: int) -> tuple[np.ndarray, int, Case]:
    """(samples, samples a second, case with nothing heard yet)."""
    rng = np.random.default_rng([KINDS.index(kind), seed, index])
    marks = GEARED_MARKS_S if kind in TRAINS else MARKS_S
    marked_s = marks[index % len(marks)]
    if kind == "nothing":
        what = shutter_talk.NO_FIRING[index // len(MARKS_S) % len(shutter_talk.NO_FIRING)]
        samples = shutter_talk.no_firing(rng, what)
        return samples, shutter_study.RATE_HZ, Case(kind, seed, index, marked_s, 0, what, (), (), "")
    if kind == "talk":
        what = shutter_chatter.TALKS[index // len(MARKS_S) % len(shutter_chatter.TALKS)]
        samples = shutter_chatter.talk(rng, what)
        return samples, shutter_study.RATE_HZ, Case(kind, seed, index, marked_s, 0, what, (), (), "")
    ranges = UNLIKE if kind.startswith("unlike") else TRAINS.get(kind, HOME)
    snr_db = (FAINT_DB if kind == "faint" else LOUD_DB)[index // len(marks) % 3]
    time_s = shutter_study.true_time_s(rng, marked_s, ranges)
    count = 3 if kind.endswith("three") else 1
    times_s = [time_s * 2 ** (rng.normal(0, ranges.firing_scatter_stops) if count > 1 else 0) for _ in range(count)]
    samples, rate_hz, truth = shutter_study.study_recording(rng, open_times_s=times_s, snr_db=snr_db, ranges=ranges)
    clock = 1 + truth.clock_ppm * 1e-6
    marks_s = tuple((one["open_s"] * clock, one["close_s"] * clock) for one in truth.firings)
    return samples, rate_hz, Case(kind, seed, index, marked_s, snr_db, "firing", tuple(times_s), marks_s, "")


def case(kind: str, seed: int, index: int) -> Case:
    """A recording, made and listened to."""
    samples, rate_hz, of = sound(kind, seed, index)
    heard = listen(samples, rate_hz, catalogue.load()["shutter_timing"])
    if not isinstance(heard, str):
        # Scores need clicks and frames only; without the energies a case is small.
        heard = replace(heard, signal=replace(heard.signal, energy_sum=np.zeros(1)))
    return replace(of, heard=heard)


def cases(kind: str, seeds: Iterable[int], count: int, cache: Path, processes: int = 2) -> list[Case]:
    """`count` recordings of each seed, from the cache where it has them."""
    found: list[Case] = []
    for seed in seeds:
        file = cache / f"{_key(kind)}_{kind.replace(' ', '_')}_{seed}_{count}.pickle"
        if not file.exists():
            file.parent.mkdir(parents=True, exist_ok=True)
            made = each(case, [(kind, seed, index) for index in range(count)], f"{kind}, seed {seed}", processes)
            file.write_bytes(pickle.dumps(made))
        found += pickle.loads(file.read_bytes())
    return found


def each(what: Callable, arguments: list[tuple], label: str, processes: int = 2) -> list:
    """`what` of each, over a few processes, with a progress bar on standard error."""
    found = []
    with ProcessPoolExecutor(processes) as pool:
        for result in pool.map(what, *zip(*arguments, strict=True), chunksize=5):
            found.append(result)
            if len(found) % 10 == 0 or len(found) == len(arguments):
                progress(label, len(found), len(arguments))
    return found


def progress(label: str, done: int, of: int) -> None:
    """Draws a bar on standard error."""
    bar = "#" * (30 * done // of)
    print(f"\r{label:24} [{bar:30}] {done}/{of}", end="\n" if done == of else "", file=sys.stderr, flush=True)


def _key(kind: str) -> str:
    """Changes when the simulator of the kind or the hearing does."""
    constants = catalogue.load()["shutter_timing"]
    digest = hashlib.sha256(json.dumps({name: constants[name] for name in HEARING}).encode())
    for module in (*SOURCES, shutter_chatter) if kind == "talk" else SOURCES:
        digest.update(Path(str(module.__file__)).read_bytes())
    return digest.hexdigest()[:12]
