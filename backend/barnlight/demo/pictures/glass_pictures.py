"""A cracked ground glass in its frame, and the face of a dial shutter read straight on."""

from __future__ import annotations

import numpy as np
from PIL import Image, ImageDraw
from scipy.ndimage import gaussian_filter

from barnlight.demo.pictures.field_camera import ROOM, bench, frame, screen_picture, screw
from barnlight.demo.pictures.lens_parts import iris, shutter_body
from barnlight.demo.pictures.lens_pictures import DAY, finished
from barnlight.demo.pictures.light import Scene
from barnlight.demo.pictures.mesh import card, lathe, placed, turned
from barnlight.demo.pictures.surface import Look, metal, paint, wood
from barnlight.demo.pictures.trace import View

CELLS = 1000


def crack_map(rng: np.random.Generator) -> np.ndarray:
    """Cracks running from a knock at a corner, 0 to 1, over a square of the glass."""
    image = Image.new("L", (CELLS, CELLS), 0)
    draw = ImageDraw.Draw(image)
    knock = np.array([CELLS * 0.93, CELLS * 0.9])
    for heading, length in ((3.55, 1250), (4.1, 700), (4.6, 420), (3.1, 330)):
        at, turn = knock.copy(), heading + rng.normal(0, 0.06)
        for step in range(int(length / 12)):
            turn += rng.normal(0, 0.035)
            new = at + 12 * np.array([np.cos(turn), np.sin(turn)])
            draw.line([*at, *new], fill=235 if step < 30 else 190, width=4 if step < 12 else 3)
            at = new
    for _ in range(16):
        angle, far = rng.uniform(2.9, 4.8), rng.uniform(5, 40)
        spot = knock + far * np.array([np.cos(angle), np.sin(angle)])
        draw.polygon([tuple(spot + rng.normal(0, 9, 2)) for _ in range(3)], fill=int(rng.uniform(90, 230)))
    return np.asarray(image, np.float32) / 255


def cracked_glass(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """Ground glass in its frame, cracked from the lower corner across the picture."""
    lines = crack_map(rng)
    slope = np.stack(np.gradient(gaussian_filter(lines, 2.0)), axis=-1) * 9
    base = screen_picture(rng, lit=False)

    def look(uv: np.ndarray, place: np.ndarray) -> Look:
        found = base(uv, place)
        x, y = ((uv * (CELLS - 1)).astype(int).clip(0, CELLS - 1)).T
        crack, tilt = lines[y, x], slope[y, x]
        found.colour = found.colour * (1 - 0.75 * crack[:, None])
        found.glow = found.glow * (1 - 0.8 * crack[:, None]) + np.clip(tilt[:, :1] - tilt[:, 1:], 0, 1) * 0.35
        found.bump = np.stack([tilt[:, 1], -tilt[:, 0], 0 * crack], axis=-1)
        return found

    body, steel = wood(rng, "7e4626", "371a0c"), metal(rng, "b9b9b6", 0.3, 0.3)
    parts = frame((172, 160), 22, 14, body, -7) + [card(130, 118, look, (0, 0, -4))]
    parts += [screw(steel, 3).moved((sx * 75, sy * 69, 0.4)) for sx in (-1, 1) for sy in (-1, 1)]
    lying = placed(parts, (0, 14, 0), turned(x=-90, z=rng.uniform(-1, 1)) @ turned(z=rng.uniform(-8, -3)))
    view = View((20, 250, 150), (2, 8, 4), 40, rng.uniform(-2, 2))
    return finished(Scene(lying, bench(rng), view, ROOM), rng, size, 285, 1.2, 8)


def dial(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """The shutter's face without its front cell: speeds on the ring, stops under the pointer, blades within."""
    black, satin = paint(rng, "101011", 0.38, 0.3), paint(rng, "1a1a1b", 0.5, 0.2, 0.05)
    chrome = metal(rng, "c8c8c4", 0.22, 0.22)
    parts = shutter_body(rng, black, chrome, satin)
    parts += [lathe([(31, 20.4), (30, 19.8), (29.4, 12), (26, 11)], satin, steps=128), lathe([(26, 11), (0.01, 11)], iris(rng, 26, 6, 5), steps=128)]
    turn = turned(z=rng.uniform(-6, 6))
    view = View((8, -14, 330), (-3, 2, 12), 25, rng.uniform(-2, 2))
    mat = bench(rng, "5d6a5c", "46524a")
    return finished(Scene(placed(parts, turn=turn), placed(mat, (0, 0, -1), turned(x=90)), view, DAY), rng, size, 318, 1.25, 14)


