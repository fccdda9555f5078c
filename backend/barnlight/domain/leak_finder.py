"""Bright points in one photo of a dark room, and whether the photo can be judged: the whole way from pixels to candidates.

A point is a candidate for a light leak: one photo cannot tell a pinhole from a highlight on metal. Nothing found means nothing
brighter than the photo's own limit. Constants were tuned on rendered pictures only.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from barnlight.domain import leak_filters as filters
from barnlight.domain import leak_points as points
from barnlight.domain.leak_maps import Maps, maps_of
from barnlight.domain.leak_points import Candidate
from barnlight.domain.leak_reduce import area_reduced, reduced_size
from barnlight.domain.leak_sharpness import Sharpness, sharpness_of
from barnlight.domain.rounding import half_away


def find_leaks(full: np.ndarray, constants: dict) -> dict[str, Any]:
    """The candidates of an upright photo.

    `full`: uint8 RGB (height, width, 3); `constants`: the catalogue's `leaks`. Returns {usable, reasons, sharpness, points,
    limit_code, algorithm}: a point is {x, y, box: [x0, y0, x1, y1], kind: "spot" or "streak", strength, peak_code} in pixels
    of the photo, strongest first; strength is contrast over the local noise, codes are sRGB levels 0-255; limit_code is about
    the faintest point that could have been marked. Raises ValueError for anything but a picture.
    """
    if full.ndim != 3 or full.shape[2] != 3 or full.dtype != np.uint8 or 0 in full.shape:
        raise ValueError("A picture of red, green and blue levels 0-255 is needed.")
    height, width = full.shape[:2]
    working = area_reduced(full, reduced_size(width, height, constants["working"]["long_edge"]))
    return find_in(working, full, constants)


def find_in(working: np.ndarray, full: np.ndarray, constants: dict) -> dict[str, Any]:
    """What `find_leaks` returns, of a picture whose reduced form is given."""
    maps = maps_of(working, constants)
    if is_bright(maps, constants["light"]):
        return _result(["too_much_light"], "cannot_tell", [], None, constants)
    found, bar = points.candidates_of(maps, full, constants)
    if is_black(maps, bool(found), constants["light"]):
        return _result(["black"], "cannot_tell", [], None, constants)
    sharpness = _sharpness(found, maps, constants)
    limit = min(255.0, max(float(constants["score"]["least_code"]), bar * float(np.median(maps.noise[::16, ::16]))))
    scale = full.shape[1] / working.shape[1], full.shape[0] / working.shape[0]
    shown = [_point(one, scale, constants["streak"]) for one in found]
    return _result([sharpness] if sharpness in ("moved", "blurred") else [], sharpness, shown, limit, constants)


def is_bright(maps: Maps, constants: dict) -> bool:
    """Too much light to look for anything: from the lamp or the room, which cannot be told apart well."""
    return filters.rank_level(maps.luma, constants["bright_share"], constants["steps_per_code"], 255) > constants["bright_code"]


def is_black(maps: Maps, any_found: bool, constants: dict) -> bool:
    """Nothing to judge by: no surface shows, and nothing at all or only the camera's own hot pixels."""
    return maps.surface_code < constants["black_code"] and (not any_found or float(maps.smooth.max()) < constants["black_code"])


def _sharpness(found: list[Candidate], maps: Maps, constants: dict) -> Sharpness:
    proof = constants["sharpness"]["proof"]
    if points.all_parallel([one.piece for one in found], constants):
        return "moved"
    # A small sharp point proves the focus better than any edge.
    if any(
        one.piece.width <= proof["width"] and one.piece.length <= proof["length"] and one.score >= proof["score"] and one.spread < proof["spread"]
        for one in found
    ):
        return "sharp"
    return sharpness_of(maps.luma, constants)


def _point(one: Candidate, scale: tuple[float, float], streak: dict) -> dict[str, Any]:
    """In pixels of the photo: a pixel's middle lies half a pixel in."""
    piece, (across, down) = one.piece, scale
    x0, y0, x1, y1 = piece.box
    return {
        "x": half_away((piece.x + 0.5) * across - 0.5, 2),
        "y": half_away((piece.y + 0.5) * down - 0.5, 2),
        "box": [math.floor(edge + 0.5) for edge in (x0 * across, y0 * down, (x1 + 1) * across - 1, (y1 + 1) * down - 1)],
        "kind": "streak" if points.is_streak(piece, streak) else "spot",
        "strength": half_away(one.score, 1),
        "peak_code": half_away(piece.peak_code, 1),
    }


def _result(reasons: list[str], sharpness: Sharpness, shown: list[dict], limit: float | None, constants: dict) -> dict[str, Any]:
    return {
        "usable": not reasons,
        "reasons": reasons,
        "sharpness": sharpness,
        "points": shown,
        "limit_code": None if limit is None else half_away(limit, 1),
        "algorithm": constants["algorithm"],
    }
