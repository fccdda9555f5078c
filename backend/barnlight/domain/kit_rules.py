"""The rules of fit between two things, one question each: does it cover, reach infinity, go on the board, pass the front, seat, focus."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from barnlight.domain.aperture import focal_figure
from barnlight.domain.bellows import reach
from barnlight.domain.coverage import image_area, room
from barnlight.domain.focus import film_plane, focus_error
from barnlight.domain.focus_blur import circle_of_confusion, gone_at
from barnlight.domain.kit_facts import fact_figure
from barnlight.domain.lengths import show_length
from barnlight.domain.mounting import adapter, board_room, hole_takes, wanted_hole
from barnlight.domain.rounding import fixed

# Where only the nominal size of a format is known, the picture may be this much smaller; common practice, no source.
_TRUE_SHARE = 0.93
# The deepest recess and the longest tube a board is made with, in mm; common practice, no source.
_RECESS_MM, _TUBE_MM = 40, 60
_USUAL_STOP = 5.66
_FILM_MM = 0.18


def answer(about: str, verdict: str, reason: str, figure: str | None = None) -> dict[str, Any]:
    """One question answered: {about, verdict: "fits", "fits_if", "does_not_fit" or "not_known", reason, figure, missing}."""
    return {"about": about, "verdict": verdict, "reason": reason, "figure": figure, "missing": []}


def covers(camera: Mapping, lens: Mapping, catalogue: Mapping, unit: str) -> dict[str, Any]:
    """Whether the lens's image circle covers the camera's picture, from `format` and `circle_mm`; `unit` is "mm" or "in"."""
    area = image_area(camera["format"], catalogue)
    left = room(lens["circle_mm"], area["width_mm"], area["height_mm"])
    need = f"{show_length(lens['circle_mm'], unit)} against {show_length(area['diagonal_mm'], unit)}"
    if left["covers"]:
        return answer("covers", "fits", f"It covers, with {show_length(left['rise_mm'], unit)} of rise in an upright picture.", need)
    if not area["true"] and lens["circle_mm"] >= area["diagonal_mm"] * _TRUE_SHARE:
        return answer("covers", "fits_if", "It covers if the holder takes a little off the picture, as most do. Look at the corners of the screen, stopped down.", need)
    return answer("covers", "does_not_fit", "The corners stay dark: the image circle is smaller than the picture.", need)


def infinity(camera: Mapping, lens: Mapping, catalogue: Mapping, unit: str) -> dict[str, Any]:
    """Whether the camera's draw reaches infinity with the lens, from `shortest_mm`, `longest_mm`, `focal_mm` and `flange_mm`."""
    focal = focal_figure(lens["focal_mm"], catalogue)
    flange = fact_figure(lens, "flange_mm", catalogue) if lens.get("flange_mm") else None
    shortest, longest = (fact_figure(camera, name, catalogue) for name in ("shortest_mm", "longest_mm"))
    got = reach(shortest, longest, focal, flange)
    need = (flange or focal)["value"]
    span = f"{show_length(need, unit)} wanted, {show_length(shortest['value'], unit)} to {show_length(longest['value'], unit)} there"
    if got["infinity"] == "yes":
        near = f"nearest from {show_length(got['nearest_mm'], unit)}" if got["nearest_mm"] else "infinity only"
        return answer("infinity", "fits", f"It reaches infinity; {near}, {fixed(got['magnification'] or 0, 2)} times life size.", span)
    if got["infinity"] == "cannot_tell":
        return answer("infinity", "fits_if", "It is too close to say: try it on a far edge.", span)
    if got["infinity"] == "cannot_close_up":
        lack = shortest["value"] - need
        if lack > _RECESS_MM:
            return answer("infinity", "does_not_fit", "The bellows cannot be pushed in far enough for infinity.", span)
        return answer("infinity", "fits_if", f"It reaches infinity on a board recessed by {show_length(lack, unit)}.", span)
    lack = need - longest["value"]
    if lack > _TUBE_MM:
        return answer("infinity", "does_not_fit", "The bellows cannot be drawn out far enough for infinity.", span)
    return answer("infinity", "fits_if", f"It reaches infinity on a board standing {show_length(lack, unit)} forward.", span)


def board(camera: Mapping, lens: Mapping, catalogue: Mapping, unit: str) -> dict[str, Any]:
    """Whether the lens goes on the camera's board: from both boards' sizes, or from `shutter_size` or `thread_mm`."""
    mine = {"width_mm": camera["board_width_mm"], "height_mm": camera["board_height_mm"]}
    size = f"{show_length(mine['width_mm'], unit)} × {show_length(mine['height_mm'], unit)}"
    if lens.get("board_width_mm") and lens.get("board_height_mm"):
        need = adapter({"width_mm": lens["board_width_mm"], "height_mm": lens["board_height_mm"]}, mine)
        if need["need"] == "none":
            return answer("board", "fits_if", "The boards are of one size; try corners, thickness and rib.", size)
        if need["need"] == "reducing":
            return answer("board", "fits_if", f"With an adapter board that carries the smaller one in a frame of {show_length(need['rim_mm'], unit)}.", size)
    if not (lens.get("shutter_size") or lens.get("thread_mm")):
        return answer("board", "fits_if", "Its board is too large to be carried: what it holds must go on a board of this camera.", size)
    wanted = wanted_hole(lens.get("shutter_size"), lens.get("thread_mm"), catalogue)["mm"]
    if not board_room(mine["width_mm"], mine["height_mm"], wanted)["enough"]:
        return answer("board", "does_not_fit", "The camera's board is too small for a hole of this size.", size)
    return answer("board", "fits_if", f"On a board of this camera with a hole of about {show_length(wanted, unit)}.", size)


