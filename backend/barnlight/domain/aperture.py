"""The f-number of a lens from its entrance pupil, against the stop that is marked, in stops with its interval."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from barnlight.domain.uncertainty import figure, positive, standard_u


def focal_figure(marked_mm: float, catalogue: Mapping) -> dict[str, float]:
    """A focal length nobody measured, in mm: the mark, spread evenly over the ±5 % that marking allows (standard `focal_length_marking`)."""
    positive(marked_mm, "The focal length, in mm,", 3000)
    percent = next(one["tolerance"] for one in catalogue["standards"] if one["id"] == "focal_length_marking")
    return figure(marked_mm, marked_mm * percent / 100 / math.sqrt(3))


def f_number(focal_mm: Mapping[str, float], pupil_mm: Mapping[str, float]) -> dict[str, float]:
    """f over the diameter of the entrance pupil as seen from the front. Raises ValueError for figures that are not above 0."""
    focal = positive(focal_mm["value"], "The focal length, in mm,", 3000)
    pupil = positive(pupil_mm["value"], "The pupil, in mm,", 1000)
    n = focal / pupil
    return figure(n, n * math.hypot(standard_u(focal_mm) / focal, standard_u(pupil_mm) / pupil))


def aperture_error(measured_n: Mapping[str, float], marked_n: float, catalogue: Mapping) -> dict[str, Any]:
    """A measured f-number against what its mark stands for: {stops: {value, low, high}, judged}, 2·log2(N/marked).

    Positive is less light than marked. `judged`: "agrees" (within what real marked stops differ by: standard
    `aperture_marking`, 10 % of exposure), "less_light", "more_light", or "cannot_tell" where the interval lies over that limit.
    Raises ValueError for a mark that is not above 0 or a pupil known too roughly.
    """
    positive(marked_n, "A marked stop", 1024)
    if measured_n["low"] <= 0:
        raise ValueError("The pupil is known too roughly to say anything; measure it with something finer.")
    stops = {end: 2 * math.log2(measured_n[end] / marked_n) for end in ("value", "low", "high")}
    percent = next(one["tolerance"] for one in catalogue["standards"] if one["id"] == "aperture_marking")
    give = math.log2(1 + percent / 100)
    if stops["low"] > give:
        judged = "less_light"
    elif stops["high"] < -give:
        judged = "more_light"
    else:
        judged = "agrees" if -give <= stops["low"] and stops["high"] <= give else "cannot_tell"
    return {"stops": stops, "judged": judged}


def scale_of_other_lens(scale_focal_mm: float, lens_focal_mm: float) -> float:
    """By how many stops every mark is out if the scale was made for another focal length; positive is less light than marked.

    2·log2(f lens / f scale): a 150 mm scale on a 210 mm lens 0.97 stop (arithmetic). Raises ValueError.
    """
    positive(scale_focal_mm, "The focal length of the scale, in mm,", 3000)
    return 2 * math.log2(positive(lens_focal_mm, "The focal length, in mm,", 3000) / scale_focal_mm)


def equivalent_diameter(area_mm2: float) -> float:
    """The diameter, in mm, of the round hole that lets as much light through: 2·sqrt(A/pi). Raises ValueError."""
    return 2 * math.sqrt(positive(area_mm2, "The area of the opening, in mm²,", 1e6) / math.pi)


def polygon_area(leaves: int, corner_to_corner_mm: float) -> float:
    """The area, in mm², of a regular opening of so many straight edges, from the diameter of the circle through its corners.

    n·R²·sin(2·pi/n)/2. Raises ValueError.
    """
    if leaves < 3 or leaves > 60:
        raise ValueError("An opening has from 3 to 60 edges; count them again.")
    radius = positive(corner_to_corner_mm, "The opening from corner to corner, in mm,", 1000) / 2
    return leaves * radius**2 * math.sin(2 * math.pi / leaves) / 2


def slot_area(length_mm: float, width_mm: float) -> float:
    """The area, in mm², of an oval opening from its two diameters: pi·a·b/4. Raises ValueError."""
    return math.pi * positive(length_mm, "The longer diameter, in mm,", 1000) * positive(width_mm, "The shorter diameter, in mm,", 1000) / 4
