"""A lens in a leaf shutter: from the front, with parted cement, with haze and threads under a lamp, and its rims close up."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PIL import Image
from scipy.ndimage import gaussian_filter

from barnlight.demo.pictures import finish
from barnlight.demo.pictures.field_camera import floor
from barnlight.demo.pictures.lens_parts import around, clear, dome, knurled, lens
from barnlight.demo.pictures.light import Room, Scene, Window, develop
from barnlight.demo.pictures.mesh import lathe, placed, turned
from barnlight.demo.pictures.surface import Look, cloud, metal, paint, read
from barnlight.demo.pictures.trace import View

DAY = Room((Window((-0.7, 0.9, 1.0), (0.3, 0.42), (9, 9.4, 10), bars=True), Window((1.0, 0.35, 0.7), (0.25, 0.4), (1.8, 1.5, 1.1), 4)),
           above=(0.2, 0.2, 0.2), below=(0.10, 0.085, 0.07))
LAMP = Room((Window((0.75, 0.8, 0.5), (0.07, 0.07), (95, 90, 78), 4), Window((-1.0, 0.4, 0.6), (0.3, 0.3), (0.35, 0.4, 0.5), 3)),
            above=(0.035, 0.035, 0.04), below=(0.02, 0.017, 0.015))
REAR = "TESTANOR 210            REAR CELL  Nr {} "
FRONT_RADIUS = 26.9   # length along the front glass from rim to middle, mm


def parted(rng: np.random.Generator) -> Callable:
    """Cement parted at the edge: a milky crescent with rainbow rings, deepest at one side."""
    rough = cloud(rng, 1.5)
    side, reach = rng.uniform(0.05, 0.2), rng.uniform(6.5, 8.5)

    def film(uv: np.ndarray, place: np.ndarray) -> Look:
        look = clear(uv, place)
        turn = ((uv[:, 0] - side + 0.5) % 1) - 0.5
        depth = reach * np.exp(-(turn / 0.16)**2) + 0.5 * read(rough, uv[:, 0] * 512, uv[:, 1] * 2) * np.exp(-(turn / 0.2)**2)
        inward = uv[:, 1] - 1.2
        inside = np.clip((depth - inward) * 2.2, 0, 1) * np.clip(inward * 2 + 1.5, 0, 1)
        path = 4.6 * np.sqrt(np.clip(1 - inward / np.maximum(depth, 0.05), 0, 1)) * depth / reach
        hue = np.stack([np.cos(2 * np.pi * path * 1.00), np.cos(2 * np.pi * path * 1.2), np.cos(2 * np.pi * path * 1.45)], axis=-1)
        rim = np.exp(-((inward - depth) / 0.35)**2) * (depth > 0.8)
        milk = 0.10 + 0.05 * read(rough, uv[:, 0] * 900, uv[:, 1] * 9)
        look.glow = (inside * milk)[:, None] * (1 + 0.75 * hue) + 0.10 * rim[:, None]
        return look
    return film


def fogged(rng: np.random.Generator) -> Callable:
    """Haze and fungus lit from the side: a soft veil, threads branching from the rim, a few spots and dust."""
    veil, dust = cloud(rng, 1.4), cloud(rng, 0.1)
    cells = 900
    web = np.zeros((cells, cells), np.float32)
    middle, limit = cells / 2, cells / 2 - 8
    for _ in range(5):
        start = rng.uniform(0, 2 * np.pi)
        seat = middle + limit * rng.uniform(0.45, 0.93) * np.array([np.cos(start), np.sin(start)])
        tips = [(seat.copy(), rng.uniform(0, 2 * np.pi), rng.uniform(0.6, 1.0)) for _ in range(14)]
        while tips:
            at, heading, strength = tips.pop()
            for _ in range(int(rng.uniform(25, 80))):
                heading += rng.normal(0, 0.16)
                at = at + 1.3 * np.array([np.cos(heading), np.sin(heading)])
                if np.hypot(*(at - middle)) > limit:
                    break
                strength *= 0.985
                x, y = int(at[0]), int(at[1])
                web[y:y + 2, x:x + 2] = np.maximum(web[y:y + 2, x:x + 2], strength)
                if rng.random() < 0.035 and strength > 0.25 and len(tips) < 60:
                    tips.append((at.copy(), heading + rng.choice([-0.7, 0.7]), strength * 0.8))
    web = gaussian_filter(web, 0.9)

    def film(uv: np.ndarray, place: np.ndarray) -> Look:
        look = clear(uv, place)
        radius, angle = (FRONT_RADIUS - uv[:, 1]) / FRONT_RADIUS, 2 * np.pi * uv[:, 0]
        x, y = radius * np.cos(angle), radius * np.sin(angle)
        ix = ((x * 0.5 + 0.5) * (cells - 1)).astype(int).clip(0, cells - 1)
        iy = ((y * 0.5 + 0.5) * (cells - 1)).astype(int).clip(0, cells - 1)
        haze = np.clip(0.05 + 0.022 * read(veil, x * 90 + 100, y * 90 + 100) + 0.03 * x + 0.03 * y, 0.005, 1)
        speck = np.clip(read(dust, x * 260, y * 260) - 2.9, 0, 1) * 0.6
        look.glow = (haze + 0.34 * web[iy, ix] + speck)[:, None] * np.array([0.95, 1.0, 1.04], np.float32)
        return look
    return film


def _photo(rng, size, film, room: Room, *, eye=(34, 40, 300), target=(-2, -3, 20), angle=29.0, exposure=1.5, opening=9.0, focus=None,
           **tone) -> Image.Image:
    solids, glass = lens(rng, film=film, opening=opening)
    tilt = turned(x=rng.uniform(-3, 3), z=rng.uniform(-8, 8))
    wall = paint(rng, "4c4a46", 0.85, 0.15, 0.05)
    cloth = floor(1800, wall).moved((0, 0, -3), turned(x=90))
    scene = Scene(placed(solids, turn=tilt), [cloth], View(eye, target, angle, rng.uniform(-2, 2)), room, placed(glass, turn=tilt))
    return finished(scene, rng, size, focus or float(np.linalg.norm(np.subtract(eye, (0, 0, 44)))), exposure, **tone)


def finished(scene: Scene, rng, size, focus_mm: float, exposure: float, strength: float = 26, **tone) -> Image.Image:
    large = (round(size[0] * 1.5), round(size[1] * 1.5))
    picture, distance = develop(scene, large, rng)
    picture = finish.out_of_focus(picture, distance, focus_mm, strength * large[0] / 2400)
    return finish.photograph(finish.half_size(picture, size), rng, exposure=exposure, **tone)


def clean_front(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """The lens from the front in window light, glass clean."""
    return _photo(rng, size, clear, DAY)


def separation(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """Close to the front glass: cement parted at the edge."""
    return _photo(rng, size, parted(rng), DAY, eye=(20, 26, 235), target=(3, 3, 40), angle=19, opening=15)


def haze(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """The front glass with a small lamp from the side: veil and threads of fungus."""
    return _photo(rng, size, fogged(rng), LAMP, eye=(-14, 10, 235), target=(0, 0, 40), angle=18, exposure=1.6, opening=17, grain=0.016)


def rim_front(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """The engraved front ring, near: name, size and number."""
    words = "QUELLBRANDT-ORVIK · TESTANOR 1:5.6/210 · Nr 0048213 ·     "
    return _rim(rng, size, words, "101011")


def rim_rear(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """The rear cell's ring, near: the same number as in front."""
    return _rim(rng, size, REAR.format("0048213"), "17150f", rear=True)


