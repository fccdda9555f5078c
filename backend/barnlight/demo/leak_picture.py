"""Whole simulated photos of leaks with their measured truth: each is taken twice, with and without its leaks, under one noise."""

from __future__ import annotations

import io
from dataclasses import dataclass

import numpy as np
from PIL import Image
from scipy.ndimage import gaussian_filter, uniform_filter1d

from barnlight.demo.leak_camera import Phone, phone, photograph
from barnlight.demo.leak_ranges import RANGES, SCENES, SHAPES, SIZES, SPOILT, SPOILT_RANGES
from barnlight.demo.leak_scene import Scene, log_uniform, scene, uniform


@dataclass(frozen=True)
class TrueLeak:
    """A leak that is there; px of the photo, levels in codes. "visible" stands out from all near it, "invisible" from nothing."""

    shape: str
    x: float
    y: float
    line: tuple[float, float, float, float]
    seen_as: str  # "visible", "faint", "invisible"
    peak_code: float
    cnr: float  # contrast to noise


@dataclass(frozen=True)
class Photo:
    """A photo and what is true of it; boxes x0, y0, x1, y1 in px."""

    jpeg: bytes
    size: tuple[int, int]
    kind: str
    spoilt: str | None
    leaks: list[TrueLeak]
    reflections: list[list[float]]
    glow: list[float]


def picture(seed: int, *, size: tuple[int, int] | None = None, kind: str | None = None, spoilt: str | None = "any") -> Photo:
    """The photo of a seed. `spoilt`: what is wrong with it, None for nothing, "any" to let the seed choose."""
    rng = np.random.default_rng(seed)
    chosen_size = _choice(rng, SIZES)
    chosen_kind = _choice(rng, SCENES)
    fault = _choice(rng, {**SPOILT, None: 1 - sum(SPOILT.values())})
    size, kind, fault = size or chosen_size, kind or chosen_kind, fault if spoilt == "any" else spoilt
    room = log_uniform(rng, "room_light")
    if fault == "room_light":
        room = float(rng.uniform(*SPOILT_RANGES["room_light"]))
    if fault == "black":
        room = float(rng.uniform(*SPOILT_RANGES["black"]))
    made = scene(rng, kind, size, room)
    light = made.light
    if fault == "black":
        light = np.minimum(light, 0.001)
    if fault == "glare":
        light = light + float(rng.uniform(0.08, 0.3)) + (light > 0.5) * 3
    taken = phone(
        rng, size, float(rng.uniform(*SPOILT_RANGES["motion_px"])) if fault == "motion" else None,
        float(rng.uniform(*SPOILT_RANGES["focus_px"])) if fault == "focus" else None,
    )  # fmt: skip
    count = int(rng.integers(RANGES["leaks"][0], RANGES["leaks"][1] + 1))
    placed = [one for one in (_leak(rng, made, size) for _ in range(count)) if one]
    shone = light + sum((_light(one, size) for one in placed), np.float32(0)) * (0.002 if fault == "black" else 1)
    jpeg = photograph(shone, taken)
    return Photo(jpeg, size, kind, fault, _truth(jpeg, light, taken, placed), made.reflections, made.glow)


@dataclass(frozen=True)
class _Placed:
    shape: str
    points: np.ndarray  # px, (n, 2), with the share of light of each
    shares: np.ndarray
    strength: float
    scatter: float


def _leak(rng: np.random.Generator, made: Scene, size: tuple[int, int]) -> _Placed | None:
    unit = size[0] / 2048
    shape = _choice(rng, SHAPES)
    strength, scatter = log_uniform(rng, "strength") * unit * unit, uniform(rng, "scatter")
    if not len(made.folds) or (shape == "corner" and not len(made.corners)):
        return None
    start, end = made.folds[int(rng.integers(len(made.folds)))]
    if shape == "pinhole":
        points = (start + (end - start) * rng.uniform(0.05, 0.95))[None] + rng.normal(0, 2 * unit, 2)
    elif shape == "slit":
        along = (end - start) / (np.linalg.norm(end - start) + 1e-9)
        long = rng.uniform(*RANGES["slit_px"]) * unit
        points = start + (end - start) * rng.uniform(0.2, 0.8) + along * np.linspace(-long / 2, long / 2, max(2, int(long)))[:, None]
    else:
        knee = made.corners[int(rng.integers(len(made.corners)))]
        turns = rng.uniform(0, 2 * np.pi, int(rng.integers(2, 4)))
        far = rng.uniform(3, 9) * unit
        points = np.concatenate([knee + np.linspace(0, far, 8)[:, None] * np.array([np.cos(turn), np.sin(turn)]) for turn in turns])
    margin = 6
    if (points < margin).any() or (points[:, 0] > size[0] - margin).any() or (points[:, 1] > size[1] - margin).any():
        return None
    uneven = np.maximum(uniform_filter1d(rng.uniform(0.05, 1, len(points)), 5), 0.02) ** 1.5
    return _Placed(shape, points, uneven / uneven.sum(), strength * (1 if shape == "pinhole" else 3), scatter)


