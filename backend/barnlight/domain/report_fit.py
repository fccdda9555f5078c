"""What the readings of a piece come to: draw, parallel, square, screen, stop and cover, each with its interval and its source."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from barnlight.domain.aperture import aperture_error, f_number, focal_figure
from barnlight.domain.coverage import image_area, room
from barnlight.domain.holder_set import stand_of
from barnlight.domain.ids import parse_place
from barnlight.domain.iris_scale import stop_number
from barnlight.domain.report_readings import length_mm
from barnlight.domain.report_words import stops_words
from barnlight.domain.rounding import fixed
from barnlight.domain.straightness import CORNERS, out_of_parallel, out_of_square
from barnlight.domain.uncertainty import instrument_u, mean_figure, read_figure

Found = dict[str, list[dict]]
ARITHMETIC = "arithmetic on the readings below, thin lens"
SQUARE = {
    "yes": "no difference that matters (1 mm, common practice, no source)", "no": "the frame is out of square",
    "cannot_tell": "too close to tell with this instrument",
}  # fmt: skip
SCREEN = {
    "within": "within what the standard allows a holder", "too_deep": "deeper than the standard allows a holder",
    "too_shallow": "shallower than the standard allows a holder", "cannot_tell": "measured like this, within cannot be told from beyond",
}  # fmt: skip
STOP = {
    "agrees": "agrees with its mark, as well as real marks ever do", "less_light": "gives less light than marked",
    "more_light": "gives more light than marked", "cannot_tell": "measured like this, the difference cannot be told from none",
}  # fmt: skip


def fit_figures(piece: Mapping, readings: list[dict], catalogue: Mapping) -> list[dict[str, str]]:
    """[{what, figure, words, source}]; a figure whose instrument nobody noted is left out, for it would have no interval."""
    found: Found = {}
    for one in readings:
        if one.get("typed"):
            found.setdefault(f"{one.get('check')}#{one.get('reading')}", []).append(one)
    rows = []
    for make in (_draw, _parallel, _square, _screen, _stop, _cover):
        row = _tried(make, found, piece, catalogue)
        if row:
            rows.append(dict(zip(("what", "figure", "words", "source"), row, strict=True)))
    return rows


def _tried(make: Callable, found: Found, piece: Mapping, catalogue: Mapping) -> tuple[str, ...] | None:
    """A reading that cannot be what it says stands in the table as it was typed; nothing is made of it here."""
    try:
        return make(found, piece, catalogue)
    except (KeyError, ValueError):
        return None


def _draw(found: Found, _: Mapping, catalogue: Mapping) -> tuple[str, ...]:
    shortest, longest = (_read(found[f"camera.bellows.reach#{name}"][0], catalogue) for name in ("shortest", "longest"))
    if shortest["value"] > longest["value"]:
        raise ValueError("The shortest draw is longer than the longest.")
    far = f"A lens reaches infinity if it wants {fixed(shortest['high'], 0)} to {fixed(longest['low'], 0)}\u00a0mm from board to film"
    return "Draw", f"{_words(shortest, 0)} to {_words(longest, 0)}", f"{far}; life size up to a focal length of {fixed(longest['low'] / 2, 0)}\u00a0mm", ARITHMETIC


def _parallel(found: Found, _: Mapping, catalogue: Mapping) -> tuple[str, ...]:
    own = found["camera.movements.zero#gap"]
    gaps = {parse_place(one.get("place") or "").get("corner", ""): _mm(one) for one in own}
    across = out_of_parallel({name: mm for name, mm in gaps.items() if name in CORNERS}, _coarsest(own, catalogue))["across_mm"]
    words = "under 1 mm, which does not show" if across["high"] < 1 else f"{fixed(across['value'] / 2, 1)}\u00a0mm of focus error at each edge"
    return "Standards out of parallel", _words(across, 2), words, "from four gaps; half the difference at each edge is arithmetic"


def _square(found: Found, _: Mapping, catalogue: Mapping) -> tuple[str, ...]:
    one, other = (found[f"camera.body.joints#diagonal_{n}"][0] for n in (1, 2))
    out = out_of_square(_mm(one), _mm(other), _coarsest([one, other], catalogue))
    return "Diagonals apart", _words(out["apart_mm"], 1), SQUARE[out["square"]], "the difference of two diagonals"


def _screen(found: Found, piece: Mapping, catalogue: Mapping) -> tuple[str, ...] | None:
    own = found.get("camera.back.depth#glass_depth") or found["other.back.depth#glass_depth"]
    depth = mean_figure([_mm(one) for one in own], _coarsest(own, catalogue))
    stand = stand_of(depth, piece.get("format"), catalogue)["stands"]
    if stand not in SCREEN:
        return None
    standard = next(one for one in catalogue["standards"] if one["quantity"] == "holder_depth" and one["applies"].get("format") == piece.get("format"))
    sheets = "; a fresnel or cover sheet in front of the matte side moves it and is not taken off here" if len(piece.get("screen_stack") or []) > 1 else ""
    return "Depth to the screen", _words(depth, 3), SCREEN[stand] + sheets, f"{standard['as_printed']}: {standard['source']}; {standard['sureness']}"


def _stop(found: Found, _: Mapping, catalogue: Mapping) -> tuple[str, ...]:
    pupil = _read(found["lens.iris.f_number#pupil"][0], catalogue)
    marked = found["lens.iris.f_number#marked_stop"][0]["typed"]["text"].strip()
    measured = found.get("lens.fit.focal#focal_measured")
    focal = _read(measured[0], catalogue) if measured else focal_figure(_mm(found["lens.fit.focal#focal_marked"][0]), catalogue)
    out = aperture_error(f_number(focal, pupil), stop_number(marked, "f", catalogue), catalogue)
    stops = out["stops"]
    figure = f"{stops_words(stops['value'])} stop ({stops_words(stops['low'])} to {stops_words(stops['high'])})"
    taken = "focal length as measured" if measured else "focal length as marked, ±5 %"
    return f"Stop marked {marked}", figure, f"{STOP[out['judged']]}; + is less light", f"{taken}, over the width of the hole seen from the front; 10 % in exposure: Washer 1948, J. SMPE 51(3)"


def _cover(found: Found, piece: Mapping, catalogue: Mapping) -> tuple[str, ...]:
    circle = _mm(found["lens.fit.circle#image_circle"][0])
    area = image_area(piece.get("format") or "4x5", catalogue)
    out = room(circle, area["width_mm"], area["height_mm"])
    title = next(one["title"] for one in catalogue["formats"] if one["id"] == (piece.get("format") or "4x5"))
    words = f"covers it with {fixed(out['spare_mm'], 0)}\u00a0mm to spare across the corners" if out["covers"] else f"misses its corners by {fixed(-out['spare_mm'], 0)}\u00a0mm"
    return f"Cover of {title}", f"{fixed(circle, 0)}\u00a0mm circle", words, f"the circle as claimed or tabled, not tested; picture size: {area['source']}; {area['sureness']}"


def _read(reading: Mapping, catalogue: Mapping) -> dict[str, float]:
    return read_figure(_mm(reading), _coarsest([reading], catalogue))


def _mm(reading: Mapping) -> float:
    mm = length_mm(reading["typed"])
    if mm is None:
        raise ValueError("This is no length.")
    return mm


def _coarsest(readings: list[dict], catalogue: Mapping) -> dict[str, Any]:
    """The least fine of the instruments used, with what a hand repeats within. Raises ValueError where one was not noted."""
    known = {one["id"]: one for one in catalogue["terms"]["instruments"]}
    used = []
    for reading in readings:
        given = reading.get("instrument") or {}
        entry = known.get(given.get("kind") or "", {})
        used.append({"resolution_mm": given.get("resolution_mm") or entry.get("resolution_mm"), "repeatability_mm": entry.get("repeatability_mm")})
    return max(used, key=instrument_u)


def _words(figure: Mapping, digits: int) -> str:
    half = (figure["high"] - figure["low"]) / 2
    return f"{fixed(figure['value'], digits)} ± {fixed(half, max(digits, 1))}\u00a0mm".replace("-", "−")
