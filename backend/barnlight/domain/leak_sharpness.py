"""Whether a dark picture is sharp enough to be judged: edges fine against coarse, in eight directions (step 9)."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from scipy import ndimage

from barnlight.domain import leak_filters as filters

Sharpness = Literal["sharp", "moved", "blurred", "cannot_tell"]


def sharpness_of(level: np.ndarray, constants: dict) -> Sharpness:
    """Of the brightness (codes) of the working picture; "cannot_tell" where it has no edges to judge by."""
    limits = constants["sharpness"]
    halved = filters.block_means(level, 2) if max(level.shape) > limits["halve_above"] else level
    grown = 2 * math.floor(limits["grow_px"] * len(halved) / len(level) + 0.5) + 1
    outside = ~ndimage.maximum_filter(halved >= limits["glow_code"], grown, mode="nearest")
    if not outside.any():
        return "cannot_tell"
    fine, coarse = (_slopes(ndimage.gaussian_filter(halved, limits[name], mode="nearest", truncate=4)) for name in ("fine_px", "coarse_px"))
    ratios = []
    for index in range(limits["directions"]):
        turn = math.pi * index / limits["directions"]
        edge = _level_of(coarse, turn, outside, limits["share"], limits)
        grain = limits["noise_z"] * _level_of(fine, turn, outside, 0.5, limits) / 0.6745
        # A sharp edge that weak would drown in the noise as well.
        if edge < limits["least_edge"] or grain > limits["most_grain"] * edge:
            return "cannot_tell"
        ratios.append(math.sqrt(max(0, _level_of(fine, turn, outside, limits["share"], limits) ** 2 - grain**2)) / edge)
    if max(ratios) < limits["blurred_below"]:
        return "blurred"
    if min(ratios) < limits["moved_below"] and min(ratios) < limits["moved_share"] * max(ratios):
        return "moved"
    return "sharp"


def _slopes(picture: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Change in codes a pixel across and down, from both neighbours; half of it at the edges."""
    padded = np.pad(picture, 1, mode="edge")
    return (padded[1:-1, 2:] - padded[1:-1, :-2]) / 2, (padded[2:, 1:-1] - padded[:-2, 1:-1]) / 2


def _level_of(slopes: tuple[np.ndarray, np.ndarray], turn: float, outside: np.ndarray, share: float, limits: dict) -> float:
    across, down = slopes
    along = np.abs(np.float32(math.cos(turn)) * across + np.float32(math.sin(turn)) * down)
    return filters.rank_level(along[outside], share, limits["steps_per_code"], limits["most_code"])
