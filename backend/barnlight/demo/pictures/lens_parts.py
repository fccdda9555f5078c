"""Parts of a lens in a leaf shutter: barrel rings, engraved ring, iris, shutter face, levers and glass."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from barnlight.demo.pictures.mesh import Shape, box, lathe, turned
from barnlight.demo.pictures.surface import Look, metal, paint, printed

# Invented words: no maker of these names is known to us (from memory).
ENGRAVED = "QUELLBRANDT-ORVIK  ·  TESTANOR  1:5.6 / 210 mm  ·  Nr 0048213  ·  "


def strip(text: str, size: tuple[int, int] = (4096, 128), ink: str = "#e9e4d6", repeat: int = 1, height: float = 0.62) -> Image.Image:
    """Lettering for once round a ring (or a part of it), on nothing."""
    image = Image.new("RGBA", size, (0, 0, 0, 0))
    font = ImageFont.load_default(int(size[1] * height))
    draw = ImageDraw.Draw(image)
    for k in range(repeat):
        draw.text((size[0] * (k + 0.5) / repeat, size[1] * 0.5), text, font=font, fill=ink, anchor="mm")
    return image


def around(text: str, ring: tuple[float, float], under, **more) -> Shape:
    """A flat ring facing +z, from outer to inner radius (mm), with `text` running round it as seen from the front."""
    image = strip(text, **more)
    outer, inner = ring
    look = printed(image.transpose(Image.Transpose.FLIP_LEFT_RIGHT), under, ink_rough=0.5)

    def spread(uv: np.ndarray, place: np.ndarray) -> Look:
        return look(np.stack([uv[:, 0] + 0.25, uv[:, 1] / (outer - inner)], axis=-1), place)
    return lathe([(outer, 0), (inner, 0)], spread, steps=128)


def iris(rng: np.random.Generator, radius: float, opening: float, blades: int = 10) -> Callable:
    """Look of a closed-down iris by place: blades with soft edges and a black opening; for a disc about z."""
    turn = rng.uniform(0, 2 * np.pi)

    def look(uv: np.ndarray, place: np.ndarray) -> Look:
        radius_here, angle = uv[:, 1], 2 * np.pi * uv[:, 0] + turn
        radius_here = radius - radius_here
        part = (angle / (2 * np.pi) * blades) % 1
        edge = opening * np.cos(np.pi / blades) / np.cos((part - 0.5) * 2 * np.pi / blades)
        inside = np.clip((edge - radius_here) * 6, 0, 1)
        spiral = (angle / (2 * np.pi) * blades + (radius_here - opening) / radius * 2.2) % 1
        shade = 0.05 + 0.09 * spiral * np.clip((1 - spiral) / 0.04, 0, 1) + 0.13 * np.exp(-((spiral - 0.955) / 0.022)**2)
        grey = (shade * (1 - inside) + 0.004 * inside)[:, None]
        return Look((grey * np.array([1.0, 1.0, 1.06])).astype(np.float32), 0.5, 0.25 * (1 - inside))
    return look


def clear(uv: np.ndarray, place: np.ndarray) -> Look:
    """Clean coated glass."""
    return Look(np.ones((len(uv), 3), np.float32), 0.02)


def dome(radius: float, bulge: float, material, z: float) -> Shape:
    """A lens surface facing +z; u is the share of the turn, v the distance from the rim along the glass (mm)."""
    share = np.linspace(1, 0.001, 20)
    return lathe([(radius * s, z + bulge * (1 - s * s)) for s in share], material, steps=96, smooth=True)


def lens(rng: np.random.Generator, *, scale: float = 1.0, film: Callable = clear, opening: float = 9, shutter: bool = True,
         engraved: str = ENGRAVED) -> tuple[list[Shape], list[Shape]]:
    """Solids and glass of a lens facing +z, its mounting face at z=0; `film` is what lies on the front glass."""
    black, satin = paint(rng, "101011", 0.38, 0.3), paint(rng, "1a1a1b", 0.5, 0.2, 0.05)
    chrome = metal(rng, "c8c8c4", 0.22, 0.22)
    solids = []
    if shutter:
        solids += shutter_body(rng, black, chrome, satin)
    solids += [
        lathe([(30, 18), (31, 20), (31, 30), (33.5, 33), (33.5, 35.5), (34.5, 36.5), (34.5, 44), (33.8, 45), (32.4, 45)], black, steps=128),
        knurled(satin, 34.6, 37.5, 43),
        lathe([(32.4, 45), (32.4, 42.4), (31.8, 42.2)], satin, steps=128),
        around(engraved, (32.2, 26.6), satin).moved((0, 0, 42.4)),
        lathe([(26.6, 42.4), (26.2, 41.6), (25.4, 41.0), (24.6, 30), (22, 26), (19, 18)], black, steps=128),
        lathe([(24, 21.0), (0.01, 21.0)], iris(rng, 24, opening), steps=128),
    ]
    glass = [dome(25.8, 5.2, film, 40.6)]
    return scaled(solids, scale), scaled(glass, scale)


def scaled(shapes: list[Shape], scale: float) -> list[Shape]:
    """Every shape made larger or smaller, its texture left as it is."""
    return [shape.moved(turn=np.eye(3) * scale) for shape in shapes] if scale != 1 else shapes


def knurled(material, radius: float, low: float, high: float, teeth: int = 90) -> Shape:
    """A band of fine grooves about z."""
    def look(uv: np.ndarray, place: np.ndarray) -> Look:
        found = material(uv * np.array([200, 1]), place)
        angle = 2 * np.pi * uv[:, 0]
        wave = np.cos(angle * teeth)
        found.bump = found.bump + 0.6 * wave[:, None] * np.stack([-np.sin(angle), np.cos(angle), 0 * angle], axis=-1)
        found.colour = found.colour * (0.75 + 0.35 * np.sin(angle * teeth))[:, None]
        return found
    return lathe([(radius, low), (radius, high)], look, steps=128)


SPEEDS = ("T", "B", "1", "2", "4", "8", "15", "30", "60", "125", "250", "500")
STOPS = ("5.6", "8", "11", "16", "22", "32", "45", "64")


def scale_ring(words: tuple[str, ...], start_deg: float, step_deg: float, ink: str = "#e9e4d6", size=(4096, 150), height: float = 0.5,
               ticks: bool = True) -> Image.Image:
    """Words spaced along a ring's strip, clockwise from `start_deg` (0 at the top), with a tick under each."""
    image = Image.new("RGBA", size, (0, 0, 0, 0))
    font, draw = ImageFont.load_default(int(size[1] * height)), ImageDraw.Draw(image)
    for k, word in enumerate(words):
        x = ((start_deg + k * step_deg) % 360) / 360 * size[0]
        draw.text((x, size[1] * 0.42), word, font=font, fill=ink, anchor="mm")
        if ticks:
            draw.rectangle((x - 3, size[1] * 0.76, x + 3, size[1] * 0.98), fill=ink)
    return image


