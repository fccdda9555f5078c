"""The app's icon, a barn lamp whose light falls on a lens, drawn by code: `python -m barnlight.demo.pictures.icon FOLDER`."""

from __future__ import annotations

import sys
from pathlib import Path

from PIL import Image, ImageDraw

NIGHT, SHADE, SHADE_EDGE, LIGHT, WARM = "#17130e", "#a4452c", "#74301f", "#ffdf9a", "#f0b95a"
GRID = 512
MASK_INSET = 0.125   # share of the side; keeps the whole lamp in a round mask's safe circle

# All places on a square of 512.
CORD = ((256, 64), (256, 132))
NECK = (230, 118, 282, 152)
SHADE_CURVE = ((232, 150), (226, 206), (112, 242))          # left outline, a quadratic curve; the right is its mirror
RIM = (106, 236, 406, 258)
BEAM = ((128, 258), (384, 258), (452, 440), (60, 440))
BULB = (256, 258, 30)
LENS = (256, 366, 70, 42, 24)                               # middle, outer ring, inner edge of the ring, opening
HEXAGON = ((0, -1), (0.866, -0.5), (0.866, 0.5), (0, 1), (-0.866, 0.5), (-0.866, -0.5))


def _shade_outline(steps: int = 24) -> list[tuple[float, float]]:
    a, b, c = SHADE_CURVE
    left = [tuple((1 - t)**2 * p + 2 * t * (1 - t) * q + t * t * r for p, q, r in zip(a, b, c, strict=True))
            for t in (k / steps for k in range(steps + 1))]
    return left + [(GRID - x, y) for x, y in reversed(left)]


def _opening() -> list[tuple[float, float]]:
    x, y, *_, size = LENS
    return [(x + size * a, y + size * b) for a, b in HEXAGON]


def png(size: int, *, inset: float = 0.0) -> Image.Image:
    """The icon at `size` pixels on a full square; `inset` (share of the side) keeps it inside a round mask."""
    big = size * 4
    image = Image.new("RGB", (big, big), NIGHT)
    scale, shift = big * (1 - 2 * inset) / GRID, big * inset

    def at(points) -> list[tuple[float, float]]:
        return [(x * scale + shift, y * scale + shift) for x, y in points]

    def disc(draw: ImageDraw.ImageDraw, x: float, y: float, radius: float, colour) -> None:
        draw.ellipse([*at([(x - radius, y - radius)])[0], *at([(x + radius, y + radius)])[0]], fill=colour)

    beam = Image.new("L", (big, big), 0)
    ImageDraw.Draw(beam).polygon(at(BEAM), fill=255)
    top, low = at([BEAM[0], BEAM[2]])
    fade = Image.linear_gradient("L").resize((big, max(1, int(low[1] - top[1])))).point(lambda v: 235 - v * 135 // 255)
    strength = Image.new("L", (big, big), 0)
    strength.paste(fade, (0, int(top[1])))
    image.paste(WARM, (0, 0), Image.composite(strength, Image.new("L", (big, big), 0), beam))
    draw = ImageDraw.Draw(image)
    disc(draw, *BULB, LIGHT)
    draw.line(at(CORD), fill=SHADE_EDGE, width=int(14 * scale))
    corners = at([NECK[:2], NECK[2:], RIM[:2], RIM[2:]])
    draw.polygon(at(_shade_outline()), fill=SHADE)
    draw.rounded_rectangle([*corners[0], *corners[1]], 8 * scale, fill=SHADE_EDGE)
    draw.rounded_rectangle([*corners[2], *corners[3]], 11 * scale, fill=SHADE_EDGE)
    x, y, outer, inner, _ = LENS
    disc(draw, x, y, outer, NIGHT)
    disc(draw, x, y, outer - 10, WARM)
    disc(draw, x, y, outer - 16, NIGHT)
    disc(draw, x, y, inner, "#3a2c1c")
    draw.polygon(at(_opening()), fill=LIGHT)
    return image.resize((size, size), Image.Resampling.LANCZOS)


def svg() -> str:
    """The same icon as a drawing."""
    def points(places) -> str:
        return " ".join(f"{x:g},{y:g}" for x, y in places)

    (ax, ay), (bx, by), (cx, cy) = SHADE_CURVE
    x, y, outer, inner, _ = LENS
    return f"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {GRID} {GRID}">
  <title>A barn lamp whose light falls on a lens</title>
  <defs><linearGradient id="fall" x1="0" y1="0" x2="0" y2="1"><stop offset="0" stop-color="{WARM}" stop-opacity=".92"/><stop offset="1" stop-color="{WARM}" stop-opacity=".39"/></linearGradient></defs>
  <rect width="{GRID}" height="{GRID}" rx="96" fill="{NIGHT}"/>
  <polygon points="{points(BEAM)}" fill="url(#fall)"/>
  <circle cx="{BULB[0]}" cy="{BULB[1]}" r="{BULB[2]}" fill="{LIGHT}"/>
  <path d="M{CORD[0][0]} {CORD[0][1]}V{CORD[1][1]}" stroke="{SHADE_EDGE}" stroke-width="14"/>
  <path d="M{ax} {ay}Q{bx} {by} {cx} {cy}H{GRID - cx}Q{GRID - bx} {by} {GRID - ax} {ay}Z" fill="{SHADE}"/>
  <rect x="{NECK[0]}" y="{NECK[1]}" width="{NECK[2] - NECK[0]}" height="{NECK[3] - NECK[1]}" rx="8" fill="{SHADE_EDGE}"/>
  <rect x="{RIM[0]}" y="{RIM[1]}" width="{RIM[2] - RIM[0]}" height="{RIM[3] - RIM[1]}" rx="11" fill="{SHADE_EDGE}"/>
  <circle cx="{x}" cy="{y}" r="{outer}" fill="{NIGHT}"/>
  <circle cx="{x}" cy="{y}" r="{outer - 13}" fill="#3a2c1c" stroke="{WARM}" stroke-width="6"/>
  <circle cx="{x}" cy="{y}" r="{(outer - 16 + inner) / 2:g}" fill="none" stroke="{NIGHT}" stroke-width="{outer - 16 - inner}"/>
  <polygon points="{points(_opening())}" fill="{LIGHT}"/>
</svg>
"""


def write(folder: Path) -> None:
    """Every icon file the web app names, into `folder`."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, size, inset in (("icon-192", 192, 0.0), ("icon-512", 512, 0.0), ("maskable-512", 512, MASK_INSET), ("apple-touch-180", 180, 0.04)):
        png(size, inset=inset).save(folder / f"{name}.png", optimize=True)
    (folder / "favicon.svg").write_text(svg(), encoding="utf-8")


if __name__ == "__main__":
    write(Path(sys.argv[1]))
