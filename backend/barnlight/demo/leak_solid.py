"""Bellows, frames and holders of the leak pictures as flat faces in space, drawn far to near; which face is where, in pixels."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
from PIL import Image, ImageDraw


@dataclass(frozen=True)
class Face:
    """A flat face: corners in space (n, 3), how light it is, and what it is of."""

    corners: np.ndarray
    albedo: float
    of: str  # "leather", "frame", "metal", "table"


@dataclass
class Solid:
    """Faces, the ridges between pleats, and the corners where they meet; lines run between two points in space."""

    faces: list[Face] = field(default_factory=list)
    ridges: list[np.ndarray] = field(default_factory=list)  # (2, 3)
    knees: list[np.ndarray] = field(default_factory=list)  # (3,)


@dataclass(frozen=True)
class Eye:
    """A pinhole camera: where it is, what it looks at, focal length in px, centre of the picture."""

    place: np.ndarray
    axes: np.ndarray  # rows: right, down, ahead
    focal_px: float
    centre: tuple[float, float]

    @classmethod
    def looking(cls, place: np.ndarray, at: np.ndarray, roll: float, focal_px: float, size: tuple[int, int]) -> Eye:
        ahead = (at - place) / np.linalg.norm(at - place)
        right = np.cross(ahead, [0, 1, 0])
        right /= np.linalg.norm(right)
        down = np.cross(ahead, right)
        turned = np.array([np.cos(roll) * right + np.sin(roll) * down, np.cos(roll) * down - np.sin(roll) * right, ahead])
        return cls(place, turned, focal_px, (size[0] / 2, size[1] / 2))

    def project(self, points: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """(x, y in px (n, 2), distance ahead (n,)); points behind the eye are put just before it."""
        local = (points - self.place) @ self.axes.T
        ahead = np.maximum(local[:, 2], 1.0)
        return local[:, :2] / ahead[:, None] * self.focal_px + self.centre, local[:, 2]


def tube(rng: np.random.Generator, pleats: int, length: float, back: float, front: float, depth: float, albedo: float) -> Solid:
    """A tapering zigzag bellows along z that sags between its ends, `back` and `front` half as wide as its ends."""
    solid = Solid()
    rings = []
    for index in range(2 * pleats + 1):
        share = index / (2 * pleats)
        half = back + (front - back) * share + (depth if index % 2 else -depth) / 2
        middle = np.array([0.0, -0.02 * length * 4 * share * (1 - share), share * length])
        corners = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * half * rng.normal(1, 0.006, (4, 2))
        rings.append(np.column_stack([corners, np.zeros(4)]) + middle)
    for index, (one, other) in enumerate(pairwise(rings)):
        for side in range(4):
            after = (side + 1) % 4
            solid.faces.append(Face(np.array([one[side], one[after], other[after], other[side]]), albedo * rng.uniform(0.85, 1.15), "leather"))
            if index:
                solid.ridges.append(np.array([one[side], one[after]]))
                solid.knees.append(one[side])
    return solid


def block(centre: tuple[float, float, float], size: tuple[float, float, float], albedo: float, of: str) -> Solid:
    """A box."""
    low, high = np.array(centre) - np.array(size) / 2, np.array(centre) + np.array(size) / 2
    corners = np.array([[(low, high)[i][0], (low, high)[j][1], (low, high)[k][2]] for i in (0, 1) for j in (0, 1) for k in (0, 1)])
    sides = ((0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3))
    return Solid([Face(corners[list(side)], albedo, of) for side in sides])


def table(height: float, albedo: float, *, upright: bool = False) -> Solid:
    """A wide plane in tiles, so that those behind the eye can be left out; `upright` faces z instead of y."""
    solid = Solid()
    edges = np.linspace(-1500, 1500, 21)
    for x, right in pairwise(edges):
        for z, far in pairwise(edges):
            corners = np.array([[x, height, z], [right, height, z], [right, height, far], [x, height, far]])
            solid.faces.append(Face(corners[:, [0, 2, 1]] if upright else corners, albedo, "table"))
    return solid


@dataclass(frozen=True)
class Drawn:
    """Which face each pixel shows, 0 for none (int32); shading of each face by its number; what it is of."""

    numbers: np.ndarray
    shade: np.ndarray
    of: list[str]

    def mask(self, of: str) -> np.ndarray:
        return np.isin(self.numbers, [number for number, what in enumerate(self.of) if what == of])


def draw(faces: list[Face], eye: Eye, size: tuple[int, int], light_from: np.ndarray) -> Drawn:
    """Painted far to near: each face lit by a broad light from one side and a little from all."""
    placed = []
    for face in faces:
        _, ahead = eye.project(face.corners)
        if ahead.min() > 1:
            placed.append((float(ahead.mean()), face))
    placed.sort(key=lambda one: -one[0])
    picture = Image.new("I", size, 0)
    pen = ImageDraw.Draw(picture)
    shade, kinds = [0.0], ["none"]
    for number, (_, face) in enumerate(placed, 1):
        points, _ = eye.project(face.corners)
        pen.polygon([tuple(point) for point in points.tolist()], fill=number)
        normal = np.cross(face.corners[1] - face.corners[0], face.corners[2] - face.corners[0])
        normal /= np.linalg.norm(normal) + 1e-9
        if normal @ (eye.place - face.corners.mean(axis=0)) < 0:
            normal = -normal
        shade.append(face.albedo * (0.3 + 0.7 * max(0.0, float(normal @ light_from))))
        kinds.append(face.of)
    return Drawn(np.asarray(picture, np.int32), np.array(shade, np.float32), kinds)
