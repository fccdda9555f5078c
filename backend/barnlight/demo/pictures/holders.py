"""Sheet-film holders: one with its slides, a numbered stack of ten, a cracked corner, and a slot that lets light through."""

from __future__ import annotations

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from barnlight.demo.pictures.field_camera import bench
from barnlight.demo.pictures.lens_pictures import finished
from barnlight.demo.pictures.light import Room, Scene, Window
from barnlight.demo.pictures.mesh import Shape, box, card, placed, turned
from barnlight.demo.pictures.surface import Look, metal, paint, printed
from barnlight.demo.pictures.trace import View

WIDTH, LENGTH, THICK = 121.0, 168.0, 12.5

DAY = Room((Window((-0.9, 0.8, -0.5), (0.35, 0.5), (9.5, 9.9, 10.6), bars=True), Window((1, 0.7, 0.6), (0.3, 0.3), (1.6, 1.35, 1.0), 4)),
           above=(0.24, 0.235, 0.23), below=(0.10, 0.08, 0.06))


def label(text: str, size: tuple[int, int] = (240, 120), *, paper: str = "#e6dcc2", ink: str = "#25201a", cover: int = 255) -> Image.Image:
    """Hand-lettered paper or tape."""
    image = Image.new("RGBA", size, paper)
    image.putalpha(cover)
    ImageDraw.Draw(image).text((size[0] / 2, size[1] / 2), text, font=ImageFont.load_default(int(size[1] * 0.7)), fill=ink, anchor="mm")
    return image


def holder(rng: np.random.Generator, number: str, *, drawn: float = 0, bright: bool = True, cracked: bool = False,
           flap_deg: float = 0) -> list[Shape]:
    """A holder lying flat, its side up at y=THICK, loading flap toward +z, slide pulled out `drawn` mm toward -z."""
    black, edge = paint(rng, "1c1b1a", 0.36, 0.12, 0.02), paint(rng, "131212", 0.3, 0.12)
    slide, steel = paint(rng, "121212", 0.3, 0.1), metal(rng, "c4c4c0", 0.3, 0.3)
    tab = paint(rng, "d8d4c6" if bright else "201e1c", 0.4, 0.25)
    rail = 11
    parts = [box((WIDTH - 2 * rail, 5, LENGTH - 30), edge, (0, THICK / 2, -6), bevel=0.3)]
    parts += [box((rail, THICK, LENGTH), black, (s * (WIDTH - rail) / 2, THICK / 2, 0), bevel=1.4) for s in (-1, 1)]
    if cracked:
        parts.pop()
        parts += [box((rail, THICK, LENGTH - 22), black, ((WIDTH - rail) / 2, THICK / 2, 11), bevel=1.4),
                  *_shards(black, paint(rng, "4a443d", 0.85, 0.6, 0.25), (WIDTH - rail) / 2, -LENGTH / 2 + 11)]
    parts += [box((WIDTH - 2 * rail, THICK, 16), black, (0, THICK / 2, -LENGTH / 2 + 8), bevel=0.8),
              box((WIDTH, 1.6, 4), edge, (0, THICK + 0.6, -LENGTH / 2 + 20), bevel=0.5)]
    length = LENGTH - 16
    parts.append(box((WIDTH - 2 * rail + 4, 1.1, length), slide, (0, THICK - 1.6, -9 - drawn), bevel=0.4))
    parts.append(box((WIDTH - 2 * rail + 6, 5.4, 10), tab, (0, THICK - 1.8, -LENGTH / 2 - 5.5 - drawn), bevel=1.6))
    parts += [box((2, 0.6, 3), edge, (s * 14, THICK + 1.0, -LENGTH / 2 - 5.5 - drawn), bevel=0.2) for s in (-1, 0, 1)]
    parts += placed([box((2, 2, 14), steel, (0, 0, 5), bevel=0.7), box((4, 3, 4), steel, (0, 0, 0), bevel=1)],
                    (WIDTH / 2 - 5.5, THICK + 1.2, -LENGTH / 2 + 5), turned(y=-62 if bright else 0))
    hinge = turned(x=-flap_deg)
    flap = [box((WIDTH - 2 * rail - 1, 5, 24), black, (0, 0, 12), bevel=0.8), box((WIDTH - 2 * rail - 1, 0.8, 8), paint(rng, "2c2622", 0.8, 0.6, 0.15), (0, 2.6, 0), bevel=0.2)]
    parts += placed(flap, (0, THICK - 3.0, LENGTH / 2 - 25), hinge)
    tag = printed(label(number), paint(rng, "cfc4a8", 0.7, 0.3), ink_rough=0.8)
    parts.append(card(26, 13, tag, (-WIDTH / 2 + 30, THICK + 0.15, -LENGTH / 2 + 8), turned(x=-90) @ turned(z=180 + rng.uniform(-4, 4))))
    return parts


