"""From light to a photograph: depth of field, glare, vignetting, tone, grain, the mark of origin, and a bare JPEG."""

from __future__ import annotations

import io

import numpy as np
from PIL import Image, ImageDraw, ImageFont
from scipy.ndimage import gaussian_filter

MARK = "made by Barnlight's own code"


def blurred(picture: np.ndarray, sigma: float) -> np.ndarray:
    """Gaussian blur over both directions, not across colours; sigma in pixels."""
    return gaussian_filter(picture, (sigma, sigma, 0), truncate=2.5) if sigma > 0.05 else picture


def out_of_focus(picture: np.ndarray, distance: np.ndarray, focus_mm: float, strength_px: float) -> np.ndarray:
    """Blur that grows with the distance from the plane of focus: `strength_px` at infinity, for this picture's width."""
    circle = np.clip(strength_px * np.abs(1 - focus_mm / distance), 0, 3 * strength_px)
    circle = gaussian_filter(circle, 2 + strength_px / 4)
    steps = [0.0, 1.0, 2.0, 4.0, 8.0, 16.0]
    layers = [blurred(picture, s) for s in steps if s <= max(circle.max(), 1)]
    level = np.clip(np.interp(circle, steps[:len(layers)], np.arange(len(layers))), 0, len(layers) - 1)
    out = np.zeros_like(picture)
    for k, layer in enumerate(layers):
        out += layer * np.clip(1 - np.abs(level - k), 0, 1)[..., None]
    return out


def half_size(picture: np.ndarray, size: tuple[int, int]) -> np.ndarray:
    """Linear RGB brought down to `size`, each colour with an area filter."""
    planes = [Image.fromarray(np.ascontiguousarray(picture[..., k], dtype=np.float32)).resize(size, Image.Resampling.BOX) for k in range(3)]
    return np.stack([np.asarray(p) for p in planes], axis=-1)


def photograph(picture: np.ndarray, rng: np.random.Generator, *, exposure: float = 1.0, cast: tuple[float, float, float] = (1, 1, 1),
               vignette: float = 0.35, glare: float = 0.04, blur_px: float = 0.6, grain: float = 0.010, read_noise: float = 0.0015,
               contrast: float = 1.0) -> Image.Image:
    """Linear light to an sRGB picture as a phone would take it; blur in pixels at 1600 wide."""
    height, width = picture.shape[:2]
    scale = width / 1600
    light = picture * exposure * np.asarray(cast, np.float32)
    if glare:
        bright = np.minimum(light, 8)
        light = light * (1 - glare) + glare * (0.6 * blurred(bright, 14 * scale) + 0.4 * blurred(bright, 60 * scale))
    light = blurred(light, blur_px * scale)
    y, x = np.mgrid[-1:1:height * 1j, -1:1:width * 1j]
    light = light * (1 - vignette * ((x**2 + (y * height / width)**2) / 1.56)**1.3)[..., None]
    noise = rng.standard_normal((height, width, 3)).astype(np.float32)
    noise = 0.75 * noise.mean(axis=-1, keepdims=True) * 1.7 + 0.5 * blurred(noise, 1.2 * scale) * 2.2
    light = np.maximum(light + noise * np.sqrt(np.maximum(light, 0) * grain**2 + read_noise**2), 0)
    light = light**contrast * 0.18 ** (1 - contrast)
    toned = light * (1 + light / 9) / (1 + light * 0.62)
    code = np.where(toned <= 0.0031308, toned * 12.92, 1.055 * np.power(np.maximum(toned, 1e-9), 1 / 2.4) - 0.055)
    return Image.fromarray((np.clip(code, 0, 1) * 255 + 0.5).astype(np.uint8))


def marked(image: Image.Image) -> Image.Image:
    """The picture with its origin said in small letters in the lower left corner."""
    size = max(9, image.width // 84)
    font = ImageFont.load_default(size)
    words, around = (Image.new("L", image.size, 0) for _ in range(2))
    at = (size, image.height - 2 * size)
    ImageDraw.Draw(words).text(at, MARK, font=font, fill=210)
    ImageDraw.Draw(around).text(at, MARK, font=font, fill=110, stroke_width=max(1, size // 9))
    behind = Image.composite(Image.new("RGB", image.size, (20, 18, 14)), image, around)   # readable on light and dark
    return Image.composite(Image.new("RGB", image.size, (250, 246, 235)), behind, words)


def jpeg(image: Image.Image, quality: int = 80) -> bytes:
    """JPEG bytes with nothing in them but the picture."""
    out = io.BytesIO()
    Image.fromarray(np.asarray(image)).save(out, "JPEG", quality=quality, optimize=True, subsampling="4:2:0")
    return out.getvalue()
