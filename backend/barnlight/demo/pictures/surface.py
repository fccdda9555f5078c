"""What things are made of: wood, brass, leather, paint, glass, paper; each turns a place on a shape into colour and gloss."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from PIL import Image


@dataclass
class Look:
    """How a surface takes light: own colour (linear), roughness 0-1, metal 0-1, light of its own, shift of the normal."""

    colour: np.ndarray
    rough: np.ndarray | float = 0.6
    metal: np.ndarray | float = 0.0
    glow: np.ndarray | float = 0.0
    bump: np.ndarray | float = 0.0


Material = Callable[[np.ndarray, np.ndarray], Look]   # (uv, place) -> Look


def cloud(rng: np.random.Generator, slope: float = 1.2, cells: int = 512) -> np.ndarray:
    """A seamless square of noise, mean 0 and deviation 1; a larger slope is softer."""
    along = np.fft.fftfreq(cells)
    size = np.hypot(*np.meshgrid(along, along))
    size[0, 0] = 1
    wave = np.fft.fft2(rng.standard_normal((cells, cells))) * size**-slope
    wave[0, 0] = 0
    noise = np.fft.ifft2(wave).real
    return (noise / noise.std()).astype(np.float32)


def read(noise: np.ndarray, u: np.ndarray, v: np.ndarray) -> np.ndarray:
    """Noise at a place given in cells, wrapping round, smooth between cells."""
    cells = noise.shape[0]
    iu, iv = np.floor(u).astype(np.int32), np.floor(v).astype(np.int32)
    fu, fv = (u - iu).astype(np.float32), (v - iv).astype(np.float32)
    rows, cols = (iv % cells, (iv + 1) % cells), (iu % cells, (iu + 1) % cells)
    top = noise[rows[0], cols[0]] * (1 - fu) + noise[rows[0], cols[1]] * fu
    low = noise[rows[1], cols[0]] * (1 - fu) + noise[rows[1], cols[1]] * fu
    return top * (1 - fv) + low * fv


def rgb(text: str) -> np.ndarray:
    """Linear colour of a hex colour such as '8a4b20'."""
    value = np.array([int(text[k:k + 2], 16) / 255 for k in (0, 2, 4)])
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4).astype(np.float32)


def wood(rng: np.random.Generator, light: str = "a8683a", dark: str = "4f2812", gloss: float = 0.32, scale: float = 1.0) -> Material:
    """Varnished wood: long figure along u, short dark pores, a little wear."""
    figure, pores, wear = cloud(rng, 1.5), cloud(rng, 0.5), cloud(rng, 1.6)
    bright, deep = rgb(light), rgb(dark)

    def look(uv: np.ndarray, place: np.ndarray) -> Look:
        u, v = uv[:, 0] * scale, uv[:, 1] * scale
        bend = read(figure, u * 0.35, v * 0.8)
        ring = 0.5 + 0.5 * np.sin(v * 0.55 + 2.6 * bend + 0.5 * read(figure, u * 0.08 + 90, v * 2.5))
        pore = np.clip(read(pores, u * 0.5, v * 7) - 0.8, 0, 2)
        worn = read(wear, u * 1.1 + 31, v * 1.1)
        mix = np.clip(0.32 + 0.42 * ring + 0.16 * bend, 0, 1)[:, None]
        colour = (deep * (1 - mix) + bright * mix) * (1 - 0.22 * pore + 0.07 * worn)[:, None]
        tilt = 0.03 * np.stack([bend * 0.2, worn * 0.4, pore - 0.2], axis=-1)
        return Look(np.clip(colour, 0.002, 1), np.clip(gloss + 0.1 * worn + 0.1 * pore, 0.12, 0.9), bump=tilt)
    return look


def metal(rng: np.random.Generator, colour: str = "c9a45c", rough: float = 0.28, tarnish: float = 0.35, brushed: float = 0.0) -> Material:
    """Bare metal: brass by default; tarnish dulls and darkens in clouds, scratches run along u."""
    spots, scratch = cloud(rng, 1.3), cloud(rng, 0.2)
    bare = rgb(colour)

    def look(uv: np.ndarray, place: np.ndarray) -> Look:
        p = place * 3.1
        dull = np.clip(read(spots, p[:, 0] + 0.4 * p[:, 2], p[:, 1] + 0.7 * p[:, 2]) * 0.5 + 0.35, 0, 1) * tarnish
        line = read(scratch, uv[:, 0] * 1.5, uv[:, 1] * 30)
        tilt = brushed * line[:, None] * np.array([0.3, 1, 0.3])
        return Look(bare * (1 - 0.62 * dull)[:, None], np.clip(rough + 0.35 * dull + 0.02 * line, 0.08, 0.9), 1.0, bump=tilt)
    return look


def paint(rng: np.random.Generator, colour: str = "151515", rough: float = 0.35, wear: float = 0.12, grain: float = 0.02) -> Material:
    """Paint, lacquer, plastic or cloth of one colour, with fine grain and rubbed places."""
    fine, soft = cloud(rng, 0.3), cloud(rng, 1.4)
    base = rgb(colour)

    def look(uv: np.ndarray, place: np.ndarray) -> Look:
        p = place * 2.3
        u, v = p[:, 0] + 0.61 * p[:, 2], p[:, 1] + 0.83 * p[:, 2]
        patch, speck = read(soft, u, v), read(fine, u * 2.2, v * 2.2)
        shade = base + wear * 0.18 * np.clip(patch - 0.6, 0, 2)[:, None] * (0.3 + base)
        tilt = grain * np.stack([speck, read(fine, u * 2.2 + 77, v * 2.2), read(fine, u * 2.2, v * 2.2 + 99)], axis=-1)
        return Look(np.clip(shade * (1 + 0.12 * wear * speck)[:, None], 0.001, 1), np.clip(rough + wear * 0.5 * patch, 0.1, 0.95), bump=tilt)
    return look


def leather(rng: np.random.Generator, colour: str = "1d1512", ridge_wear: float = 0.5, depth: float = 8) -> Material:
    """Bellows leather: pebbled grain, ridges (odd multiples of `depth` along u) rubbed paler."""
    pebble, soft = cloud(rng, 0.6), cloud(rng, 1.5)
    base, pale = rgb(colour), rgb("7d6350")

    def look(uv: np.ndarray, place: np.ndarray) -> Look:
        u, v = uv[:, 0], uv[:, 1]
        grain = read(pebble, u * 5, v * 5)
        patch = read(soft, u * 1.7, v * 1.7)
        ridge = np.abs(((u / depth) % 2) - 1)
        rub = np.clip(1 - ridge * (7 - 2 * patch), 0, 1) * ridge_wear * np.clip(0.7 + 0.5 * patch + 0.25 * grain, 0, 1.4)
        colour_here = base * (1 + 0.2 * grain + 0.15 * patch)[:, None] * (1 - rub[:, None]) + pale * rub[:, None]
        tilt = 0.16 * np.stack([grain, read(pebble, u * 5 + 50, v * 5), read(pebble, u * 5, v * 5 + 70)], axis=-1)
        return Look(np.clip(colour_here, 0.001, 1), np.clip(0.52 - 0.1 * grain, 0.3, 0.9), bump=tilt)
    return look


def printed(image: Image.Image, under: Material, *, ink_rough: float | None = None, share: float = 1.0) -> Material:
    """A picture with alpha laid on a material by uv from 0 to 1 (u wraps round); lettering, scales, labels."""
    data = np.asarray(image.convert("RGBA"), np.float32) / 255
    colour = np.where(data[..., :3] <= 0.04045, data[..., :3] / 12.92, ((data[..., :3] + 0.055) / 1.055) ** 2.4)
    high, wide = data.shape[:2]

    def look(uv: np.ndarray, place: np.ndarray) -> Look:
        x = (uv[:, 0] % 1.0) * (wide - 1)
        y = np.clip(uv[:, 1], 0, 1) * (high - 1)
        ix, iy = np.minimum(x.astype(int), wide - 2), np.minimum(y.astype(int), high - 2)
        fx, fy = (x - ix)[:, None], (y - iy)[:, None]

        def pick(a: np.ndarray) -> np.ndarray:
            return ((a[iy, ix] * (1 - fx) + a[iy, ix + 1] * fx) * (1 - fy) + (a[iy + 1, ix] * (1 - fx) + a[iy + 1, ix + 1] * fx) * fy)

        below = under(uv * 60, place)
        cover = pick(data[..., 3:]) * share
        flat = cover[:, 0]
        below.colour = below.colour * (1 - cover) + pick(colour) * cover
        below.metal = below.metal * (1 - flat)
        if ink_rough is not None:
            below.rough = below.rough * (1 - flat) + ink_rough * flat
        return below
    return look