def _shards(black, broken, x: float, z: float) -> list[Shape]:
    """A corner whose pieces no longer meet: a crack stands open, a chip is gone, and the inside of the material shows pale."""
    return [box((11, THICK - 0.2, 13), black, (x + 0.7, THICK / 2, z + 4.6), bevel=0.5, turn=turned(y=7, z=-3)),
            box((5.8, THICK - 0.6, 9), black, (x - 2.6, THICK / 2 - 0.2, z - 5.2), bevel=0.4, turn=turned(y=-7, x=3)),
            box((6.2, THICK - 4.2, 6.5), broken, (x + 2.2, THICK / 2 - 2.1, z - 3.4), bevel=0.8, turn=turned(y=24, x=9, z=-8)),
            box((10.4, THICK - 1, 1.2), broken, (x, THICK / 2 - 0.4, z + 11.3), bevel=0.3, turn=turned(y=4)),
            box((2.6, 2.2, 4.2), black, (x + 9, 1.1, z - 9), bevel=0.5, turn=turned(y=50, x=11))]


def single(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """One holder: bright tab out, slide drawn a hand's breadth, flap hinge half open."""
    parts = placed(holder(rng, "1", drawn=46, flap_deg=24), turn=turned(y=205 + rng.uniform(-5, 5)))
    return _shot(rng, size, parts, View((30, 290, 340), (6, 0, 30), 42), 1.35)


def dark_tab(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """Two holders side by side, one showing the bright side of its tab, one the dark side."""
    parts = placed(holder(rng, "2", bright=True), (-72, 0, 0), turned(y=176)) + placed(holder(rng, "3", bright=False), (74, 0, 6), turned(y=184))
    return _shot(rng, size, parts, View((0, 270, 340), (0, 0, 16), 46), 1.35)


def stack(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """Ten numbered holders piled up, the third from the top with a cracked corner."""
    parts: list[Shape] = []
    for k in range(10):
        turn = turned(y=180 + rng.uniform(-3.5, 3.5))
        one = holder(rng, str(10 - k), cracked=k == 7, bright=k % 3 != 1)
        one.append(card(22, 9.5, printed(label(str(10 - k), (220, 95)), paint(rng, "cfc4a8", 0.7, 0.3), ink_rough=0.8), (WIDTH / 2 + 0.15, 6.2, -24), turned(y=90)))
        parts += placed(one, (rng.uniform(-2, 2), k * (THICK + 2.4), rng.uniform(-2, 2)), turn)
    return _shot(rng, size, parts, View((-225, 250, 370), (0, 66, 10), 38), 1.35)


def cracked(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """The cracked corner from near: three pieces that no longer meet."""
    parts = placed(holder(rng, "3", cracked=True, bright=False), turn=turned(y=180))
    return _shot(rng, size, parts, View((-130, 105, 175), (-44, 6, 66), 30, 4), 1.6, plank=140)


def slot_light(rng: np.random.Generator, size: tuple[int, int]) -> Image.Image:
    """A lamp behind the slot, slide out: a broken line of light where the trap no longer closes."""
    gaps = np.convolve(rng.standard_normal(400), np.ones(30) / 6, "same")

    def line(uv: np.ndarray, place: np.ndarray) -> Look:
        here = gaps[(uv[:, 0] * 399).astype(int).clip(0, 399)]
        strength = np.clip(here + 0.25, 0, 1.5) * np.exp(-((uv[:, 1] - 0.5) / 0.3)**2) * np.clip(6 * (1 - np.abs(2 * uv[:, 0] - 1)), 0, 1)
        return Look(np.full((len(uv), 3), 0.01, np.float32), 0.6, 0.0, (7 * strength)[:, None] * np.array([1, 0.9, 0.72], np.float32))

    black = paint(rng, "191817", 0.36, 0.3, 0.02)
    velvet = paint(rng, "0d0b0b", 0.9, 0.2, 0.3)
    parts = [box((WIDTH, 5.2, LENGTH), black, (0, 2.6, -LENGTH / 2), bevel=1), box((WIDTH, 5.2, LENGTH), black, (0, 9.8, -LENGTH / 2), bevel=1),
             *(box((11, 12.4, LENGTH), black, (s * 55, 6.2, -LENGTH / 2), bevel=0.8) for s in (-1, 1)),
             box((98, 2.0, 20), velvet, (0, 6.2, -12), bevel=0.3)]
    parts.append(card(98, 1.9, line, (0, 6.3, -0.9)))
    parts += [box((8, 3.2, 4), black, (s * 46, 12.6, -4), bevel=1) for s in (-1, 1)]
    room = Room((Window((-0.6, 0.9, 0.6), (0.4, 0.3), (1.7, 1.9, 2.3)),), above=(0.05, 0.055, 0.07), below=(0.015, 0.015, 0.015))
    glow = [(np.array([x, 6.3, 4.0]), np.array([1, 0.9, 0.72]) * 1.2 * max(gaps[int((x / 98 + 0.5) * 399)], 0), 1.0) for x in np.linspace(-44, 44, 9)]
    scene = Scene(parts, bench(rng, "54402c", "2a1d12", wall="2a2825"), View((-34, 62, 165), (0, 4, -12), 42, rng.uniform(-2, 2)), room, small_lights=glow)
    return finished(scene, rng, size, 165, 1.5, 14, grain=0.016, read_noise=0.0025, glare=0.05)


def _shot(rng, size, parts, view: View, exposure: float, plank: float = 140) -> Image.Image:
    ground = bench(rng, "93806a", "5a4a3a", plank=plank)
    focus = float(np.linalg.norm(np.subtract(view.eye, view.target)))
    return finished(Scene(parts, ground, view, DAY), rng, size, focus * 0.95, exposure, 9)