def passes(camera: Mapping, lens: Mapping, unit: str) -> dict[str, Any]:
    """Whether the rear group passes the opening behind the board, from `rear_width_mm` and `front_opening_mm`."""
    need = f"{show_length(lens['rear_width_mm'], unit)} through {show_length(camera['front_opening_mm'], unit)}"
    if lens["rear_width_mm"] + 1 <= camera["front_opening_mm"]:
        return answer("passes", "fits", "The rear group passes the front of the camera.", need)
    return answer("passes", "does_not_fit", "The rear group is too wide for the opening behind the board.", need)


def film(camera: Mapping, holders: Mapping, catalogue: Mapping) -> dict[str, Any]:
    """Whether holders are for the camera's format, from `format` and `film_size`; look-alike formats share one outside."""
    formats = {one["id"]: one for one in catalogue["formats"]}
    mine, theirs = formats.get(camera["format"]), formats.get(holders["film_size"])
    if mine is None or theirs is None:
        return answer("film", "not_known", "The format is not one of the list: hold one of the holders to the camera.")
    words = f"{theirs['title']} for {mine['title']}"
    if mine is theirs:
        return answer("film", "fits", "They are for the camera's own format.", words)
    if (holders.get("family") or theirs["family"]) == mine["family"]:
        return answer("film", "fits_if", "They share the outside of the camera's format, but take film of another size.", words)
    return answer("film", "does_not_fit", "They are for another format, with another outside.", words)


def seats(camera: Mapping, holders: Mapping) -> dict[str, Any]:
    """Whether the form of holder is the one the back takes, from `holder_form` and `form`."""
    if camera["holder_form"] == holders["form"]:
        return answer("seats", "fits_if", "They are of the form the back takes; try one on its rib.")
    return answer("seats", "does_not_fit", "The back takes holders of another form.")


def focuses(camera: Mapping, holders: Mapping, catalogue: Mapping, unit: str) -> dict[str, Any]:
    """Whether film in these holders lies where the camera focuses, from `glass_depth_mm`, `depth_mm` and `format`.

    Film of 0.18 mm, disc of diagonal/1750. Where the film does not lie on the divider a depth says nothing.
    """
    if holders.get("registers_on") not in (None, "divider"):
        return answer("focuses", "not_known", "Their film does not lie on the divider, so its depth says nothing. Focus with film in one of them.")
    screen, divider = fact_figure(camera, "glass_depth_mm", catalogue), fact_figure(holders, "depth_mm", catalogue)
    found = focus_error(screen, film_plane(divider, _FILM_MM))
    circle = circle_of_confusion(camera["format"], "circle_of_confusion.1750", catalogue)["mm"]
    gone = gone_at(found["error_mm"], (), circle)["n"]
    off = f"{fixed(found['error_mm']['value'], 2).replace('-', '−')} mm"
    if gone["high"] <= _USUAL_STOP:
        return answer("focuses", "fits", "Film lies where the screen focuses, as far as it shows at f/5.6.", off)
    least = f"f/{fixed(gone['value'], 1)}"
    return answer("focuses", "fits_if", f"Stopped down to {least}, or with the screen moved by {show_length(abs(found['error_mm']['value']), unit)}.", off)


def hole(lens: Mapping, loose_board: Mapping, catalogue: Mapping, unit: str) -> dict[str, Any]:
    """Whether a loose board's hole takes the lens, from `hole_mm` and `shutter_size` or `thread_mm`."""
    wanted = wanted_hole(lens.get("shutter_size"), lens.get("thread_mm"), catalogue)
    takes = hole_takes(fact_figure(loose_board, "hole_mm", catalogue), wanted)
    words = f"{show_length(loose_board['hole_mm'], unit)} there, {show_length(wanted['mm'], unit)} wanted"
    by = show_length(abs(takes["by_mm"]), unit)
    if takes["fit"] == "fits":
        return answer("hole", "fits", "The hole takes the lens.", words)
    if takes["fit"] == "bore":
        return answer("hole", "fits_if", f"The hole must be made wider by {by}.", words)
    if takes["fit"] == "ring":
        return answer("hole", "fits_if", f"The hole is too wide by {by}: it needs a ring or another board.", words)
    return answer("hole", "fits_if", "It is too close to say: try it.", words)
