"""Room light on shapes: windows and lamps with soft edges, a dim room around, shadows, and reflections in glass and metal."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from barnlight.demo.pictures.mesh import Shape
from barnlight.demo.pictures.trace import Seen, Shadows, View, nearest


@dataclass(frozen=True)
class Window:
    """A lit rectangle far away: direction, half width and half height (tangent of the angle), brightness (linear RGB)."""

    toward: tuple[float, float, float]
    half: tuple[float, float]
    bright: tuple[float, float, float]
    samples: int = 7
    bars: bool = False

    def frame(self) -> np.ndarray:
        """Rows: right, up and direction of the window."""
        ahead = np.asarray(self.toward, float) / np.linalg.norm(self.toward)
        right = np.cross([0, 1, 0], ahead)
        right /= np.linalg.norm(right) + 1e-9
        return np.stack([right, np.cross(ahead, right), ahead])

    def seen(self, ray: np.ndarray, rough: np.ndarray) -> np.ndarray:
        """How much of the window a reflected ray meets, 0-1, blurred by the surface's roughness."""
        local = ray @ self.frame().T.astype(np.float32)
        ahead = np.maximum(local[:, 2], 1e-3)
        soft = 0.012 + 0.75 * rough**1.6

        def edge(value: np.ndarray, half: float) -> np.ndarray:
            def sigmoid(x: np.ndarray) -> np.ndarray:
                return 0.5 + 0.5 * np.tanh(x)
            return sigmoid((value + half) / soft) - sigmoid((value - half) / soft)
        share = edge(local[:, 0] / ahead, self.half[0]) * edge(local[:, 1] / ahead, self.half[1])
        if self.bars:
            share = share * (1 - 0.85 * edge(local[:, 0] / ahead, 0.03)) * (1 - 0.85 * edge(local[:, 1] / ahead, 0.03))
        return share * (local[:, 2] > 0)


@dataclass(frozen=True)
class Room:
    """The light of a scene: windows and lamps, and the dim surroundings above and below (linear RGB)."""

    windows: tuple[Window, ...]
    above: tuple[float, float, float] = (0.10, 0.10, 0.11)
    below: tuple[float, float, float] = (0.05, 0.04, 0.03)
    dome: int = 12

    def around(self, ray: np.ndarray) -> np.ndarray:
        """Brightness of the surroundings without the windows, along rays (n, 3)."""
        up = np.clip(ray[:, 1:2] * 0.8 + 0.5, 0, 1)
        return (np.asarray(self.below) * (1 - up) + np.asarray(self.above) * up).astype(np.float32)

    def lamps(self, rng: np.random.Generator) -> list[tuple[np.ndarray, np.ndarray]]:
        """(direction, irradiance) of each sample of the windows and of the dome."""
        out = []
        for window in self.windows:
            share = np.asarray(window.bright) * 4 * window.half[0] * window.half[1] / window.samples
            place = (np.arange(window.samples) + rng.random(window.samples)) / window.samples
            across = np.stack([2 * place - 1, 2 * ((np.arange(window.samples) * 0.618 + 0.3) % 1) - 1])
            for a, b in across.T:
                direction = np.array([a * window.half[0], b * window.half[1], 1.0]) @ window.frame()
                out.append((direction / np.linalg.norm(direction), share))
        k = np.arange(self.dome) + 0.5
        up, turn = 1 - 1.6 * k / self.dome, np.pi * (1 + 5**0.5) * k
        flat = np.sqrt(1 - np.clip(up, -1, 1)**2)
        for ray in np.stack([flat * np.cos(turn), up, flat * np.sin(turn)], axis=-1):
            out.append((ray, self.around(ray[None])[0] * 4 * np.pi * 0.8 / self.dome))
        return out


@dataclass
class Scene:
    """Solid shapes, a ground that casts no shadow, glass in front of them, the light and the view."""

    solids: list[Shape]
    ground: list[Shape]
    view: View
    room: Room
    glass: list[Shape] = field(default_factory=list)
    background: tuple[float, float, float] = (0.05, 0.045, 0.04)
    small_lights: list[tuple[np.ndarray, np.ndarray, float]] = field(default_factory=list)   # place, power, size (mm)


