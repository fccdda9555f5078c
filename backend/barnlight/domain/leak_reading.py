"""A photo's bright places as a person left them: the machine's candidates, the part of the photo that counts, what was said of each.

A reading is {machine: what the finder returned or None, region: [{x, y}] or None, marks: [{of, at, said}]}; places are in shares of
width and height from the top left. `of` is the index of the machine's point, None for a place the person added.
"""

from __future__ import annotations

from typing import Any

from barnlight.domain.rounding import fixed, half_away

# Strength at which nearly all (30) and most (18) leaks of simulated photos were found; below, few were. Own, rendered pictures only.
_STRENGTHS = ((30, "strong"), (18, "clear"), (0, "weak"))


def in_region(region: list[dict] | None, at: dict) -> bool:
    """Whether a place lies in the drawn part, a closed line of at least three corners; without one the whole photo counts."""
    if not region or len(region) < 3:
        return True
    inside = False
    for index, one in enumerate(region):
        other = region[index - 1]
        if (one["y"] > at["y"]) != (other["y"] > at["y"]):
            crosses = one["x"] + (at["y"] - one["y"]) / (other["y"] - one["y"]) * (other["x"] - one["x"])
            inside = inside != (at["x"] < crosses)
    return inside


def strength_word(strength: float) -> str:
    """"strong", "clear" or "weak" for a point's contrast over the noise."""
    return next((word for least, word in _STRENGTHS if strength >= least), "weak")


def places(reading: dict, width: int, height: int) -> list[dict[str, Any]]:
    """The places to look at, numbered from 1: the machine's within the drawn part, strongest first, then those a person added.

    `width`, `height`: px of the photo. Each: {number, of, at, kind, strength, said}; said is "candidate" until a person said
    "confirmed" or "struck_out"; a person's own are "added", without kind and strength.
    """
    said = {mark["of"]: mark["said"] for mark in reading["marks"] if mark["of"] is not None}
    found: list[dict[str, Any]] = []
    for index, point in enumerate((reading["machine"] or {"points": []})["points"]):
        at = {"x": half_away(min(max((point["x"] + 0.5) / width, 0.0), 1.0), 4), "y": half_away(min(max((point["y"] + 0.5) / height, 0.0), 1.0), 4)}
        if in_region(reading["region"], at):
            word = strength_word(point["strength"])
            found.append({"of": index, "at": at, "kind": point["kind"], "strength": word, "said": said.get(index, "candidate")})
    found += [{"of": None, "at": mark["at"], "kind": None, "strength": None, "said": "added"} for mark in reading["marks"] if mark["of"] is None]
    return [{"number": number, **one} for number, one in enumerate(found, 1)]


def limit_words(machine: dict | None) -> str | None:
    """What a photo's own limit allows to be said of the rest of it; None where nothing could be looked for."""
    if not machine or machine["limit_code"] is None:
        return None
    beside = "else " if machine["points"] else ""
    return f"Nothing {beside}brighter than about {fixed(machine['limit_code'], 0)} of 255 levels above its surroundings in this photo."


def leak_view(reading: dict, width: int, height: int) -> dict[str, Any]:
    """A reading as plain data for a report: what a person confirmed or added, what nobody judged, what the photo can and cannot say."""
    shown = [one for one in places(reading, width, height) if one["said"] != "struck_out"]
    machine = reading["machine"]
    return {
        "places": shown,
        "unjudged": any(one["said"] == "candidate" for one in shown),
        "reasons": machine["reasons"] if machine else [],
        "limit": limit_words(machine),
        "algorithm": machine["algorithm"] if machine else None,
    }
