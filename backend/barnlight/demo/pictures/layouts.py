"""Several pieces in one picture: what comes with a lens, laid out on a cloth, and a dim blurred listing photo of a monorail kit."""

from __future__ import annotations

import numpy as np
from PIL import Image

from barnlight.demo.pictures import finish
from barnlight.demo.pictures.field_camera import bench, floor, frame, knob, screw
from barnlight.demo.pictures.holders import DAY
from barnlight.demo.pictures.lens_parts import knurled, lens
from barnlight.demo.pictures.lens_pictures import finished
from barnlight.demo.pictures.light import Room, Scene, Window, develop
from barnlight.demo.pictures.mesh import Shape, bellows, box, lathe, placed, turned
from barnlight.demo.pictures.surface import leather, metal, paint
from barnlight.demo.pictures.trace import View

UP = turned(x=-90)


def cap(rng: np.random.Generator, radius: float, height: float, colour: str) -> list[Shape]:
    """A push-on cap lying closed side up, along z."""
    skin = paint(rng, colour, 0.5, 0.3, 0.1)
    return [lathe([(radius, 0), (radius, height - 2), (radius - 2, height)], skin, steps=96),
            lathe([(radius - 2, height), (radius - 6, height), (radius - 6.6, height - 0.6), (0.01, height - 0.6)], skin, steps=96)]


