"""Bright places of a photo taken in the dark, in a report: numbered, each with who said what of it; never a count of leaks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from barnlight.domain.leak_reading import leak_view, places
from barnlight.domain.report_words import counted
from barnlight.domain.rounding import half_away

SAID = {
    "confirmed": "light coming through, by who looked",
    "added": "light coming through, marked by who looked and not by the machine",
    "candidate": "a place to look at; nobody has judged it",
}
SPOILT = ("black", "too_much_light")
DOUBTS = {
    "black": "The photo is too dark: nothing can be said from it.",
    "too_much_light": "There is too much light in the photo: nothing can be said from it.",
    "moved": "The photo seems moved: faint places may be lost and those shown may be smeared.",
    "blurred": "The photo seems out of focus: faint places may be lost.",
}
RADIUS_SHARE = 0.02


def leak_places(reading: Mapping, file: Mapping) -> dict[str, Any]:
    """`reading`: a leak_reading record; `file`: its photo's {width, height} in px. Places carry a letter L, apart from a person's spots."""
    whole = {"machine": reading.get("machine"), "region": reading.get("region"), "marks": reading.get("marks") or []}
    width, height = file["width"], file["height"]
    view = leak_view(whole, width, height)
    struck = sum(1 for one in places(whole, width, height) if one["said"] == "struck_out")
    radius = half_away(RADIUS_SHARE * max(width, height), 1)
    spoilt = any(reason in SPOILT for reason in view["reasons"])
    return {
        "places": [_place(one, width, height, radius) for one in view["places"]],
        "nothing": "" if view["places"] or spoilt else "No bright place stands out in this photo. Fainter light would not show here, and other lengths and directions may show some.",
        "struck": f"{counted(struck, 'place', 'places')} that the machine proposed: struck out by who looked, as no light." if struck else "",
        "region": "Only the part of the photo that who looked drew around was searched." if whole["region"] else "",
        "doubts": [DOUBTS.get(reason, reason) for reason in view["reasons"]],
        "limit": view["limit"] or "",
        "by": f"Places proposed by {view['algorithm']}, from this one photo." if view["algorithm"] else "Places marked by who looked; no machine searched this photo.",
        "stroke": half_away(radius / 6, 1),
        "font": half_away(radius * 1.5, 1),
    }  # fmt: skip


def _place(one: Mapping, width: int, height: int, radius: float) -> dict[str, Any]:
    x, y = one["at"]["x"] * width, one["at"]["y"] * height
    beside = x + 2.4 * radius if x < 0.8 * width else x - 2.4 * radius
    looks = ", ".join(word for word in (one["strength"] or "", "drawn out" if one["kind"] == "streak" else "") if word)
    return {
        "mark": f"L{one['number']}", "x": half_away(x, 1), "y": half_away(y, 1), "r": radius,
        "number_x": half_away(beside, 1), "number_y": half_away(y + radius * 0.5, 1), "words": SAID[one["said"]], "looks": looks,
        "sure": one["said"] != "candidate",
    }  # fmt: skip