def rim_rear_other(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """The rear cell's ring, near, with another number than in front."""
    return _rim(rng, size, REAR.format("0051790"), "17150f", rear=True)


def _rim(rng, size, words: str, colour: str, rear: bool = False) -> Image.Image:
    black, satin = paint(rng, colour, 0.34, 0.2), paint(rng, colour, 0.45, 0.15, 0.05)
    brass = metal(rng, "b98f4a", 0.35, 0.4)
    worn = brass if rear else black
    solids = [
        lathe([(36, 0), (36, 12), (35.2, 13)], worn, steps=160), knurled(satin, 36.2, 2, 10, 120),
        lathe([(35.2, 13), (34.6, 13.2), (34.2, 12.6)], worn, steps=160),
        around(words, (34.2, 26.6), satin, size=(6144, 256), height=0.44 if not rear else 0.4, ink="#ded8c6").moved((0, 0, 12.6)),
        lathe([(26.6, 12.6), (26.0, 11.6), (25.4, 11.0), (24, 4), (18, -6), (0.01, -8)], black, steps=128)]
    glass = [dome(25.8, 5.0 if not rear else 3.0, clear, 10.4)]
    turn = turned(z=rng.uniform(-10, 2) + (48 if rear else 75))
    eye = (6, -58, 92)
    scene = Scene(placed(solids, turn=turn), [floor(700, paint(rng, "544a3e", 0.8)).moved((0, 0, -12), turned(x=90))],
                  View(eye, (0, 16, 12), 30, rng.uniform(-2, 2)), DAY, placed(glass, turn=turn))
    return finished(scene, rng, size, float(np.linalg.norm(np.subtract(eye, (0, 31, 12)))), 1.45, 34)