def contents(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """Lens in shutter, retaining ring, lens board, two caps and a cable release laid out on a cloth."""
    solids, glass = lens(rng)
    turn = UP @ turned(z=rng.uniform(-15, 15))
    parts, panes = placed(solids, (-78, 0, 28), turn), placed(glass, (-78, 0, 28), turn)
    black, brass = paint(rng, "131313", 0.42, 0.12), metal(rng, "d8a555", 0.3, 0.25)
    ring = [lathe([(21, 0), (26, 0), (26.6, 0.6), (26.6, 4), (26, 4.6), (21, 4.6), (20.6, 4), (20.6, 0.6), (21, 0)], brass, steps=96),
            knurled(brass, 26.8, 0.8, 3.8, 60)]
    parts += placed(ring, (24, 0, 84), UP)
    board = [box((98, 98, 3.2), black, (0, 0, 1.6), bevel=0.8), lathe([(22, 3.3), (0.01, 3.3)], paint(rng, "6b6558", 0.9, 0.3), steps=96),
             lathe([(24, 3.25), (22, 3.25), (21.6, 1)], metal(rng, "8d8d8a", 0.4, 0.3), steps=96)]
    parts += placed(board, (92, 0, -10), UP @ turned(z=rng.uniform(-8, 8)))
    parts += placed(cap(rng, 37, 11, "1d1b1a"), (-66, 0, 122), UP @ turned(z=20)) + placed(cap(rng, 29, 10, "33201a"), (98, 0, 106), UP)
    parts += _cable(rng)
    cloth = [floor(2200, paint(rng, "6f7469", 0.95, 0.2, 0.12), -0.05)]
    view = View((10, 330, 290), (6, 0, 42), 45, rng.uniform(-1.5, 1.5))
    return finished(Scene(parts, cloth, view, DAY, panes), rng, size, 430, 1.35, 6)


def _cable(rng: np.random.Generator) -> list[Shape]:
    """A cable release: a cloth-covered cord in a loop, metal tips."""
    cord, steel = paint(rng, "2a2624", 0.7, 0.2, 0.2), metal(rng, "c4c4c0", 0.3, 0.3)
    turn = np.linspace(0.2, 1.9 * np.pi, 46)
    path = np.stack([12 + 62 * np.cos(turn) * (1 - 0.06 * turn), 2.4 + 0 * turn, -104 + 26 * np.sin(turn)], axis=-1)
    parts = []
    for a, b in zip(path[:-1], path[1:], strict=True):
        heading = float(np.degrees(np.arctan2(b[0] - a[0], b[2] - a[2])))
        length = float(np.linalg.norm(b - a))
        parts.append(lathe([(2.1, -0.3), (2.1, length + 0.3)], cord, steps=10).moved(a, turned(y=heading)))
    for end, other in ((path[0], path[1]), (path[-1], path[-2])):
        heading = float(np.degrees(np.arctan2(end[0] - other[0], end[2] - other[2])))
        parts.append(lathe([(2.8, -2), (2.8, 9), (1.6, 11), (0.9, 18), (0.01, 18)], steel, steps=20).moved(end, turned(y=heading)))
    return parts


def monorail(rng: np.random.Generator) -> tuple[list[Shape], list[Shape]]:
    """A monorail camera on its clamp: tube, two standards, square bellows, lens; rail along z."""
    grey, black = paint(rng, "6e7072", 0.45, 0.35, 0.03), paint(rng, "161617", 0.45, 0.25)
    steel, skin = metal(rng, "bcbcb8", 0.28, 0.3), leather(rng, "18181a", 0.25, 9)
    parts = [lathe([(0.01, -200), (13, -200), (13, 210), (0.01, 210)], steel, steps=48).moved((0, 40, 0)),
             box((46, 30, 60), grey, (0, 30, -10), bevel=4), box((70, 16, 70), black, (0, 8, -10), bevel=3)]
    middle = 168
    for z in (-110, 90):
        parts += [box((44, 40, 46), grey, (0, 44, z), bevel=4), box((180, 14, 26), grey, (0, 70, z), bevel=3)]
        parts += [box((12, 150, 16), grey, (s * 88, 138, z), bevel=2.5) for s in (-1, 1)]
        parts += [knob(black, 12, 14).moved((s * 96, 150, z), turned(y=90 * s)) for s in (-1, 1)]
        parts.append(knob(black, 10, 16).moved((24, 44, z), turned(y=90)))
        parts += placed(frame((158, 158), 14, 16, black, 0), (0, middle, z))
    parts.append(bellows((120, 120), (120, 120), 182, skin, pleats=13, depth=10, sag=10).moved((0, middle, -101)))
    parts += [box((132, 132, 5), black, (0, middle, 96), bevel=1), *(screw(steel).moved((sx * 58, middle + sy * 58, 99)) for sx in (-1, 1) for sy in (-1, 1))]
    solids, glass = lens(rng, scale=0.75)
    return parts + placed(solids, (0, middle, 99)), placed(glass, (0, middle, 99))


def listing(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """A seller's photo: monorail kit under one yellow lamp, hand-shaken, too dark, a board and box half out of the picture."""
    parts, glass = monorail(rng)
    turn = turned(y=16)
    parts, glass = placed(parts, turn=turn), placed(glass, turn=turn)
    carton, black = paint(rng, "8a6a45", 0.85, 0.3, 0.04), paint(rng, "141414", 0.5, 0.2)
    parts += [box((220, 120, 150), carton, (250, 60, -190), bevel=2, turn=turned(y=18)), box((120, 4, 120), black, (205, 2, 60), turn=turned(y=24)),
              box((120, 4, 120), black, (222, 6.5, 76), turn=turned(y=-9))]
    room = Room((Window((0.35, 1.0, 0.15), (0.13, 0.13), (46, 33, 17), 6), Window((-1, 0.3, 0.4), (0.3, 0.5), (0.9, 1.1, 1.6), 3)),
                above=(0.10, 0.084, 0.06), below=(0.045, 0.032, 0.02))
    view = View((-330, 330, 690), (40, 110, -10), 42, -5 + rng.uniform(-2, 2))
    large = (round(size[0] * 1.5), round(size[1] * 1.5))
    scene = Scene(parts, bench(rng, "7d5a3a", "432c1a", wall="6b5a44", reach=1000), view, room, glass)
    picture, distance = develop(scene, large, rng)
    picture = finish.half_size(finish.out_of_focus(picture, distance, 420, 14 * large[0] / 2400), size)
    shaken = sum(np.roll(picture, (round(a * size[0] / 1600), round(b * size[0] / 1600)), (0, 1)) for a, b in ((0, 0), (1, 3), (2, 6), (2, 9), (4, 12)))
    return finish.photograph(shaken / 5, rng, exposure=1.15, cast=(1.12, 1, 0.78), vignette=0.6, glare=0.09, blur_px=1.6, grain=0.022, read_noise=0.006)