def shutter_body(rng: np.random.Generator, black, chrome, satin) -> list[Shape]:
    """A dial shutter of a middle size: body, speed ring with its marks, stop scale, cocking and release levers, cable socket."""
    def ring(image: Image.Image, outer: float, inner: float, under):
        look = printed(image.transpose(Image.Transpose.FLIP_LEFT_RIGHT), under, ink_rough=0.5)
        return lathe([(outer, 0), (inner, 0)], lambda uv, p: look(
            np.stack([uv[:, 0] + 0.25, uv[:, 1] / (outer - inner)], axis=-1), p), steps=160)

    parts = [
        lathe([(20, 0), (47, 0), (51, 2), (51, 14), (50, 15.5), (46, 15.5)], black, steps=160),
        ring(scale_ring(STOPS, 125, 13, height=0.42), 50, 44.2, satin).moved((0, 0, 15.6)),
        lathe([(44.6, 15.6), (44.6, 18.6), (44, 19.2)], chrome, steps=160),
        ring(scale_ring(SPEEDS, 245, 21), 44, 35.2, paint(rng, "0d0d0e", 0.3, 0.2)).moved((0, 0, 19.2)),
        knurled(chrome, 44.8, 15.8, 18.4, 140),
        lathe([(35.2, 19.2), (34.8, 20.4), (31, 20.4)], chrome, steps=128),
        lathe([(3.2, 0), (3.2, 16), (2.4, 17), (1.4, 17), (1.4, 8)], chrome, steps=24).moved((-44, 30, 8), turned(y=-60)),
    ]
    for angle, length, thick in ((38, 17, 4), (142, 15, 3.4), (-62, 12, 3)):
        turn = turned(z=angle)
        place = turn @ np.array([51 + length / 2 - 3, 0, 9])
        parts += [box((length, thick, 2.4), chrome, place, bevel=0.8, turn=turn),
                  box((4, thick + 3, 6), chrome, turn @ np.array([51 + length - 3, 0, 10.5]), bevel=1.2, turn=turn)]
    parts.append(box((1.6, 5, 0.6), paint(rng, "b03020", 0.4), (0, 47.4, 16.0), bevel=0.2))
    return parts
