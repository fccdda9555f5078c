"""The clicks of a recording: where the energy jumps, placed to a sample, with the energy each one adds (steps 4-7).

Placing uses the two-segment variance picker of acoustic emission (Maeda 1985).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from barnlight.domain.shutter_signal import Signal

# Keeps the logarithm of a digitally silent stretch finite.
TINY_ENERGY = 1e-14


@dataclass(frozen=True)
class Clicks:
    """Clicks in order of time; arrays of one length."""

    at: np.ndarray  # sample index
    jump_db: np.ndarray  # energy after over energy before
    level_db: np.ndarray  # energy added, over the noise floor

    def take(self, which: np.ndarray) -> Clicks:
        return Clicks(self.at[which], self.jump_db[which], self.level_db[which])


def find_clicks(signal: Signal, constants: dict) -> Clicks:
    """All clicks of the recording, none closer than 0.3 ms to the one before."""
    coarse, jump_db = jumps(signal, constants["jump"])
    refined = refine(signal, coarse, constants["refine"])
    kept = thin(refined, signal.samples(constants["refine"]["apart_ms"]))
    at = refined[kept]
    return Clicks(at, jump_db[kept], added_levels(signal, at, constants["level"]))


def jumps(signal: Signal, constants: dict) -> tuple[np.ndarray, np.ndarray]:
    """(positions, jump in dB) of the steepest rises of energy, on a coarse grid."""
    # Loaded with the first recording: a server's start must not wait for it.
    from scipy.ndimage import maximum_filter1d

    hop = signal.samples(constants["hop_ms"])
    ahead_length, behind_length = signal.samples(constants["ahead_ms"]), signal.samples(constants["behind_ms"])
    at = np.arange(behind_length, len(signal.energy_sum) - ahead_length, hop)
    if len(at) == 0:
        return at, np.zeros(0)
    ahead = signal.mean_energy(at, ahead_length)
    behind = signal.mean_energy(at - behind_length, behind_length)
    base = constants["floor_share"] * signal.floor
    ratio = (ahead + base) / (behind + base)
    reach = max(1, signal.samples(constants["apart_ms"]) // hop)
    steepest = ratio == maximum_filter1d(ratio, 2 * reach + 1, mode="nearest")
    loud = ahead >= signal.floor * 10 ** (constants["over_floor_db"] / 10)
    found = steepest & loud & (ratio >= 10 ** (constants["least_db"] / 10))
    return at[found], 10 * np.log10(ratio[found])


def refine(signal: Signal, coarse: np.ndarray, constants: dict) -> np.ndarray:
    """Each position moved to where one variance before and another after fit best (Akaike's criterion at its least)."""
    energy_sum, search = signal.energy_sum, signal.samples(constants["search_ms"])
    first = np.maximum(0, coarse - signal.samples(constants["before_ms"]))[:, None]
    last = np.minimum(len(energy_sum) - 1, coarse + signal.samples(constants["after_ms"]))[:, None]
    split = np.clip(coarse[:, None] + np.arange(-search, search + 1), first + 1, last - 1)
    quiet = (energy_sum[split] - energy_sum[first]) / (split - first)
    loud = (energy_sum[last] - energy_sum[split]) / (last - split)
    criterion = (split - first) * np.log(quiet + TINY_ENERGY) + (last - split) * np.log(loud + TINY_ENERGY)
    return split[np.arange(len(coarse)), np.argmin(criterion, axis=1)]


def thin(at: np.ndarray, apart: int) -> np.ndarray:
    """Indices of the positions that stand at least `apart` samples after the last one kept."""
    kept: list[int] = []
    previous = -apart
    for index, point in enumerate(at.tolist()):
        if point - previous >= apart:
            kept.append(index)
            previous = point
    return np.array(kept, int)


def added_levels(signal: Signal, at: np.ndarray, constants: dict) -> np.ndarray:
    """The energy each click adds, in dB over the floor.

    The look ahead stops before the next click: else a weak click just before a loud one inherits its level.
    """
    window, span = signal.samples(constants["window_ms"]), signal.samples(constants["span_ms"])
    guard, behind = signal.samples(constants["guard_ms"]), signal.samples(constants["behind_ms"])
    stop = np.append(at[1:] - guard, len(signal.energy_sum) - 1)
    last = np.maximum(at, np.minimum(at + span, stop))
    starts = np.minimum(at[:, None] + np.arange(span + 1), last[:, None])
    loudest = np.max(signal.mean_energy(starts, window), axis=1)
    added = np.maximum(loudest - signal.mean_energy(at - behind, behind), constants["least_share"] * loudest)
    return 10 * np.log10(np.maximum(added, TINY_ENERGY) / signal.floor)
