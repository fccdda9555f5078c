"""Bright pieces of a dark picture: pixels that stand out, joined, each with its core and shape (step 5)."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from barnlight.domain.leak_maps import Maps

AROUND = np.ones((3, 3), bool)


@dataclass(frozen=True)
class Piece:
    """One bright piece; px of the working picture, pixel centres at whole numbers."""

    x: float  # centre, weighted by contrast
    y: float
    box: tuple[int, int, int, int]  # first and last column and row of the core: x0, y0, x1, y1
    length: float
    width: float
    angle: float  # of the length, radians, y down
    core_area: int
    piece_area: int
    peak_x: int
    peak_y: int
    peak_code: float  # contrast at the peak


def pieces_of(maps: Maps, constants: dict) -> list[Piece]:
    """Pieces that hold a seed, in order of their first pixel."""
    limits, contrast, noise = constants["hysteresis"], maps.contrast, maps.noise
    low = (contrast >= limits["low_noise"] * noise) & (contrast >= limits["low_code"])
    seed = (contrast >= limits["seed_noise"] * noise) & (contrast >= limits["seed_code"]) & (maps.excess >= limits["seed_excess"])
    labels, _ = ndimage.label(low, AROUND)
    wanted = np.unique(labels[seed & low])
    boxes = ndimage.find_objects(labels)
    areas = np.bincount(labels.ravel())
    found = []
    for label in wanted:
        part = boxes[label - 1]
        inside = labels[part] == label
        found.append(_piece(np.where(inside, contrast[part], 0), part[1].start, part[0].start, int(areas[label]), constants["core_share"]))
    return found


def _piece(contrast: np.ndarray, left: int, top: int, area: int, core_share: float) -> Piece:
    """The piece whose contrast is given within its box, 0 outside of it."""
    peak_y, peak_x = np.unravel_index(int(np.argmax(contrast)), contrast.shape)
    peak = float(contrast[peak_y, peak_x])
    bright, _ = ndimage.label(contrast >= np.float32(core_share * peak), AROUND)
    y, x = np.nonzero(bright == bright[peak_y, peak_x])
    weight = contrast[y, x].astype(float)
    total = weight.sum()
    centre_x, centre_y = (weight @ x) / total, (weight @ y) / total
    # A pixel is a square, not a point: its own spread is 1/12.
    xx, yy = weight @ (x - centre_x) ** 2 / total + 1 / 12, weight @ (y - centre_y) ** 2 / total + 1 / 12
    xy = weight @ ((x - centre_x) * (y - centre_y)) / total
    middle, half = (xx + yy) / 2, math.hypot((xx - yy) / 2, xy)
    return Piece(
        x=float(centre_x) + left,
        y=float(centre_y) + top,
        box=(int(x.min()) + left, int(y.min()) + top, int(x.max()) + left, int(y.max()) + top),
        length=math.sqrt(12 * (middle + half)),
        width=math.sqrt(12 * max(middle - half, 0)),
        angle=0.5 * math.atan2(2 * xy, xx - yy),
        core_area=len(x),
        piece_area=area,
        peak_x=int(peak_x) + left,
        peak_y=int(peak_y) + top,
        peak_code=peak,
    )
