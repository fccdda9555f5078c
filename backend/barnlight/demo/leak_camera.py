"""A phone's photo of linear light in a dark room: lens, sensor, the phone's own processing, JPEG. One seed, one noise."""

from __future__ import annotations

import io
from dataclasses import dataclass

import numpy as np
from PIL import Image
from scipy.ndimage import convolve, gaussian_filter, uniform_filter

from barnlight.demo.leak_scene import log_uniform, uniform

# Thirds of the light that a Bayer cell and its neighbours give to a pixel between them.
_BETWEEN = np.array([[1, 2, 1], [2, 4, 2], [1, 2, 1]]) / 4
_CROSS = np.array([[0, 1, 0], [1, 4, 1], [0, 1, 0]]) / 4


@dataclass(frozen=True)
class Phone:
    """How one photo is taken; lengths px of this photo."""

    psf_px: float
    defocus_px: float
    motion: tuple[float, float]
    halo: float
    electrons: float
    read_electrons: float
    merged: int
    denoise: float
    sharpen: float
    quality: int
    hot: np.ndarray  # row, column, electrons as a share of white
    noise_seed: int


def phone(rng: np.random.Generator, size: tuple[int, int], motion_px: float | None = None, focus_px: float | None = None) -> Phone:
    """A phone held by a hand; `motion_px` and `focus_px` (px at 2048) spoil the photo."""
    unit = size[0] / 2048
    turn = rng.uniform(0, np.pi)
    moved = motion_px if motion_px is not None else uniform(rng, "motion_px") * (rng.random() < 0.5)
    out = focus_px if focus_px is not None else uniform(rng, "defocus_px") * (rng.random() < 0.4)
    count = int(rng.integers(0, 13))
    hot = np.column_stack([rng.integers(0, size[1], count), rng.integers(0, size[0], count), np.exp(rng.uniform(np.log(0.01), 0, count))])
    return Phone(
        uniform(rng, "psf_px") * unit, out * unit, (moved * unit * np.cos(turn), moved * unit * np.sin(turn)), uniform(rng, "halo"),
        log_uniform(rng, "electrons"), uniform(rng, "read_electrons"), int(rng.integers(1, 7)), uniform(rng, "denoise"), uniform(rng, "sharpen"),
        int(rng.integers(60, 96)), hot, int(rng.integers(2**31)),
    )  # fmt: skip


def photograph(light: np.ndarray, phone: Phone) -> bytes:
    """The JPEG of linear light (1 = white); the same phone gives the same noise whatever the light."""
    rng = np.random.default_rng(phone.noise_seed)
    seen = _through_lens(light, phone)
    raw = _sensor(seen, phone, rng)
    codes = _toned(_processed(_demosaiced(raw), phone))
    out = io.BytesIO()
    Image.fromarray(codes).save(out, "JPEG", quality=phone.quality, subsampling="4:2:0")
    return out.getvalue()


def _through_lens(light: np.ndarray, phone: Phone) -> np.ndarray:
    unit = light.shape[1] / 2048
    seen = light.astype(np.float32)
    if np.hypot(*phone.motion) > 0.3:
        steps = max(2, int(np.hypot(*phone.motion)) + 1)
        shifts = np.linspace(-0.5, 0.5, steps)
        seen = np.mean([_shifted(seen, round(s * phone.motion[0]), round(s * phone.motion[1])) for s in shifts], axis=0, dtype=np.float32)
    if phone.defocus_px > 2:
        seen = _disc(seen, phone.defocus_px)
    sigma = float(np.hypot(phone.psf_px, phone.defocus_px / 2 if phone.defocus_px <= 2 else 0))
    seen = gaussian_filter(seen, (sigma, sigma, 0))
    small = seen[::8, ::8]
    halo = sum(share * gaussian_filter(small, (px * unit / 8, px * unit / 8, 0)) for px, share in ((12, 0.4), (50, 0.35), (200, 0.25)))
    shape = light.shape[1], light.shape[0]
    spread = np.stack([np.asarray(Image.fromarray(np.ascontiguousarray(halo[..., k])).resize(shape, Image.Resampling.BILINEAR)) for k in range(3)], axis=-1)
    return seen * (1 - phone.halo) + phone.halo * spread


def _shifted(light: np.ndarray, across: int, down: int) -> np.ndarray:
    """Moved by whole pixels; what comes in over the edge repeats it."""
    rows, columns = (np.clip(np.arange(size) - by, 0, size - 1) for size, by in zip(light.shape[:2], (down, across), strict=True))
    return light[np.ix_(rows, columns)]


def _disc(light: np.ndarray, radius: float) -> np.ndarray:
    """A filled circle of confusion, as two boxes turned against each other: near enough for edges."""
    side = max(1, round(radius * 1.2))
    return uniform_filter(uniform_filter(light, (side, side, 1)), (side, side, 1))


def _sensor(seen: np.ndarray, phone: Phone, rng: np.random.Generator) -> np.ndarray:
    """One value a pixel under a Bayer mosaic (red green / green blue), with its noise; 1 = white."""
    rows, columns = np.mgrid[: seen.shape[0], : seen.shape[1]]
    colour = (rows % 2 + columns % 2)  # 0 red, 1 green, 2 blue
    exact = np.clip(np.take_along_axis(seen, colour[..., None], 2)[..., 0], 0, 1)
    for row, column, share in phone.hot:
        exact[int(row), int(column)] += np.float32(share)
    white = phone.electrons * phone.merged
    shot = rng.standard_normal(exact.shape, np.float32) * np.sqrt(np.maximum(exact, 0) / white)
    read = rng.standard_normal(exact.shape, np.float32) + 0.3 * rng.standard_normal((len(exact), 1), np.float32)
    return np.clip(exact + shot + read * phone.read_electrons / (phone.electrons * np.sqrt(phone.merged)), 0, 1)


def _demosaiced(raw: np.ndarray) -> np.ndarray:
    rows, columns = np.mgrid[: raw.shape[0], : raw.shape[1]]
    colour = rows % 2 + columns % 2
    planes = [convolve(np.where(colour == k, raw, 0), _CROSS if k == 1 else _BETWEEN, mode="mirror") for k in range(3)]
    return np.stack(planes, axis=-1).astype(np.float32)


def _processed(rgb: np.ndarray, phone: Phone) -> np.ndarray:
    """Colour blurred, brightness smoothed where it is flat, then sharpened."""
    level = rgb @ np.array([0.299, 0.587, 0.114], np.float32)
    colour = gaussian_filter(rgb - level[..., None], (2, 2, 0))
    soft = gaussian_filter(level, 1.3)
    flat = np.exp(-(((level - soft) / (0.012 + 0.12 * np.sqrt(np.maximum(soft, 0)))) ** 2))
    calm = level + phone.denoise * flat * (soft - level)
    sharp = calm + phone.sharpen * (calm - gaussian_filter(calm, 1.1))
    return np.maximum(sharp[..., None] + colour, 0)


def _toned(linear: np.ndarray) -> np.ndarray:
    """sRGB codes (IEC 61966-2-1 curve) under a soft shoulder."""
    shouldered = np.where(linear < 0.7, linear, 0.7 + 0.3 * (1 - np.exp(-(linear - 0.7) / 0.3)))
    code = np.where(shouldered <= 0.0031308, 12.92 * shouldered, 1.055 * np.power(np.maximum(shouldered, 1e-9), 1 / 2.4) - 0.055)
    return (np.clip(code, 0, 1) * 255 + 0.5).astype(np.uint8)
