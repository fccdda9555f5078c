"""Mounting: which shutter a hole is for, whether a board takes it, and what an adapter between two boards would have to do."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from barnlight.domain.uncertainty import positive, side_of

# How much larger than published a hole may be before the ring no longer holds; common practice, no source.
_LOOSE_MM = 1.0
# Holes of leaf shutters are cut this much, and at most so much, larger than the thread that goes through; from memory.
_OVER_THREAD_MM, _MOST_OVER_MM = 2.0, 3.5
_THREAD_SOURCE = "2 mm over the thread, as holes of usual shutters are; from memory"
# Least width of board left around a hole or a smaller board; common practice, no source.
_RIM_MM = 6.0
# Boards within this of each other count as one size; common practice, no source.
_SAME_MM = 0.5


def hole_size(hole_mm: Mapping[str, float], catalogue: Mapping) -> dict[str, Any]:
    """The leaf-shutter size a board hole {value, low, high} is for: {size or None, nearest, hole_mm: published, off_mm, source, sureness}.

    `size` only where the published hole lies within the interval widened by what the tables differ by. Raises ValueError.
    """
    positive(hole_mm["value"], "The hole, in mm,", 300)
    holes = [one for one in catalogue["standards"] if one["quantity"] == "board_hole"]
    nearest = min(holes, key=lambda one: abs(one["value"] - hole_mm["value"]))
    give = nearest["tolerance"] or 0
    fits = hole_mm["low"] - give <= nearest["value"] <= hole_mm["high"] + give
    size = nearest["applies"]["shutter_size"]
    return {
        "size": size if fits else None, "nearest": size, "hole_mm": nearest["value"], "off_mm": hole_mm["value"] - nearest["value"],
        "source": nearest["source"], "sureness": nearest["sureness"],
    }  # fmt: skip


def wanted_hole(size: str | None, thread_mm: float | None, catalogue: Mapping) -> dict[str, Any]:
    """The hole a lens wants: {mm, low_mm, high_mm: what will do, source, sureness}; published for its shutter `size`, else from its thread.

    Raises ValueError where neither is known.
    """
    found = next((one for one in catalogue["standards"] if one["quantity"] == "board_hole" and one["applies"].get("shutter_size") == size), None)
    if found is not None:
        give = found["tolerance"] or 0
        return {"mm": found["value"], "low_mm": found["value"] - give, "high_mm": found["value"] + _LOOSE_MM, "source": found["source"], "sureness": found["sureness"]}
    if thread_mm is None:
        raise ValueError("Say the size of the shutter, or measure its thread.")
    positive(thread_mm, "The thread, in mm,", 300)
    return {"mm": thread_mm + _OVER_THREAD_MM, "low_mm": thread_mm + 0.1, "high_mm": thread_mm + _MOST_OVER_MM, "source": _THREAD_SOURCE, "sureness": "from memory"}


def hole_takes(hole_mm: Mapping[str, float], wanted: Mapping) -> dict[str, Any]:
    """Whether a hole {value, low, high} is the one wanted: {fit: "fits", "bore" (too small), "ring" (too large) or "cannot_tell", by_mm}.

    `wanted` as `wanted_hole` gives it; `by_mm` is the hole less the one wanted. Raises ValueError.
    """
    positive(hole_mm["value"], "The hole, in mm,", 300)
    fit = {"within": "fits", "below": "bore", "above": "ring"}.get(side_of(hole_mm, wanted["low_mm"], wanted["high_mm"]), "cannot_tell")
    return {"fit": fit, "by_mm": hole_mm["value"] - wanted["mm"]}


def thickness_takes(thickness_mm: float, size: str, catalogue: Mapping) -> dict[str, Any] | None:
    """Whether a board of this thickness suits the thread of a shutter size; None where nothing is published for it.

    {fit: "fits", "too_thin", "too_thick", low_mm, high_mm, source, sureness}. Raises ValueError.
    """
    positive(thickness_mm, "The thickness of the board, in mm,", 60)
    found = next((one for one in catalogue["standards"] if one["quantity"] == "board_thickness_max" and one["applies"].get("shutter_size") == size), None)
    if found is None:
        return None
    fit = "too_thin" if thickness_mm < found["low"] else "too_thick" if thickness_mm > found["value"] else "fits"
    return {"fit": fit, "low_mm": found["low"], "high_mm": found["value"], "source": found["source"], "sureness": found["sureness"]}


def board_room(width_mm: float, height_mm: float, hole_mm: float) -> dict[str, Any]:
    """Whether a blank board is large enough for a hole of this size: {enough, rim_mm: board left at the narrowest}. Raises ValueError."""
    least = min(positive(width_mm, "The width of the board, in mm,", 1000), positive(height_mm, "The height of the board, in mm,", 1000))
    rim = (least - positive(hole_mm, "The hole, in mm,", 300)) / 2
    return {"enough": rim >= _RIM_MM, "rim_mm": rim}


def adapter(lens_board: Mapping[str, float], camera_board: Mapping[str, float]) -> dict[str, Any]:
    """What must stand between a board {width_mm, height_mm} on a lens and the board a camera takes.

    {need: "none" (the same size; corners and thickness still to be tried), "reducing" (an adapter board that carries the
    smaller one), "new_board" (the lens's board is too large to be carried: remount the lens), rim_mm: least frame left}.
    Raises ValueError.
    """
    for one in (lens_board, camera_board):
        positive(one["width_mm"], "The width of the board, in mm,", 1000)
        positive(one["height_mm"], "The height of the board, in mm,", 1000)
    # A board may be turned: long sides are held against long sides.
    mine, theirs = sorted((lens_board["width_mm"], lens_board["height_mm"])), sorted((camera_board["width_mm"], camera_board["height_mm"]))
    rims = [(their - my) / 2 for my, their in zip(mine, theirs, strict=True)]
    if all(math.fabs(rim) * 2 <= _SAME_MM for rim in rims):
        need = "none"
    else:
        need = "reducing" if min(rims) >= _RIM_MM else "new_board"
    return {"need": need, "rim_mm": min(rims)}
