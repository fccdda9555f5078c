"""Small filters of the leak finder over pictures: blocks, medians, openings, smoothing; edges repeat the last pixel.

Pictures are float32 arrays (height, width). The web app has the same functions; `tests/test_leak_filters.py` holds these against
scipy.ndimage, and the vectors hold both sides against each other.
"""

from __future__ import annotations

import numpy as np
from scipy import ndimage

# A binomial of five taps, near a Gaussian of 1 px.
SMOOTH = (1 / 16, 4 / 16, 6 / 16, 4 / 16, 1 / 16)


def luma(pixels: np.ndarray, weights: list[float]) -> np.ndarray:
    """Brightness in codes of RGB pixels."""
    red, green, blue = (np.float32(weight) for weight in weights)
    return red * pixels[..., 0] + green * pixels[..., 1] + blue * pixels[..., 2]


def block_means(picture: np.ndarray, block: int) -> np.ndarray:
    """Means of blocks of `block` px a side; the last ones repeat the edge where the picture ends within them."""
    height, width = picture.shape
    padded = np.pad(picture, ((0, -height % block), (0, -width % block)), mode="edge")
    tall, wide = padded.shape[0] // block, padded.shape[1] // block
    return padded.reshape(tall, block, wide, block).mean(axis=(1, 3), dtype=np.float32)


def stepped_median(blocks: np.ndarray, side: int, steps_per_code: int) -> np.ndarray:
    """Median over side x side, of levels rounded to steps so that both languages sort the same whole numbers."""
    steps = np.floor(blocks * np.float32(steps_per_code) + np.float32(0.5)).astype(np.uint16)
    return ndimage.median_filter(steps, side, mode="nearest").astype(np.float32) / np.float32(steps_per_code)


def surface_ceiling(blocks: np.ndarray, hold: int, reach: int) -> np.ndarray:
    """How bright the brightest surface nearby is that holds hold x hold blocks: an opening, then the maximum within reach x reach."""
    opened = ndimage.maximum_filter(ndimage.minimum_filter(blocks, hold, mode="nearest"), hold, mode="nearest")
    return ndimage.maximum_filter(opened, reach, mode="nearest")


def enlarged(blocks: np.ndarray, block: int, shape: tuple[int, int]) -> np.ndarray:
    """Values at block centres brought back to pixels of a picture of `shape` (height, width), linear between them."""
    down, across = (_between(count, size, block) for count, size in zip(blocks.shape, shape, strict=True))
    rows = blocks[down[0]] * (1 - down[2])[:, None] + blocks[down[1]] * down[2][:, None]
    return rows[:, across[0]] * (1 - across[2]) + rows[:, across[1]] * across[2]


def _between(count: int, size: int, block: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """For each pixel: the block centre before it, the one after it, and how far it lies between them, 0..1."""
    at = np.clip((np.arange(size) + 0.5) / block - 0.5, 0, count - 1)
    before = np.floor(at).astype(int)
    return before, np.minimum(before + 1, count - 1), (at - before).astype(np.float32)


def smoothed(picture: np.ndarray) -> np.ndarray:
    """The picture under a binomial of 5 x 5."""
    rows = ndimage.correlate1d(picture, SMOOTH, axis=0, mode="nearest")
    return ndimage.correlate1d(rows, SMOOTH, axis=1, mode="nearest")


def box_mean(picture: np.ndarray, side: int) -> np.ndarray:
    """Means over side x side px."""
    return ndimage.uniform_filter(picture, side, mode="nearest")


def rank_level(values: np.ndarray, share: float, steps_per_code: int, most_code: float) -> float:
    """The level that `share` of the values do not exceed, in whole steps and within +-most_code; values must not be empty.

    Steps let the web app count instead of sort, and give both sides the same figure.
    """
    steps = np.floor(np.clip(values, -most_code, most_code) * np.float32(steps_per_code) + np.float32(0.5)).astype(np.int32).ravel()
    rank = max(0, int(np.ceil(share * len(steps))) - 1)
    return float(np.partition(steps, rank)[rank]) / steps_per_code
