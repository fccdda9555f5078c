"""From bright pieces to the points that are shown: score, clutter, merging, spot or streak (steps 6-8)."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from barnlight.domain import leak_doubts as doubts
from barnlight.domain.leak_maps import Maps
from barnlight.domain.leak_pieces import Piece, pieces_of


@dataclass(frozen=True)
class Candidate:
    """A piece that nothing speaks against, with its score (contrast in units of the noise) and its spread in the full picture."""

    piece: Piece
    score: float
    spread: float


def candidates_of(maps: Maps, full: np.ndarray, constants: dict) -> tuple[list[Candidate], float]:
    """(points kept, strongest first and merged, the score they had to reach)."""
    left = []
    for piece in pieces_of(maps, constants):
        if doubts.is_glow(piece, maps, constants):
            continue
        spot = doubts.spot_of(piece, maps, full, constants)
        score = score_of(piece, maps, constants["score"])
        if is_broad(piece, score, constants["broad"]) or doubts.is_hot_pixel(piece, spot, constants) or doubts.runs_on(piece, maps, constants):
            continue
        left.append(Candidate(piece, score, spot.spread))
    bar = bar_of([one.score for one in left], constants["score"])
    kept = [one for one in left if one.score >= bar and one.piece.peak_code >= constants["score"]["least_code"]]
    return merged(kept, constants["merge_px"]), bar


def score_of(piece: Piece, maps: Maps, constants: dict) -> float:
    """Contrast over the noise, or what of it stands above the surfaces nearby."""
    at = piece.peak_y, piece.peak_x
    return min(float(maps.contrast[at]), constants["excess_weight"] * float(maps.excess[at])) / float(maps.noise[at])


def is_broad(piece: Piece, score: float, constants: dict) -> bool:
    """A bit of table between pleats, a worn patch, a glint of the screen: light through a hole so broad would be far brighter."""
    return piece.width > constants["width"] and score < constants["score"]


def bar_of(scores: list[float], constants: dict) -> float:
    """The score a point must reach: higher where many pieces are left, for then the picture is cluttered."""
    above = sorted(score for score in scores if score > constants["clutter_above"])
    if len(above) < constants["clutter_from"]:
        return float(constants["bar"])
    floor, middle = constants["clutter_above"], float(np.median(above))
    return max(float(constants["bar"]), floor + (middle - floor) / math.log(2) * math.log(len(above) / constants["clutter_left"]))


def merged(candidates: list[Candidate], within_px: float) -> list[Candidate]:
    """Strongest first; a weaker one near a stronger one only makes its box larger."""
    kept: list[Candidate] = []
    for one in sorted(candidates, key=lambda one: (-one.score, one.piece.y, one.piece.x)):
        near = next((index for index, other in enumerate(kept) if _gap(other.piece.box, one.piece.box) <= within_px), None)
        if near is None:
            kept.append(one)
        else:
            a, b = kept[near].piece.box, one.piece.box
            box = min(a[0], b[0]), min(a[1], b[1]), max(a[2], b[2]), max(a[3], b[3])
            kept[near] = replace(kept[near], piece=replace(kept[near].piece, box=box))
    return kept


def _gap(a: tuple[int, int, int, int], b: tuple[int, int, int, int]) -> float:
    """Distance between two boxes, px; 0 where they meet."""
    return math.hypot(max(0, a[0] - b[2], b[0] - a[2]), max(0, a[1] - b[3], b[1] - a[3]))


def is_streak(piece: Piece, constants: dict) -> bool:
    return piece.length >= constants["elongation"] * piece.width and piece.length >= constants["length"]


def all_parallel(pieces: list[Piece], constants: dict) -> bool:
    """Streaks alike in length and direction: the phone moved, and drew every point so."""
    limits = constants["parallel"]
    streaks = [piece for piece in pieces if piece.length >= limits["length"] and is_streak(piece, constants["streak"])]
    if len(streaks) < limits["least"] or len(streaks) < limits["share"] * len(pieces):
        return False
    across, down = (sum(turn(2 * piece.angle) for piece in streaks) / len(streaks) for turn in (math.cos, math.sin))
    lengths = [piece.length for piece in streaks]
    return math.hypot(across, down) > limits["agreement"] and max(lengths) < limits["length_ratio"] * min(lengths)
