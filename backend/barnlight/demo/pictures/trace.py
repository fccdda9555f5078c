"""From shapes to what each picture point sees: projection, nearest triangle, and shadows by casting surface points."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.ndimage import maximum_filter

from barnlight.demo.pictures.mesh import Shape

NEAR_MM = 20.0   # triangles reaching nearer to the eye than this are left out


@dataclass(frozen=True)
class View:
    """Where the camera stands and looks (mm) and its angle of view across the picture (degrees)."""

    eye: tuple[float, float, float]
    target: tuple[float, float, float]
    angle_deg: float = 35
    roll_deg: float = 0

    def axes(self) -> np.ndarray:
        """Rows: right, up, toward the viewer."""
        back = np.subtract(self.eye, self.target).astype(float)
        back /= np.linalg.norm(back)
        up = np.array([0.0, 1, 0]) if abs(back[1]) < 0.999 else np.array([0.0, 0, -1])
        right = np.cross(up, back)
        right /= np.linalg.norm(right)
        up = np.cross(back, right)
        roll = np.radians(self.roll_deg)
        return np.stack([np.cos(roll) * right + np.sin(roll) * up, np.cos(roll) * up - np.sin(roll) * right, back])

    def project(self, points: np.ndarray, size: tuple[int, int]) -> np.ndarray:
        """Picture x, y (pixels, y down) and distance along the line of sight (mm) for points (..., 3)."""
        local = (points - np.asarray(self.eye)) @ self.axes().T
        ahead = -local[..., 2]
        scale = size[0] / 2 / np.tan(np.radians(self.angle_deg / 2))
        safe = np.where(ahead > 1e-6, ahead, 1e-6)
        return np.stack([size[0] / 2 + scale * local[..., 0] / safe, size[1] / 2 - scale * local[..., 1] / safe, ahead], axis=-1)


@dataclass(frozen=True)
class Seen:
    """What the picture points in `where` (flat indices) see: material number, place, normal, uv, distance."""

    where: np.ndarray
    material: np.ndarray
    at: np.ndarray
    normal: np.ndarray
    uv: np.ndarray
    distance: np.ndarray


def nearest(shapes: list[Shape], view: View, size: tuple[int, int], behind: np.ndarray | None = None) -> Seen:
    """The nearest surface at each picture point; with `behind` (distances) only what stands in front of those."""
    width, height = size
    at = np.concatenate([s.at for s in shapes])
    flat = view.project(at, size)
    inverse = 1 / np.maximum(flat[..., 2], 1e-6)
    owner = np.full((height, width), -1, np.int32)
    front = np.zeros((height, width), np.float32) if behind is None else (1 / behind).astype(np.float32)
    for t in np.flatnonzero(flat[..., 2].min(axis=1) > NEAR_MM):
        (x0, y0), (x1, y1), (x2, y2) = flat[t, :, :2].tolist()
        near = inverse[t].tolist()
        area = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)
        if abs(area) < 1e-9:
            continue
        left, right = max(int(min(x0, x1, x2)), 0), min(int(max(x0, x1, x2)) + 1, width - 1)
        top, low = max(int(min(y0, y1, y2)), 0), min(int(max(y0, y1, y2)) + 1, height - 1)
        if left > right or top > low:
            continue
        x = np.arange(left, right + 1, dtype=np.float32) + 0.5
        y = (np.arange(top, low + 1, dtype=np.float32) + 0.5)[:, None]
        w1 = ((x - x0) * (y2 - y0) - (x2 - x0) * (y - y0)) / area
        w2 = ((x1 - x0) * (y - y0) - (x - x0) * (y1 - y0)) / area
        w0 = 1 - w1 - w2
        depth = w0 * near[0] + w1 * near[1] + w2 * near[2]
        spot = (slice(top, low + 1), slice(left, right + 1))
        hit = (np.minimum(np.minimum(w0, w1), w2) >= -1e-4) & (depth > front[spot])
        np.copyto(front[spot], depth, where=hit)
        np.copyto(owner[spot], t, where=hit)
    return _read_off(shapes, at, flat, inverse, owner, view)


def _read_off(shapes, at, flat, inverse, owner, view) -> Seen:
    where = np.flatnonzero(owner.ravel() >= 0)
    tri = owner.ravel()[where]
    y, x = np.divmod(where, owner.shape[1])
    x, y = x + 0.5, y + 0.5
    a, b, c = (flat[tri, k, :2] for k in range(3))
    area = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (c[:, 0] - a[:, 0]) * (b[:, 1] - a[:, 1])
    w1 = ((x - a[:, 0]) * (c[:, 1] - a[:, 1]) - (c[:, 0] - a[:, 0]) * (y - a[:, 1])) / area
    w2 = ((b[:, 0] - a[:, 0]) * (y - a[:, 1]) - (x - a[:, 0]) * (b[:, 1] - a[:, 1])) / area
    weight = np.stack([1 - w1 - w2, w1, w2], axis=-1) * inverse[tri]
    total = weight.sum(axis=-1, keepdims=True)
    weight = (weight / total).astype(np.float32)

    def mix(values: np.ndarray) -> np.ndarray:
        return sum(weight[:, k:k + 1] * values[tri, k].astype(np.float32) for k in range(3))

    normal = mix(np.concatenate([s.normal for s in shapes]))
    normal /= np.linalg.norm(normal, axis=-1, keepdims=True) + 1e-9
    place = mix(at)
    toward = np.asarray(view.eye, np.float32) - place
    normal[(normal * toward).sum(axis=-1) < 0] *= -1
    number = np.repeat(np.arange(len(shapes)), [len(s.at) for s in shapes])
    return Seen(where, number[tri], place, normal, mix(np.concatenate([s.uv for s in shapes])), 1 / total[:, 0])


class Shadows:
    """Shadow casting by surface points: quick, soft-edged, and good to about 2.5 of `cells` across the scene."""

    def __init__(self, casters: list[Shape], rng: np.random.Generator, cells: int = 560) -> None:
        self._cells = cells
        at = np.concatenate([s.at for s in casters])
        self._middle = (at.reshape(-1, 3).min(axis=0) + at.reshape(-1, 3).max(axis=0)) / 2
        self._radius = float(np.linalg.norm(at.reshape(-1, 3) - self._middle, axis=-1).max()) * 1.01
        self._cell = 2 * self._radius / self._cells
        area = np.linalg.norm(np.cross(at[:, 1] - at[:, 0], at[:, 2] - at[:, 0]), axis=-1) / 2
        count = np.ceil(area / self._cell**2 * 1.6).astype(int)
        tri = np.repeat(np.arange(len(at)), count)
        a, b = rng.random((2, len(tri), 1))
        over = a + b > 1
        a, b = np.where(over, 1 - a, a), np.where(over, 1 - b, b)
        self._points = (at[tri, 0] + a * (at[tri, 1] - at[tri, 0]) + b * (at[tri, 2] - at[tri, 0]) - self._middle).astype(np.float32)
        self._rng = rng

    def cast(self, toward: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """The nearest points as the light from `toward` sees them: its frame and a map of heights, for `lit`."""
        side = np.cross(toward, [0.31, 0.2, 0.93])
        side /= np.linalg.norm(side)
        frame = np.stack([side, np.cross(toward, side), toward]).astype(np.float32)
        cast = self._points @ frame.T
        cells = ((cast[:, :2] + self._radius) / self._cell).astype(np.int32).clip(0, self._cells - 1)
        height = np.full(self._cells**2, -np.inf, np.float32)
        np.maximum.at(height, cells[:, 1] * self._cells + cells[:, 0], cast[:, 2])
        return frame, maximum_filter(height.reshape(self._cells, self._cells), 3)

    def lit(self, at: np.ndarray, normal: np.ndarray, cast: tuple[np.ndarray, np.ndarray]) -> np.ndarray:
        """1 where the light of `cast` reaches, 0 where something stands between; edges are dithered soft."""
        frame, height = cast
        own = (at - self._middle.astype(np.float32) + normal * np.float32(self._cell * 1.5)) @ frame.T
        shaken = self._rng.random((len(own), 2), np.float32)
        cell = ((own[:, :2] + self._radius) / self._cell + 3.2 * shaken - 1.6).astype(np.int32)
        x, y = cell[:, 0], cell[:, 1]
        inside = (np.minimum(x, y) >= 0) & (np.maximum(x, y) < self._cells)
        above = height[y.clip(0, self._cells - 1), x.clip(0, self._cells - 1)]
        return (~((above > own[:, 2] + 2.5 * self._cell) & inside)).astype(np.float32)
