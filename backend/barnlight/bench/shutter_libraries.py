"""General onset detectors on the benchmark's recordings: how often they hit the open time, and how long they take against ours.

They are built for music and do not know which two onsets matter, so each gets two rules: first to last onset, and the pair
nearest to the marked speed. Both libraries are optional: one that is not installed is left out, and said.
"""

from __future__ import annotations

import importlib
import math
import time
from collections.abc import Callable

import numpy as np

from barnlight import catalogue
from barnlight.bench.shutter_figures import SIXTH, THIRD, share
from barnlight.bench.shutter_recordings import each, sound
from barnlight.domain.shutter_timing import measure

MS_HOP = 48  # samples: 1 ms at the recordings' 48 kHz
RULES = ("first to last", "nearest the mark")


def librosa_default(samples: np.ndarray, rate_hz: int) -> np.ndarray:
    """Onsets in seconds with librosa's own settings: hop 512."""
    import librosa  # optional

    return librosa.onset.onset_detect(y=samples.astype(np.float32), sr=rate_hz, units="time")


def librosa_1ms(samples: np.ndarray, rate_hz: int) -> np.ndarray:
    """Onsets in seconds, on a grid of 1 ms."""
    import librosa  # optional

    return librosa.onset.onset_detect(y=samples.astype(np.float32), sr=rate_hz, units="time", hop_length=MS_HOP)


def aubio_1ms(samples: np.ndarray, rate_hz: int) -> np.ndarray:
    """Onsets in seconds: high-frequency content, hop and least gap of 1 ms."""
    import aubio  # optional

    detector = aubio.onset("hfc", 4 * 128, MS_HOP, rate_hz)
    detector.set_minioi_ms(1)
    found = []
    for start in range(0, len(samples) - MS_HOP + 1, MS_HOP):
        if detector(samples[start : start + MS_HOP].astype(np.float32)):
            found.append(detector.get_last_s())
    return np.array(found)


DETECTORS: dict[str, tuple[str, Callable]] = {
    "librosa, hop 512": ("librosa", librosa_default),
    "librosa, hop 48": ("librosa", librosa_1ms),
    "aubio hfc, hop 48": ("aubio", aubio_1ms),
}


def compare(seeds: list[int], count: int, processes: int) -> None:
    """Prints one line a detector and rule, of `count` recordings of each seed."""
    names = [name for name, (module, _) in DETECTORS.items() if _is_there(module)]
    if names:
        one_case(names, seeds[0], 0)  # compiles what compiles at first use, outside the times
    found = each(one_case, [(names, seed, index) for seed in seeds for index in range(count)], "general libraries", processes)
    own_s = sum(spent["own"] for _, spent in found)
    print(f"\nGeneral libraries on {len(found)} of the one-firing recordings: within 1/6, 1/3 stop of all; time against ours")
    own = [off["own"] for off, _ in found]
    print(f"  {'own, no answer counts as wrong':44} {_shares(own)}; {1000 * own_s / len(found):.1f} ms a recording")
    for name in names:
        times = sum(spent[name] for _, spent in found) / own_s
        for rule in RULES:
            print(f"  {name + ', ' + rule:44} {_shares([off[name, rule] for off, _ in found])}; {times:.1f} x")
    for name in DETECTORS.keys() - set(names):
        print(f"  {name}: not installed")


def one_case(names: list[str], seed: int, index: int) -> tuple[dict, dict[str, float]]:
    """(|error| in stops by detector and rule, seconds spent by detector) on one recording."""
    samples, rate_hz, case = sound("one", seed, index)
    constants = catalogue.load()["shutter_timing"]
    began = time.perf_counter()
    result = measure(samples, rate_hz, case.marked_s, constants)
    spent = {"own": time.perf_counter() - began}
    off: dict = {"own": _off_stops(result["open_time_s"], case.times_s[0])}
    for name in names:
        began = time.perf_counter()
        onsets = np.asarray(DETECTORS[name][1](samples, rate_hz))
        spent[name] = time.perf_counter() - began
        gaps = onsets[None, :] - onsets[:, None]
        gaps = gaps[gaps > 0]
        off[name, RULES[0]] = _off_stops(gaps.max() if gaps.size else None, case.times_s[0])
        nearest = gaps[np.argmin(np.abs(np.log2(gaps / case.marked_s)))] if gaps.size else None
        off[name, RULES[1]] = _off_stops(nearest, case.times_s[0])
    return off, spent


def _off_stops(found_s: float | None, true_s: float) -> float:
    return math.inf if found_s is None else abs(math.log2(found_s / true_s))


def _shares(off: list[float]) -> str:
    return f"{100 * share([one <= SIXTH for one in off]).value:5.1f}, {100 * share([one <= THIRD for one in off]).value:5.1f} %"


def _is_there(module: str) -> bool:
    try:
        importlib.import_module(module)
    except ImportError:
        return False
    return True
