"""Two photos of the same piece, one with the lamp off or after the phone moved: which bright places are the lamp's light.

With the lamp off a leak goes, while reflections of the room and the camera's hot pixels stay. When the phone moves, a leak moves
with the piece, a hot pixel stays in the frame, a reflection does neither. Arithmetic only: not measured on photos.
"""

from __future__ import annotations

import math
from typing import Any

from barnlight.domain.rounding import half_away

# Shares of the long edge.
STILL = 0.006  # a place seen again where it was, the phone held still
FRAME = 0.0015  # a hot pixel does not move at all
TOGETHER = 0.015  # a hand's turn and a folded surface leave this much
LEAST_MOVE = 0.02  # less tells nothing
SCALES = (0.8, 1.25)
MOST_TURN = math.radians(25)


def settle(first: dict, second: dict, how: str) -> list[dict[str, Any]]:
    """What the second photo says of each point of the first, in their order.

    `first`, `second`: {width, height, points: [{x, y}]} in px; `how`: "lamp_off" or "moved". Each answer is {said, at}: "gone" or
    "stays" for a lamp turned off; for a moved phone "follows", "stays_in_frame", "not_seen_again", or "cannot_tell" where no
    common movement of two points is found. `at`: where it is in the second photo, shares of width and height, or None. Raises
    ValueError for another word.
    """
    ones, others = _placed(first), _placed(second)
    if how == "lamp_off":
        near = [_nearest(one, others, STILL) for one in ones]
        return [_answer("gone" if index is None else "stays", index, second) for index in near]
    if how != "moved":
        raise ValueError(f'"{how}" is no way of taking a second photo.')
    motion = _motion(ones, others)
    return [_answer(*_moved(one, others, motion), second) for one in ones]


def _moved(one: tuple, others: list[tuple], motion: tuple | None) -> tuple[str, int | None]:
    in_frame = _nearest(one, others, FRAME)
    if motion is None:
        return ("stays_in_frame", in_frame) if in_frame is not None and not others[1:] else ("cannot_tell", None)
    expected = _carried(one, motion)
    there = _nearest(expected, others, TOGETHER)
    if in_frame is not None and math.dist(one, expected) > TOGETHER:
        return "stays_in_frame", in_frame
    return ("not_seen_again", None) if there is None else ("follows", there)


def _motion(ones: list[tuple], others: list[tuple]) -> tuple[float, float, float, float] | None:
    """(a, b, dx, dy) of the turn, scale and shift that carry most points over, at least two; None if there is none that is large enough."""
    best, most = None, (1, 0.0)
    for i, one in enumerate(ones):
        for j, two in enumerate(ones):
            if i >= j or math.dist(one, two) < LEAST_MOVE:
                continue
            for k, first in enumerate(others):
                for n, last in enumerate(others):
                    motion = _carry(one, two, first, last) if k != n else None
                    if motion is None or max(math.dist(at, _carried(at, motion)) for at in ones) < LEAST_MOVE:
                        continue
                    off = [min(math.dist(_carried(at, motion), other) for other in others) for at in ones]
                    hits = [far for far in off if far <= TOGETHER]
                    if (len(hits), -sum(hits)) > most:
                        best, most = motion, (len(hits), -sum(hits))
    return best


def _carry(one: tuple, two: tuple, first: tuple, last: tuple) -> tuple[float, float, float, float] | None:
    """The turn, scale and shift that carry `one` to `first` and `two` to `last`, if a hand could have made it."""
    (ux, uy), (vx, vy) = (two[0] - one[0], two[1] - one[1]), (last[0] - first[0], last[1] - first[1])
    square = ux * ux + uy * uy
    a, b = (ux * vx + uy * vy) / square, (ux * vy - uy * vx) / square
    if not SCALES[0] <= math.hypot(a, b) <= SCALES[1] or abs(math.atan2(b, a)) > MOST_TURN:
        return None
    return a, b, first[0] - (a * one[0] - b * one[1]), first[1] - (b * one[0] + a * one[1])


def _carried(at: tuple, motion: tuple[float, float, float, float]) -> tuple[float, float]:
    a, b, dx, dy = motion
    return a * at[0] - b * at[1] + dx, b * at[0] + a * at[1] + dy


def _placed(photo: dict) -> list[tuple[float, float]]:
    """Points in shares of the long edge, so that a circle stays one."""
    longest = max(photo["width"], photo["height"])
    return [((point["x"] + 0.5) / longest, (point["y"] + 0.5) / longest) for point in photo["points"]]


def _nearest(at: tuple, others: list[tuple], within: float) -> int | None:
    far = [math.dist(at, other) for other in others]
    best = min(range(len(far)), key=far.__getitem__, default=None)
    return best if best is not None and far[best] <= within else None


def _answer(said: str, index: int | None, photo: dict) -> dict[str, Any]:
    if index is None:
        return {"said": said, "at": None}
    point = photo["points"][index]
    return {"said": said, "at": {"x": half_away((point["x"] + 0.5) / photo["width"], 4), "y": half_away((point["y"] + 0.5) / photo["height"], 4)}}