def _light(one: _Placed, size: tuple[int, int]) -> np.ndarray:
    """The light of a leak on the picture, split over the four pixels around each of its points, and its scatter."""
    light = np.zeros((size[1], size[0]), np.float32)
    for (x, y), share in zip(one.points - 0.5, one.shares, strict=True):
        left, top = int(np.floor(x)), int(np.floor(y))
        for row, down in ((top, 1 - (y - top)), (top + 1, y - top)):
            for column, across in ((left, 1 - (x - left)), (left + 1, x - left)):
                light[row, column] += one.strength * share * down * across
    unit = size[0] / 2048
    (x0, y0), (x1, y1) = np.floor(one.points.min(axis=0) - 60 * unit).astype(int), np.ceil(one.points.max(axis=0) + 60 * unit).astype(int)
    part = slice(max(0, y0), y1), slice(max(0, x0), x1)
    light[part] += one.scatter * gaussian_filter(light[part], 9 * unit)
    return light[..., None] * np.array([1.0, 0.94, 0.83], np.float32)


def _truth(jpeg: bytes, light: np.ndarray, taken: Phone, placed: list[_Placed]) -> list[TrueLeak]:
    """What of each leak is in the picture, at the working scale, against the noise and against the brightest near it."""
    if not placed:
        return []
    bare, full = (_working_luma(data) for data in (photograph(light, taken), jpeg))
    scale = bare.shape[1] / light.shape[1]
    return [_measured(one, bare, full - bare, scale) for one in placed]


def _measured(one: _Placed, bare: np.ndarray, gained: np.ndarray, scale: float) -> TrueLeak:
    middle = (one.points * one.shares[:, None]).sum(axis=0)
    low, high = one.points.min(axis=0) * scale, one.points.max(axis=0) * scale
    here = slice(max(0, int(low[1]) - 4), int(high[1]) + 5), slice(max(0, int(low[0]) - 4), int(high[0]) + 5)
    around = slice(max(0, int(low[1]) - 48), int(high[1]) + 49), slice(max(0, int(low[0]) - 48), int(high[0]) + 49)
    peak = float(gained[here].max())
    detail = bare[around] - gaussian_filter(bare[around], 4)
    noise = max(0.5, 1.4826 * float(np.median(np.abs(detail - np.median(detail)))))
    over = float((bare + gained)[here].max()) - float(np.quantile(bare[around], 0.995))
    cnr = peak / noise
    visible = cnr >= 8 and peak >= 12 and over >= max(8, 3 * noise)
    seen_as = "visible" if visible else "faint" if cnr >= 3.5 and peak >= 4 else "invisible"
    first, last = one.points[0], one.points[-1]
    line = (float(first[0]), float(first[1]), float(last[0]), float(last[1])) if one.shape == "slit" else (*map(float, middle), *map(float, middle))
    return TrueLeak(one.shape, float(middle[0]), float(middle[1]), line, seen_as, peak, cnr)


def _working_luma(jpeg: bytes) -> np.ndarray:
    with Image.open(io.BytesIO(jpeg)) as opened:
        small = opened if max(opened.size) <= 2048 else opened.resize((2048, round(opened.height * 2048 / opened.width)), Image.Resampling.BOX)
        level = np.asarray(small.convert("RGB"), np.float32) @ np.array([0.299, 0.587, 0.114], np.float32)
    return gaussian_filter(level, 0.5)


def _choice(rng: np.random.Generator, shares: dict) -> object:
    names = list(shares)
    weights = np.array([shares[name] for name in names], float)
    return names[int(rng.choice(len(names), p=weights / weights.sum()))]
