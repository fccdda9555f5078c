"""Shapes as loose triangles, in millimetres: rounded boxes, turned parts, bellows and flat cards."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np


@dataclass(frozen=True)
class Shape:
    """Triangles with a normal and a texture position (uv, mm unless said) at each corner, all of one material."""

    at: np.ndarray       # (triangles, 3 corners, 3)
    normal: np.ndarray   # (triangles, 3 corners, 3)
    uv: np.ndarray       # (triangles, 3 corners, 2)
    material: Callable

    def moved(self, offset: tuple[float, float, float] = (0, 0, 0), turn: np.ndarray | None = None) -> Shape:
        """The same shape, first turned about the origin, then moved."""
        turn = np.eye(3) if turn is None else turn
        return replace(self, at=self.at @ turn.T + np.asarray(offset, float), normal=self.normal @ turn.T)


def turned(x: float = 0, y: float = 0, z: float = 0) -> np.ndarray:
    """Rotation matrix: about x, then y, then z; angles in degrees."""
    (cx, cy, cz), (sx, sy, sz) = np.cos(np.radians([x, y, z])), np.sin(np.radians([x, y, z]))
    about_x = np.array([[1, 0, 0], [0, cx, -sx], [0, sx, cx]])
    about_y = np.array([[cy, 0, sy], [0, 1, 0], [-sy, 0, cy]])
    about_z = np.array([[cz, -sz, 0], [sz, cz, 0], [0, 0, 1]])
    return about_z @ about_y @ about_x


def placed(shapes: list[Shape], offset=(0, 0, 0), turn: np.ndarray | None = None) -> list[Shape]:
    """Every shape of a list turned and moved together."""
    return [shape.moved(offset, turn) for shape in shapes]


def sheet(at: np.ndarray, uv: np.ndarray, material: Callable, normal: np.ndarray | None = None) -> Shape:
    """A grid of points (m, n, 3) joined up; without normals every triangle is flat."""
    def split(grid: np.ndarray) -> np.ndarray:
        a, b, c, d = grid[:-1, :-1], grid[1:, :-1], grid[1:, 1:], grid[:-1, 1:]
        both = np.stack([np.stack([a, b, c], axis=-2), np.stack([a, c, d], axis=-2)], axis=-3)
        return both.reshape(-1, 3, grid.shape[-1])

    corners = split(at)
    if normal is None:
        flat = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        flat /= np.linalg.norm(flat, axis=-1, keepdims=True) + 1e-12
        normals = np.repeat(flat[:, None], 3, axis=1)
    else:
        normals = split(normal)
    return Shape(corners, normals, split(uv), material)


def joined(shapes: list[Shape]) -> Shape:
    """Shapes of one material as one shape."""
    return Shape(np.concatenate([s.at for s in shapes]), np.concatenate([s.normal for s in shapes]),
                 np.concatenate([s.uv for s in shapes]), shapes[0].material)


def box(size: tuple[float, float, float], material: Callable, offset=(0, 0, 0), *, bevel: float = 1.0,
        turn: np.ndarray | None = None) -> Shape:
    """A box about its middle with eased edges; u runs along the longer side of each face, as wood is cut."""
    half = np.asarray(size, float) / 2
    bevel = min(bevel, half.min() * 0.9)
    faces = []
    for axis in range(3):
        first, second = (axis + 1) % 3, (axis + 2) % 3
        for side in (-1, 1):
            steps = [np.array([-h, -h + bevel, h - bevel, h]) for h in (half[first], half[second])]
            a, b = np.meshgrid(*steps, indexing="ij")
            if side < 0:
                a, b = a[::-1], b[::-1]
                a = a[:, ::-1]
                b = b[:, ::-1]
            point = np.zeros((4, 4, 3))
            point[..., axis], point[..., first], point[..., second] = side * half[axis], a, b
            inner = np.clip(point, -(half - bevel), half - bevel)
            normal = point - inner
            normal /= np.linalg.norm(normal, axis=-1, keepdims=True)
            uv = np.stack([a, b] if half[first] >= half[second] else [b, a], axis=-1)
            shift = np.array([37.0 * axis + offset[0] * 1.7, 91.0 * axis + 13 * side + offset[1] * 1.3 + offset[2]])
            faces.append(sheet(inner + bevel * normal, uv + shift, material, normal))
    return joined(faces).moved(offset, turn)


def lathe(profile: list[tuple[float, float]], material: Callable, *, steps: int = 96, smooth: bool = False) -> Shape:
    """A part turned about z from (radius, z) points; u is the share of the turn (0 to 1), v the way along the profile, mm."""
    points = np.asarray(profile, float)
    angle = np.linspace(0, 2 * np.pi, steps + 1)
    along = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    slope = np.diff(points, axis=0)
    facing = np.stack([slope[:, 1], -slope[:, 0]], axis=-1)
    facing /= np.linalg.norm(facing, axis=-1, keepdims=True) + 1e-12
    corner = np.vstack([facing[:1], (facing[1:] + facing[:-1]), facing[-1:]])
    corner /= np.linalg.norm(corner, axis=-1, keepdims=True) + 1e-12
    pieces = []
    for k in range(len(points) - 1):
        radius, height = points[k:k + 2, 0][:, None], points[k:k + 2, 1][:, None]
        at = np.stack([radius * np.cos(angle), radius * np.sin(angle), height + 0 * angle], axis=-1)
        face = corner[k:k + 2] if smooth else np.repeat(facing[k:k + 1], 2, axis=0)
        normal = np.stack([face[:, :1] * np.cos(angle), face[:, :1] * np.sin(angle), face[:, 1:] + 0 * angle], axis=-1)
        uv = np.stack([np.broadcast_to(angle / (2 * np.pi), (2, steps + 1)),
                       np.repeat(along[k:k + 2, None], steps + 1, axis=1)], axis=-1)
        pieces.append(sheet(at, uv, material, normal))
    return joined(pieces)


def card(width: float, height: float, material: Callable, offset=(0, 0, 0), turn: np.ndarray | None = None) -> Shape:
    """A flat card facing +z; uv runs from 0,0 (top left) to 1,1 (bottom right), for pictures and lettering."""
    x, y = np.meshgrid(np.linspace(-width / 2, width / 2, 9), np.linspace(height / 2, -height / 2, 9), indexing="ij")
    uv = np.stack([x / width + 0.5, 0.5 - y / height], axis=-1)
    normal = np.broadcast_to(np.array([0.0, 0, 1]), (*x.shape, 3))
    return sheet(np.stack([x, y, 0 * x], axis=-1), uv, material, normal).moved(offset, turn)


def bellows(front: tuple[float, float], back: tuple[float, float], length: float, material: Callable, *, pleats: int = 16,
            depth: float = 8, sag: float = 0) -> Shape:
    """A pleated tube along z: `back` (width, height) at z=0, `front` at z=length; ridges stand `depth` above the valleys."""
    rings = []
    for i in range(2 * pleats + 1):
        share = i / (2 * pleats)
        out = depth / 2 if i % 2 else -depth / 2
        half_w = (back[0] * (1 - share) + front[0] * share) / 2 + out
        half_h = (back[1] * (1 - share) + front[1] * share) / 2 + out
        cut = 5 if i % 2 else 9
        ring = [(half_w, -half_h + cut), (half_w, half_h - cut), (half_w - cut, half_h), (-half_w + cut, half_h),
                (-half_w, half_h - cut), (-half_w, -half_h + cut), (-half_w + cut, -half_h), (half_w - cut, -half_h)]
        ring.append(ring[0])
        drop = sag * 4 * share * (1 - share)
        rings.append([(x, y - drop, share * length) for x, y in ring])
    at = np.asarray(rings)
    around = np.linspace(0, 4 * back[0], at.shape[1])
    along = np.arange(at.shape[0]) * depth
    uv = np.stack(np.meshgrid(along, around, indexing="ij"), axis=-1)
    return sheet(at[:, ::-1], uv[:, ::-1], material)
