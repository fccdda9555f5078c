"""A folding field camera in wood and brass on a bench: from the front, and from the back with one spring of the glass missing."""

from __future__ import annotations

import numpy as np
from PIL import Image

from barnlight.demo.pictures import finish, lens_parts
from barnlight.demo.pictures.light import Room, Scene, Window, develop
from barnlight.demo.pictures.mesh import Shape, bellows, box, card, lathe, placed, sheet, turned
from barnlight.demo.pictures.surface import Look, leather, metal, paint, wood
from barnlight.demo.pictures.trace import View


def knob(material, radius: float = 11, length: float = 14) -> Shape:
    """A knurled focusing knob, its axis along z."""
    return lathe([(0.01, length), (radius * 0.8, length), (radius, length - 1.5), (radius, 3), (radius * 0.8, 1), (3, 0.5), (3, -4)], material, steps=40)


def screw(material, radius: float = 2.6) -> Shape:
    """A domed screw head facing +z."""
    return lathe([(0.01, 1.2), (radius * 0.6, 1.0), (radius, 0.2), (radius, -0.5)], material, steps=18)


def frame(outer: tuple[float, float], bar: float, thick: float, material, z: float) -> list[Shape]:
    """Four wooden bars around an opening, facing +z."""
    width, height = outer
    return [box((width, bar, thick), material, (0, s * (height - bar) / 2, z), bevel=1.6) for s in (-1, 1)] + [
        box((bar, height - 2 * bar, thick), material, (s * (width - bar) / 2, 0, z), bevel=1.2) for s in (-1, 1)]


def camera(rng: np.random.Generator, *, extension: float = 175, springs: int = 2) -> tuple[list[Shape], list[Shape]]:
    """Solids and glass of the camera, standing on y=0, lens toward +z, back at z=0 (mm)."""
    body, brass, steel = wood(rng, "7e4626", "371a0c"), metal(rng, "e6b05c", 0.3, 0.2), metal(rng, "b9b9b6", 0.3, 0.3)
    black, skin = paint(rng, "121212", 0.4), leather(rng, "241512", 0.55, 9)
    middle = 118
    solids = [box((200, 20, 300), body, (0, 12, 100), bevel=3), box((150, 9, 250), body, (0, 27, 160), bevel=1.5)]
    for s in (-1, 1):
        solids += [box((6, 4, 246), brass, (s * 58, 33, 160), bevel=0.8), box((4, 18, 60), brass, (s * 102, 12, 60), bevel=1)]
        solids.append(knob(brass).moved((s * 100, 18, 205), turned(y=90 * s)))
        solids.append(knob(brass, 8, 10).moved((s * 84, 60, extension), turned(y=90 * s)))
        solids += [box((5, 150, 12), brass, (s * 76, 100, extension - 2), bevel=1.2), box((6, 170, 10), brass, (s * 104, 100, 24), bevel=1.2, turn=turned(x=0))]
        solids.append(box((5, 120, 8), brass, (s * 106, 75, 66), bevel=1, turn=turned(x=40)))
        solids += [screw(brass).moved((s * 60, y, extension + 8.6)) for y in (60, 172)]
    solids += placed(frame((140, 140), 16, 15, body, 0), (0, middle, extension))
    solids.append(box((110, 110, 5), black, (0, middle, extension + 3), bevel=1))
    solids += [screw(brass, 2.2).moved((sx * 49, middle + sy * 49, extension + 5.6)) for sx in (-1, 1) for sy in (-1, 1)]
    solids.append(bellows((104, 104), (148, 148), extension - 32, skin, pleats=15, depth=9, sag=3).moved((0, middle, 25)))
    solids += placed(frame((196, 190), 21, 42, body, 0), (0, middle, 2))
    solids += [box((70, 9, 16), leather(rng, "2b1a10", 0, 9), (0, middle + 104, 2), bevel=4), *(
        box((14, 12, 18), brass, (s * 42, middle + 99, 2), bevel=2) for s in (-1, 1))]
    solids += placed(back(rng, body, steel, springs), (0, middle, -19))
    lens, glass = lens_parts.lens(rng, scale=0.62)
    place = (0, middle, extension + 6)
    return solids + placed(lens, place), placed(glass, place)


def screen_picture(rng: np.random.Generator, *, lit: bool = True):
    """A ground glass with its grid: `lit` shows a tall window upside down, brightest in the middle; else only the grain."""
    grain = rng.standard_normal((256, 256)).astype(np.float32)

    def step(distance: np.ndarray) -> np.ndarray:
        return 0.5 + 0.5 * np.tanh(distance / 0.006)

    def look(uv: np.ndarray, place: np.ndarray) -> Look:
        u, v = uv[:, 0] - 0.47, uv[:, 1] - 0.52
        soft = np.exp(-(u**2 + v**2) * 5)
        speck = grain[(uv[:, 1] * 900).astype(int) % 256, (uv[:, 0] * 900).astype(int) % 256]
        arch = np.where(v > 0.16, 0.135 - np.hypot(u, v - 0.16), np.minimum(0.135 - np.abs(u), v + 0.30))
        bars = step(np.abs(u) - 0.008) * step(np.abs(((v + 0.30) / 0.155 + 0.5) % 1 - 0.5) * 0.155 - 0.007)
        outside = 0.65 + 0.35 * step(v - 0.05 + 0.03 * np.sin(u * 40))
        line = (np.abs((uv * 10) % 1 - 0.5) > 0.487).any(axis=-1) * 0.35
        glow = lit * (0.05 * soft + 0.42 * step(arch) * bars * soft * outside)[:, None] * np.array([0.9, 1, 1.06]) * (1 + 0.12 * speck[:, None])
        colour = np.array([0.28, 0.31, 0.30]) * (1 + 0.05 * speck[:, None]) * (1 - line[:, None])
        return Look(colour.astype(np.float32), 0.22, 0.0, glow * (1 - line[:, None]))
    return look


