"""What makes a bright piece no leak: the lamp's glow, a hot pixel of the camera, a fold or edge that runs on (step 6)."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from barnlight.domain import leak_filters as filters
from barnlight.domain.leak_maps import Maps
from barnlight.domain.leak_pieces import Piece


@dataclass(frozen=True)
class Spot:
    """How the light lies at a peak in the full picture."""

    spread: float  # mean of the eight neighbours over the brightest pixel, both above the background
    colour: float  # middle over largest of the three colours' sums


def is_glow(piece: Piece, maps: Maps, constants: dict) -> bool:
    """Too large for a hole, or at the edge of the lamp's own glow."""
    limits, scale = constants["large"], maps.scale
    large = (
        piece.core_area > limits["core_area"] * scale * scale
        or piece.length > limits["length"]
        or piece.width > limits["width"]
        or piece.piece_area > limits["piece_area"]
    )
    return large or bool(maps.near_glow[piece.peak_y, piece.peak_x])


def spot_of(piece: Piece, maps: Maps, full: np.ndarray, constants: dict) -> Spot:
    """The spot in the full picture (uint8 RGB), which may be the working picture itself."""
    limits = constants["hot"]
    height, width = full.shape[:2]
    x = min(int((piece.peak_x + 0.5) * width / maps.luma.shape[1]), width - 1)
    y = min(int((piece.peak_y + 0.5) * height / maps.luma.shape[0]), height - 1)
    reach = limits["search"] + 1 + limits["level_half"]
    rows, columns = (np.clip(np.arange(at - reach, at + reach + 1), 0, size - 1) for at, size in ((y, height), (x, width)))
    window = full[np.ix_(rows, columns)]
    return spot_in(window, float(maps.background[piece.peak_y, piece.peak_x]), constants)


def spot_in(window: np.ndarray, background: float, constants: dict) -> Spot:
    """The spot of a square window (uint8 RGB) around a peak whose background is given in codes; edges are repeated already."""
    limits = constants["hot"]
    middle, search = len(window) // 2, limits["search"]
    level = filters.luma(window, constants["luma"]) - np.float32(background)
    near = level[middle - search : middle + search + 1, middle - search : middle + search + 1]
    row, column = np.unravel_index(int(np.argmax(near)), near.shape)
    y, x = row + middle - search, column + middle - search
    brightest = float(level[y, x])
    around = float(level[y - 1 : y + 2, x - 1 : x + 2].sum(dtype=np.float64)) - brightest
    return Spot(around / 8 / brightest if brightest > 0 else 0.0, _colour(window, int(y), int(x), limits))


def _colour(window: np.ndarray, y: int, x: int, limits: dict) -> float:
    level_half, half = limits["level_half"], limits["colour_half"]
    surroundings = window[y - level_half : y + level_half + 1, x - level_half : x + level_half + 1].reshape(-1, 3)
    ground = np.sort(surroundings, axis=0)[len(surroundings) // 2].astype(float)
    sums = np.sort((window[y - half : y + half + 1, x - half : x + half + 1].astype(float) - ground).sum(axis=(0, 1)))
    return float(max(sums[1], 0) / sums[2]) if sums[2] > 0 else 0.0


def is_hot_pixel(piece: Piece, spot: Spot, constants: dict) -> bool:
    """The camera's own: a single pixel, or one colour alone."""
    limits = constants["hot"]
    return (
        spot.spread < limits["least_spread"]
        or (spot.spread < limits["doubtful_spread"] and spot.colour < limits["doubtful_colour"])
        or (spot.colour < limits["least_colour"] and piece.length < limits["colour_length"])
    )


def runs_on(piece: Piece, maps: Maps, constants: dict) -> bool:
    """A fold or an edge: in some direction the brightness goes on beyond the piece."""
    limits = constants["lines"]
    turns = np.append(np.radians(np.arange(0, 360, limits["every_deg"])), [piece.angle, piece.angle + math.pi])
    far = _edge(piece, turns)[:, None] + limits["start"] + limits["step"] * np.arange(limits["samples"])
    x = np.floor(piece.x + far * np.cos(turns)[:, None] + 0.5).astype(int)
    y = np.floor(piece.y + far * np.sin(turns)[:, None] + 0.5).astype(int)
    height, width = maps.contrast.shape
    inside = (x >= 0) & (x < width) & (y >= 0) & (y < height)
    rays = np.where(inside, np.clip(maps.contrast[y.clip(0, height - 1), x.clip(0, width - 1)], 0, piece.peak_code), 0)
    kept = np.sort(rays, axis=1)[:, limits["drop"] : -limits["drop"]]
    return bool(kept.mean(axis=1).max() > limits["most"] * piece.peak_code)


def _edge(piece: Piece, turns: np.ndarray) -> np.ndarray:
    """From the centre of the piece to its edge in each direction, taken as an ellipse."""
    a, b = piece.length / 2, piece.width / 2
    return a * b / np.hypot(b * np.cos(turns - piece.angle), a * np.sin(turns - piece.angle))