def develop(scene: Scene, size: tuple[int, int], rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray]:
    """Linear RGB picture (height, width, 3) and the distance of each point (mm)."""
    width, height = size
    picture = np.tile(np.asarray(scene.background, np.float32), (height * width, 1))
    distance = np.full(height * width, 1e5, np.float32)
    shapes = scene.solids + scene.ground
    seen = nearest(shapes, scene.view, size)
    shadows = Shadows(scene.solids, rng, int(np.clip(0.35 * width, 160, 560)))   # finer than the picture shows is time lost
    lamps = [(toward, power, shadows.cast(toward)) for toward, power in scene.room.lamps(rng)]
    for start in range(0, len(seen.where), 400_000):
        part = slice(start, start + 400_000)
        piece = Seen(*(getattr(seen, name)[part] for name in ("where", "material", "at", "normal", "uv", "distance")))
        picture[piece.where] = _shade(piece, shapes, scene, shadows, lamps)
    distance[seen.where] = seen.distance
    if scene.glass:
        over = nearest(scene.glass, scene.view, size, distance.reshape(height, width))
        picture[over.where] = _glaze(over, scene, picture[over.where])
    return picture.reshape(height, width, 3), distance.reshape(height, width)


def _looks(seen: Seen, shapes: list[Shape]):
    count = len(seen.where)
    colour, bump, glow = (np.zeros((count, 3), np.float32) for _ in range(3))
    rough, metal = np.zeros(count, np.float32), np.zeros(count, np.float32)
    for number in np.unique(seen.material):
        own = np.flatnonzero(seen.material == number)
        look = shapes[number].material(seen.uv[own], seen.at[own])
        colour[own], rough[own], metal[own], glow[own], bump[own] = look.colour, look.rough, look.metal, look.glow, look.bump
    return colour, rough, metal[:, None], glow, bump


def _shade(seen: Seen, shapes, scene: Scene, shadows: Shadows, lamps) -> np.ndarray:
    colour, rough, metal, glow, bump = _looks(seen, shapes)
    normal = seen.normal + bump
    normal /= np.linalg.norm(normal, axis=-1, keepdims=True)
    light, full, got = np.zeros_like(colour), 1e-6, 0
    for toward, power, cast in lamps:
        fall = np.clip(normal @ toward.astype(np.float32), 0, None)
        reach = shadows.lit(seen.at, seen.normal, cast) * fall
        light += reach[:, None] * power.astype(np.float32) / np.pi
        got, full = got + reach * power.sum(), full + fall * power.sum()
    for place, power, _ in scene.small_lights:
        toward = np.asarray(place, np.float32) - seen.at
        far = np.linalg.norm(toward, axis=-1, keepdims=True)
        light += np.clip((normal * toward / far).sum(-1, keepdims=True), 0, None) * power.astype(np.float32) / far**2
    open_share = np.clip(got / full, 0, 1)[:, None]
    ray, facing = _mirrored(seen, scene.view, normal)
    base = 0.04 * (1 - metal) + colour * metal
    shine = base + (1 - base) * (1 - facing)**5 * (1 - rough[:, None])**2
    mirror = scene.room.around(ray) * 1.3
    for window in scene.room.windows:
        soft_area = window.half[0] * window.half[1] / ((window.half[0] + 0.5 * rough**1.6) * (window.half[1] + 0.5 * rough**1.6))
        mirror = mirror + (window.seen(ray, rough) * np.sqrt(soft_area))[:, None] * np.asarray(window.bright, np.float32)
    return glow + colour * (1 - metal) * light + shine * mirror * (0.25 + 0.75 * open_share)


def _mirrored(seen: Seen, view: View, normal: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    toward = np.asarray(view.eye, np.float32) - seen.at
    toward /= np.linalg.norm(toward, axis=-1, keepdims=True)
    facing = np.clip((normal * toward).sum(axis=-1, keepdims=True), 0, 1)
    return 2 * facing * normal - toward, facing


def _glaze(seen: Seen, scene: Scene, behind: np.ndarray) -> np.ndarray:
    """Glass: what is behind, dimmed a little, plus films on it and coated reflections of the windows from two surfaces."""
    colour, rough, _, glow, bump = _looks(seen, scene.glass)
    out = behind * (0.96 - np.clip(glow, 0, 0.6)) + glow
    outer, inner = np.array([0.042, 0.030, 0.062], np.float32), np.array([0.05, 0.045, 0.018], np.float32)
    middle = (seen.normal * np.array([-0.55, -0.55, 1.0], np.float32))
    for normal, tint in ((seen.normal + bump, outer), (middle, inner), (seen.normal * np.array([0.35, 0.35, 1], np.float32), outer * 0.4)):
        normal = normal / np.linalg.norm(normal, axis=-1, keepdims=True)
        ray, facing = _mirrored(seen, scene.view, normal)
        mirror = scene.room.around(ray) * 0.6
        for window in scene.room.windows:
            mirror = mirror + window.seen(ray, rough)[:, None] * np.asarray(window.bright, np.float32)
        out = out + (tint + 0.5 * (1 - facing)**5) * mirror * colour
    return out