def back(rng: np.random.Generator, body, steel, springs: int) -> list[Shape]:
    """Ground-glass back facing -z: wooden frame, the glass, and `springs` of its two springs with their screws."""
    parts = placed(frame((172, 160), 22, 14, body, 0), (0, 0, -7))
    parts.append(card(132, 120, screen_picture(rng), (0, 0, -10), turned(y=180)))
    for s, number in ((1, 0), (-1, 1)):
        y = s * 69
        if number < springs:
            bow = np.linspace(-1, 1, 24)
            x, z = 74 * bow, -15.5 - 7 * (1 - bow**2)
            strip = np.stack([np.stack([x, y + w + 0 * x, z], axis=-1) for w in (-4.5, 4.5)])
            uv = np.stack([np.stack([x, 9 * k + 0 * x], axis=-1) for k in (0, 1)])
            parts.append(sheet(strip, uv, steel))
            parts += [screw(steel, 3.2).moved((74 * e, y, -16), turned(y=180)) for e in (-0.93, 0.93)]
        else:
            hole = paint(rng, "050505", 0.8)
            parts += [lathe([(2.4, -0.1), (0.01, 0.0)], hole, steps=20).moved((74 * e, y, -14.3), turned(y=180)) for e in (-0.93, 0.93)]
    return parts


def bench(rng: np.random.Generator, light: str = "8a6d50", dark: str = "4a3626", *, wall: str = "6d675c", reach: float = 900,
          plank: float = 140) -> list[Shape]:
    """A worn table top at y=0 and dim walls around (mm)."""
    top, plain = wood(rng, light, dark, 0.55, 0.22 * 140 / plank), paint(rng, wall, 0.8, 0.1)
    shapes = [floor(6 * reach, paint(rng, "120c08", 0.9), -0.02 * plank)]
    along = np.linspace(-1.5 * reach, 1.5 * reach, 40)
    for k, x in enumerate(np.arange(-1.5 * reach, 1.5 * reach, plank)):
        flat = np.stack([np.stack([0 * along + x + side, 0 * along, along], axis=-1) for side in (0.0, 0.993 * plank)])
        uv = np.stack([np.stack([along + 811 * k, 0 * along + 377 * k + side], axis=-1) for side in (0.0, plank)])
        shapes.append(sheet(flat, uv, top, np.broadcast_to(np.array([0.0, 1, 0]), flat.shape)))
    for turn in (0, 90, 180, 270):
        shapes.append(card(8 * reach, 5 * reach, plain, turned(y=turn) @ np.array([0, 0, -2.2 * reach]), turned(y=turn)))
    return shapes


def floor(width: float, material, y: float = 0) -> Shape:
    """A flat ground at height y, in pieces small enough to be drawn partly behind the camera."""
    x, z = np.meshgrid(np.linspace(-width / 2, width / 2, 40), np.linspace(-width / 2, width / 2, 40), indexing="ij")
    at = np.stack([x, 0 * x + y, z], axis=-1)
    return sheet(at, at[..., [0, 2]], material, np.broadcast_to(np.array([0.0, 1, 0]), at.shape))


ROOM = Room((Window((-0.9, 0.75, 0.75), (0.34, 0.5), (9.5, 9.9, 10.6), bars=True), Window((1, 0.6, 0.35), (0.3, 0.3), (1.6, 1.35, 1.0), 4)),
            above=(0.34, 0.33, 0.32), below=(0.12, 0.09, 0.07))


def _taken(scene: Scene, rng: np.random.Generator, size: tuple[int, int], focus_mm: float, **tone) -> Image.Image:
    large = (round(size[0] * 1.5), round(size[1] * 1.5))
    picture, distance = develop(scene, large, rng)
    picture = finish.out_of_focus(picture, distance, focus_mm, 7 * large[0] / 2400)
    return finish.photograph(finish.half_size(picture, size), rng, **tone)


def front(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """Three-quarter view from the front."""
    solids, glass = camera(rng)
    view = View((-395, 290, 660), (14, 98, 82), 34 + rng.uniform(-1, 1), rng.uniform(-1, 1))
    return _taken(Scene(solids, bench(rng), view, ROOM, glass), rng, size, 700, exposure=1.3)


def rear(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """The back: ground glass with one of its two springs missing, two empty screw holes."""
    solids, glass = camera(rng, springs=1)
    room = Room((Window((0.9, 0.8, -0.8), (0.4, 0.5), (8, 8.4, 9), bars=True), Window((-1, 0.5, -0.3), (0.3, 0.3), (1.5, 1.3, 1.0), 4)),
                above=(0.34, 0.33, 0.32), below=(0.12, 0.09, 0.07))
    view = View((150, 225, -600), (0, 104, 0), 34, rng.uniform(-1.5, 1.5))
    return _taken(Scene(solids, bench(rng), view, room, glass), rng, size, 560, exposure=1.25)
