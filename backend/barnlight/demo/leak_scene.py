"""Dark-room scenes for the leak finder, as linear light: what is seen without leaks, where leaks may be, what only looks like one."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from PIL import Image, ImageDraw
from scipy.ndimage import gaussian_filter

from barnlight.demo.leak_ranges import RANGES
from barnlight.demo.leak_solid import Drawn, Eye, Solid, block, draw, table, tube


@dataclass(frozen=True)
class Scene:
    """Linear light without leaks (height, width, 3), and places in px: fold lines (n, 2, 2), corners (n, 2), boxes x0, y0, x1, y1."""

    light: np.ndarray
    folds: np.ndarray
    corners: np.ndarray
    leather: np.ndarray  # mask
    reflections: list[list[float]]
    glow: list[float]


def uniform(rng: np.random.Generator, name: str) -> float:
    return float(rng.uniform(*RANGES[name]))


def log_uniform(rng: np.random.Generator, name: str) -> float:
    return float(np.exp(rng.uniform(*np.log(RANGES[name]))))


def scene(rng: np.random.Generator, kind: str, size: tuple[int, int], room_light: float) -> Scene:
    """A scene of one of SCENES; `room_light`: the irradiance a white sheet would show."""
    unit = size[0] / 2048
    solids, bellows, eye, opening = {"bellows": _outside, "inside": _inside, "holder": _holder}[kind](rng, size)
    toward = rng.normal(0, 1, 3) + np.array([0, 1.2, 0])
    drawn = draw([face for solid in [*solids, bellows] for face in solid.faces], eye, size, toward / np.linalg.norm(toward))
    leather = drawn.mask("leather")
    ridges = np.array([eye.project(ridge)[0] for ridge in bellows.ridges])
    surface = drawn.shade[drawn.numbers] * _grain(rng, size, unit)
    surface *= np.where(leather, _worn(rng, ridges, size, unit), 1)
    light = (surface * room_light * _room(rng, size))[..., None] * rng.uniform([0.85, 0.9, 0.95], [1.05, 1.0, 1.15])
    light, glow = _lamp(rng, light.astype(np.float32), eye, opening, unit)
    light, boxes = _reflections(rng, light, drawn, unit)
    on = np.array([_is_on(leather, point) for point in ridges.mean(axis=1)]) if len(ridges) else np.zeros(0, bool)
    knees = np.array([eye.project(knee[None])[0][0] for knee in bellows.knees])
    shown = np.array([_is_on(leather, knee) for knee in knees])
    return Scene(light, ridges[on], knees[shown] if shown.any() else np.zeros((0, 2)), leather, boxes, glow)


def _outside(rng: np.random.Generator, size: tuple[int, int]) -> tuple[list[Solid], Solid, Eye, np.ndarray]:
    length, back = rng.uniform(190, 380), rng.uniform(62, 82)
    front = back * rng.uniform(0.55, 0.95)
    bellows = tube(rng, int(rng.integers(*RANGES["pleats"])), length, back, front, rng.uniform(8, 15), uniform(rng, "albedo"))
    body, brass = uniform(rng, "frame_albedo"), rng.uniform(0.2, 0.45)
    solids = [
        table(-back - 22, rng.uniform(0.04, 0.25)),
        block((0, 0, -14), (2 * back + 50, 2 * back + 44, 24), body, "frame"),
        block((0, 0, length + 10), (2 * front + 34, 2 * front + 34, 16), body, "frame"),
        block((0, -back - 10, length / 2), (40, 10, length + 80), brass, "metal"),
        *(block((side * (back + 27), rng.uniform(-40, 40), -14), (6, 14, 14), brass, "metal") for side in (-1, 1)),
    ]
    if rng.random() < 0.2:
        solids.append(block((0, back * 0.9 + 8, length / 2), (12, 4, length), 0.06, "leather"))
    turn, rise = rng.uniform(0.5, 1.4) * rng.choice([-1, 1]), rng.uniform(0.2, 0.7)
    far = length * rng.uniform(1.7, 2.3) + 120
    middle = np.array([0, 0, length / 2])
    place = middle + far * np.array([np.sin(turn) * np.cos(rise), np.sin(rise), np.cos(turn) * np.cos(rise)])
    eye = Eye.looking(place, middle, rng.normal(0, 0.05), 0.95 * size[0], size)
    half = front * 0.45
    opening = np.array([[x * half, y * half, length + 18.5] for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))])
    return solids, bellows, eye, opening


def _inside(rng: np.random.Generator, size: tuple[int, int]) -> tuple[list[Solid], Solid, Eye, np.ndarray]:
    length, back = rng.uniform(220, 380), rng.uniform(62, 82)
    front = back * rng.uniform(0.55, 0.9)
    bellows = tube(rng, int(rng.integers(*RANGES["pleats"])), length, back, front, rng.uniform(8, 15), uniform(rng, "albedo"))
    solids = [
        block((0, 0, length + 8), (2 * front + 10, 2 * front + 10, 14), uniform(rng, "albedo") * 1.5, "frame"),
        block((0, 0, length - 4), (front * 0.9, front * 0.9, 8), rng.uniform(0.2, 0.4), "metal"),
    ]
    eye = Eye.looking(np.array([*rng.normal(0, 10, 2), -60.0]), np.array([*rng.normal(0, 12, 2), length]), rng.normal(0, 0.1), 0.62 * size[0], size)
    half = front * rng.uniform(0.08, 0.2)
    opening = np.array([[x * half, y * half, length - 8.5] for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))])
    return solids, bellows, eye, opening


def _holder(rng: np.random.Generator, size: tuple[int, int]) -> tuple[list[Solid], Solid, Eye, np.ndarray]:
    wide, tall = 120.0, 180.0
    plate = block((0, 0, 0), (wide, tall, 14), uniform(rng, "albedo") * 1.4, "leather")
    slide = block((0, -6, 7.4), (wide - 18, tall - 20, 1.2), uniform(rng, "albedo"), "leather")
    holder = Solid(plate.faces + slide.faces)
    for y in (tall / 2 - 15, tall / 2 - 18, -tall / 2 + 4):
        for x in np.linspace(-wide / 2 + 10, wide / 2 - 26, 5):
            holder.ridges.append(np.array([[x, y, 8], [x + 16, y, 8]]))
    for x in (-wide / 2 + 9, wide / 2 - 9):
        for y in np.linspace(-tall / 2 + 12, tall / 2 - 32, 6):
            holder.ridges.append(np.array([[x, y, 8], [x, y + 20, 8]]))
            holder.knees.append(np.array([x, y, 8.0]))
    solids = [
        table(-60, rng.uniform(0.03, 0.15), upright=True),
        block((0, tall / 2 - 4, 7.5), (wide * 0.5, 5, 2), rng.uniform(0.2, 0.45), "metal"),
    ]
    place = np.array([rng.normal(0, 50), rng.normal(0, 50), rng.uniform(230, 300)])
    eye = Eye.looking(place, np.array([*rng.normal(0, 10, 2), 0]), rng.uniform(0, 2 * np.pi), 0.95 * size[0], size)
    side = rng.choice([-1, 1])
    opening = np.array([[side * (wide / 2 + 1), y, z] for y, z in ((-tall * 0.3, 0), (tall * 0.2, 0), (tall * 0.2, 5), (-tall * 0.3, 5))])
    return solids, holder, eye, opening


def _grain(rng: np.random.Generator, size: tuple[int, int], unit: float) -> np.ndarray:
    """Grain of leather and wood, blotches, pale scratches: factors around 1."""
    shape = size[1], size[0]
    fine = rng.standard_normal(shape, np.float32)
    fine = gaussian_filter(fine, 1.2 * unit) - gaussian_filter(fine, 3.5 * unit)
    coarse = gaussian_filter(rng.standard_normal((shape[0] // 8 + 1, shape[1] // 8 + 1)), 4 * unit)
    blotches = np.asarray(Image.fromarray((coarse / coarse.std()).astype(np.float32)).resize(size, Image.Resampling.BILINEAR))
    factors = 1 + rng.uniform(0.05, 0.22) * fine / fine.std() + rng.uniform(0.05, 0.2) * blotches
    marks = Image.new("F", size, 0)
    pen = ImageDraw.Draw(marks)
    for _ in range(int(rng.integers(0, 26))):
        x, y, turn, far = rng.uniform(0, size[0]), rng.uniform(0, size[1]), rng.uniform(0, np.pi), rng.uniform(6, 70) * unit
        pen.line([(x, y), (x + far * np.cos(turn), y + far * np.sin(turn))], fill=float(rng.uniform(0.2, 1.4)), width=1)
    return np.maximum(factors + gaussian_filter(np.asarray(marks), 0.6), 0.1)


def _worn(rng: np.random.Generator, ridges: np.ndarray, size: tuple[int, int], unit: float) -> np.ndarray:
    """Ridges paler by wear, unevenly along them: factors from 1."""
    paler = Image.new("F", size, 0)
    pen = ImageDraw.Draw(paler)
    wear = uniform(rng, "ridge_wear") - 1
    for start, end in ridges:
        at = np.linspace(0, 1, int(rng.integers(3, 9)) + 1)
        for one, other in pairwise(at):
            points = [tuple(start + (end - start) * share) for share in (one, other)]
            pen.line(points, fill=float(wear * rng.uniform(0.1, 1.0)), width=max(1, round(rng.uniform(1, 4) * unit)))
    return 1 + gaussian_filter(np.asarray(paler), 1.0 * unit)


def _room(rng: np.random.Generator, size: tuple[int, int]) -> np.ndarray:
    """Room light across the picture: a gradient and a fall-off towards the corners."""
    y, x = np.mgrid[-1 : 1 : size[1] * 1j, -1 : 1 : size[0] * 1j].astype(np.float32)
    turn = rng.uniform(0, 2 * np.pi)
    gradient = np.exp(rng.uniform(0, 0.9) * (x * np.cos(turn) + y * np.sin(turn)))
    return gradient * (1 - uniform(rng, "fall_off") * (x * x + y * y) / 2)


def _lamp(rng: np.random.Generator, light: np.ndarray, eye: Eye, opening: np.ndarray, unit: float) -> tuple[np.ndarray, list[float]]:
    """The opening through which the lamp is seen, far beyond white, and its spill on what is around it."""
    size = light.shape[1], light.shape[0]
    points = eye.project(opening)[0]
    shape = Image.new("F", size, 0)
    ImageDraw.Draw(shape).polygon([tuple(point) for point in points.tolist()], fill=1.0)
    glow = np.asarray(shape)
    spill = gaussian_filter(glow[::4, ::4], 40 * unit / 4)
    spill = np.asarray(Image.fromarray(spill).resize(size, Image.Resampling.BILINEAR))
    lit = light * (1 + rng.uniform(1, 12) * spill[..., None]) + rng.uniform(2, 10) * glow[..., None] * np.array([1.0, 0.95, 0.85])
    x, y = points.T
    return lit.astype(np.float32), [float(x.min()), float(y.min()), float(x.max()), float(y.max())]


def _reflections(rng: np.random.Generator, light: np.ndarray, drawn: Drawn, unit: float) -> tuple[np.ndarray, list[list[float]]]:
    """Bluish reflections of the phone's screen, and now and then a small soft highlight, on metal only."""
    rows, columns = np.nonzero(drawn.mask("metal"))
    boxes: list[list[float]] = []
    count = int(rng.integers(RANGES["reflections"][0], RANGES["reflections"][1] + 1)) if len(rows) else 0
    add = np.zeros(light.shape[:2], np.float32)
    for index in range(count):
        at = int(rng.integers(len(rows)))
        wide, tall = (rng.uniform(7, 45) * unit, rng.uniform(10, 70) * unit) if index else (rng.uniform(3, 9) * unit,) * 2
        x0, y0, x1, y1 = columns[at] - wide / 2, rows[at] - tall / 2, columns[at] + wide / 2, rows[at] + tall / 2
        part = slice(max(0, int(y0)), int(y1) + 1), slice(max(0, int(x0)), int(x1) + 1)
        add[part] += np.float32(np.exp(rng.uniform(np.log(0.01), np.log(0.3))))
        boxes.append([float(x0), float(y0), float(x1), float(y1)])
    add = gaussian_filter(add * drawn.mask("metal"), 1.2 * unit)
    return light + add[..., None] * np.array([0.7, 0.85, 1.1], np.float32), boxes


def _is_on(mask: np.ndarray, point: np.ndarray) -> bool:
    x, y = int(point[0]), int(point[1])
    margin = max(4, mask.shape[1] // 100)
    inside = margin <= x < mask.shape[1] - margin and margin <= y < mask.shape[0] - margin
    return bool(inside and mask[y, x])
