"""What each pixel of a dark picture is held against: its background, the surfaces nearby, the noise, the lamp's own glow (steps 1-4)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from barnlight.domain import leak_filters as filters


@dataclass(frozen=True)
class Maps:
    """Maps of the working picture in codes, float32 (height, width); `near_glow` is a mask."""

    luma: np.ndarray
    smooth: np.ndarray
    background: np.ndarray
    contrast: np.ndarray  # over the background
    excess: np.ndarray  # over the brightest surface nearby
    noise: np.ndarray
    near_glow: np.ndarray
    surface_code: float  # of the brightest surface of all
    scale: float  # long edge against that of the working size, at most 1


def maps_of(pixels: np.ndarray, constants: dict) -> Maps:
    """`pixels`: uint8 RGB (height, width, 3) of the working picture; `constants`: the catalogue's `leaks`."""
    block = constants["block"]
    level = filters.luma(pixels, constants["luma"])
    shape = level.shape
    scale = max(shape) / constants["working"]["long_edge"]
    blocks = filters.block_means(level, block)
    background = filters.enlarged(
        filters.stepped_median(blocks, constants["background"]["median_blocks"], constants["background"]["steps_per_code"]), block, shape
    )
    ceiling = constants["ceiling"]
    surfaces = filters.surface_ceiling(blocks, ceiling["hold_blocks"], ceiling["reach_blocks"])
    smooth = filters.smoothed(level)
    near_glow = glow_mask(blocks, scale, block, constants["glow"]).repeat(block, axis=0).repeat(block, axis=1)[: shape[0], : shape[1]]
    return Maps(
        luma=level,
        smooth=smooth,
        background=background,
        contrast=smooth - background,
        excess=smooth - filters.enlarged(surfaces, block, shape),
        noise=noise_map(level, smooth, near_glow, constants["noise"]),
        near_glow=near_glow,
        surface_code=float(surfaces.max()),
        scale=scale,
    )


def glow_mask(blocks: np.ndarray, scale: float, block: int, constants: dict) -> np.ndarray:
    """Blocks in or near the lamp's opening: large saturated pieces, grown."""
    side = constants["open_blocks"]
    bright = blocks >= constants["code"]
    opened = ndimage.binary_opening(bright, np.ones((side, side)))
    labels, count = ndimage.label(opened, np.ones((3, 3)))
    areas = np.bincount(labels.ravel(), minlength=count + 1) * block * block
    large = areas >= constants["least_area"] * scale * scale
    large[0] = False
    grown = 2 * constants["grow_blocks"] + 1
    return ndimage.maximum_filter(large[labels], grown, mode="nearest")


def noise_map(level: np.ndarray, smooth: np.ndarray, near_glow: np.ndarray, constants: dict) -> np.ndarray:
    """Noise in codes at each pixel: the spread of fine detail in tiles, linear between their centres.

    The upper tail counts too: the middle alone is blind to worn ridges. A tile within the glow takes its nearest neighbour's.
    """
    every, steps, most = constants["every"], constants["steps_per_code"], constants["most_code"]
    fine = (smooth - filters.box_mean(level, constants["box"]))[::every, ::every]
    outside = ~near_glow[::every, ::every]
    tall, wide = (max(1, int(size / constants["tile"] + 0.5)) for size in level.shape)
    down, across = (np.arange(count + 1) * size // count for size, count in zip(fine.shape, (tall, wide), strict=True))
    tiles = np.full((tall, wide), np.nan)
    for row in range(tall):
        for column in range(wide):
            part = slice(down[row], down[row + 1]), slice(across[column], across[column + 1])
            values = fine[part][outside[part]]
            if len(values):
                low, middle, high, upper = (filters.rank_level(values, share, steps, most) for share in (0.25, 0.5, 0.75, 0.9))
                spread = max((high - low) / constants["half_z"], (upper - middle) / constants["upper_z"])
                tiles[row, column] = max(constants["least_code"], constants["factor"] * spread)
    return _between_tiles(_filled(tiles, constants["least_code"]), level.shape)


def _filled(tiles: np.ndarray, least_code: float) -> np.ndarray:
    empty = np.isnan(tiles)
    if empty.all():
        return np.full_like(tiles, least_code)
    known = np.argwhere(~empty)
    filled = tiles.copy()
    for place in np.argwhere(empty):
        filled[tuple(place)] = tiles[tuple(known[int(np.argmin(((known - place) ** 2).sum(axis=1)))])]
    return filled


def _between_tiles(tiles: np.ndarray, shape: tuple[int, int]) -> np.ndarray:
    down, across = (
        np.clip((np.arange(size) + 0.5) * count / size - 0.5, 0, count - 1) for size, count in zip(shape, tiles.shape, strict=True)
    )
    rows = np.stack([np.interp(down, np.arange(len(tiles)), column) for column in tiles.T])
    return np.stack([np.interp(across, np.arange(len(rows)), row) for row in rows.T]).astype(np.float32)
