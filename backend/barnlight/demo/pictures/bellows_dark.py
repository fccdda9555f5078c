"""Bellows in a dark room with a lamp inside: faint folds, bright pinholes and corner stars, and where they truly are."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PIL import Image

from barnlight.demo.pictures import finish
from barnlight.demo.pictures.field_camera import floor, frame
from barnlight.demo.pictures.light import Room, Scene, Window, develop
from barnlight.demo.pictures.mesh import Shape, bellows, box
from barnlight.demo.pictures.surface import leather, metal, paint, wood
from barnlight.demo.pictures.trace import View

PLEATS = 14
DEPTH_MM = 10
FRONT, BACK = (96.0, 96.0), (150.0, 150.0)

# Where the holes are in this bellows: ring (folds from the back), corner or place along the side, and a strength. A hole
# lies in a fold, so the first two open only when that fold is drawn out.
HOLES = (("corner", 7, 0.0, 1.0, True), ("side", 15, 0.37, 0.5, True), ("corner", 19, 0.0, 1.6, False), ("top", 10, 0.55, 0.28, False))


@dataclass(frozen=True)
class Leak:
    """One true leak: its place as shares of width and height, and its relative strength."""

    x: float
    y: float
    strength: float
    kind: str


@dataclass(frozen=True)
class _Setting:
    length: float
    view: View
    holes: tuple


def _setting(rng: np.random.Generator, full: bool) -> _Setting:
    length = 330.0 if full else 190.0
    target = (0, 0, length * 0.5)
    eye = (-430 - rng.uniform(0, 20), 240 + rng.uniform(-10, 10), length * 0.5 + 330)
    holes = tuple(h for h in HOLES if full or not h[4])
    return _Setting(length, View(eye, target, 37, rng.uniform(-2, 2)), holes)


def _place(hole: tuple, length: float) -> np.ndarray:
    """Where a hole lies on the bellows (mm), from the same measures as the bellows itself."""
    kind, ring, along, _, _ = hole
    share = ring / (2 * PLEATS)
    out = DEPTH_MM / 2 if ring % 2 else -DEPTH_MM / 2
    half = (BACK[0] * (1 - share) + FRONT[0] * share) / 2 + out
    z = length * share
    if kind == "corner":
        return np.array([-half + 2.5, half - 2.5, z])
    if kind == "side":
        return np.array([-half, half * (1 - 2 * along), z])
    return np.array([-half * (1 - 2 * along), half, z])


def truth(seed: int, full: bool) -> list[Leak]:
    """The leaks that `picture` shows for the same seed and extension."""
    setting = _setting(np.random.default_rng(seed), full)
    spots = setting.view.project(np.array([_place(h, setting.length) for h in setting.holes]), (1600, 1200))
    return [Leak(x / 1600, y / 1200, h[3], h[0]) for (x, y, _), h in zip(spots.tolist(), setting.holes, strict=True)]


def _scene(rng: np.random.Generator, setting: _Setting) -> Scene:
    skin = leather(rng, "1a1412", 0.35, DEPTH_MM)
    body, brass = wood(rng, "6b3d20", "301a0c"), metal(rng, "a88a50", 0.35, 0.5)
    solids: list[Shape] = [bellows(FRONT, BACK, setting.length, skin, pleats=PLEATS, depth=DEPTH_MM)]
    solids += frame((190, 190), 24, 26, body, -12) + frame((132, 132), 20, 14, body, setting.length + 8)
    solids.append(box((96, 96, 5), paint(rng, "0c0c0c", 0.5), (0, 0, setting.length + 8)))
    solids += [box((8, 5, setting.length + 90), brass, (s * 60, -104, setting.length / 2)) for s in (-1, 1)]
    ground = [floor(3000, wood(rng, "5a4632", "2e2218", 0.6, 0.25), -107)]
    room = Room((Window((-0.4, 0.5, 0.9), (0.5, 0.35), (1.1, 1.2, 1.5)),), above=(0.04, 0.044, 0.058), below=(0.012, 0.012, 0.012))
    lights = []
    for hole in setting.holes:
        place = _place(hole, setting.length)
        outward = np.array([-1, 1, 0]) if hole[0] == "corner" else np.array([-1, 0, 0]) if hole[0] == "side" else np.array([0, 1, 0])
        lights.append((place + outward * 7, np.array([1.0, 0.93, 0.8]) * 2.2 * hole[3], 1.0))
    return Scene(solids, ground, setting.view, room, background=(0.0008, 0.0008, 0.001), small_lights=lights)


def _sparks(light: np.ndarray, leaks: list[Leak], rng: np.random.Generator) -> np.ndarray:
    """Light through the holes as the lens draws it: a hot core, a corner as a small star, a halo."""
    height, width = light.shape[:2]
    unit = width / 1600
    for leak in leaks:
        reach = int(70 * unit)
        cx, cy = leak.x * width - 0.5, leak.y * height - 0.5
        y0, x0 = max(int(cy) - reach, 0), max(int(cx) - reach, 0)
        block = light[y0:y0 + 2 * reach, x0:x0 + 2 * reach]
        y, x = np.mgrid[y0:y0 + block.shape[0], x0:x0 + block.shape[1]]
        dx, dy = (x - cx) / unit, (y - cy) / unit
        far = np.hypot(dx, dy)
        spot = 26 * np.exp(-(far / 2.6)**2) + 0.5 * np.exp(-far / 4) + 0.03 * np.exp(-far / 18)
        if leak.kind == "corner":
            for turn in rng.uniform(0, 0.4) + np.array([0.3, 1.5, 2.5]):
                along, across = dx * np.cos(turn) + dy * np.sin(turn), -dx * np.sin(turn) + dy * np.cos(turn)
                spot += 1.3 * np.exp(-(across / 1.3)**2 - np.abs(along) / 4)
        block += (leak.strength * spot)[..., None] * np.array([1.0, 0.95, 0.84], np.float32)
    return light


def picture(rng_seed: int, size: tuple[int, int], full: bool) -> Image.Image:
    """The bellows in the dark at full or at middle extension."""
    setting = _setting(np.random.default_rng(rng_seed), full)
    rng = np.random.default_rng(rng_seed + 1)
    large = (round(size[0] * 1.5), round(size[1] * 1.5))
    light, distance = develop(_scene(rng, setting), large, rng)
    light = finish.half_size(finish.out_of_focus(light, distance, 560, 3 * large[0] / 2400), size)
    light = _sparks(light, truth(rng_seed, full), rng)
    return finish.photograph(light, rng, exposure=1.0, vignette=0.3, glare=0.025, blur_px=0.8, grain=0.016, read_noise=0.0022)
