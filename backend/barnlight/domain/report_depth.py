"""Depth of the holders in a report: a line a side against the published depth, the set as a whole, and what it means."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from barnlight.domain.checks import applicable
from barnlight.domain.holder_chart import holder_chart
from barnlight.domain.holder_depth import against_standard, set_depth, side_depth
from barnlight.domain.holder_picture import STANDS, holder_svgs
from barnlight.domain.holder_set import set_fit, stand_of
from barnlight.domain.ids import parse_place, place_text
from barnlight.domain.report_readings import instrument_words, is_depth_of_holder, length_mm
from barnlight.domain.report_words import place_words
from barnlight.domain.rounding import fixed
from barnlight.domain.uncertainty import instrument_u, mean_figure

SET_WORDS = {
    "within": "Every side measured lies within the published depth.",
    "agrees": "Not every side lies within the published depth, but the sides agree among themselves: a camera whose screen is set to them works.",
    "strays": "The sides neither keep the published depth nor agree among themselves: the worst ones focus apart from the others.",
    "outside": "Not every side lies within the published depth; whether the sides agree among themselves cannot be told with this measurement.",
    "cannot_tell": "Whether every side lies within the published depth cannot be told with this measurement: its range lies over a limit.",
    "no_standard": "There is no published figure here for this format; the sides can only be compared with each other.",
}
ONE_SIDE = "One side alone was measured, and it does not lie within the published depth. Nothing is said of the others."
NO_TOOL = "It was not noted what was measured with, so there is no range, and whether the sides lie within the published depth cannot be told."
CANNOT_TELL = "cannot be told with this measurement"
ELSEWHERE = "These holders do not carry the film on the divider, so a depth to the divider says nothing about focus."


def depth_section(piece: Mapping, readings: list[dict], catalogue: Mapping) -> dict[str, Any] | None:
    """None where no depth was measured."""
    sides = _sides(piece, readings, catalogue)
    if not sides:
        return None
    on_divider = (piece.get("holders") or {}).get("registers_on") in (None, "divider")
    format_ = piece.get("format") if on_divider else None
    kinds = _depth_checks(piece, catalogue)
    used = [one for one in readings if one.get("reading") in kinds.get(one.get("check"), ()) and one.get("typed")]
    means = _means(sides, used, catalogue)
    rows = [_row(place, points, means[place], format_, catalogue) for place, points in sides.items()]
    whole = set_depth([{"place": place, "mean_mm": side_depth(points)["mean_mm"]} for place, points in sides.items()], format_, catalogue)
    standard = next((one for one in catalogue["standards"] if one["quantity"] == "holder_depth" and one["applies"].get("format") == format_), None)
    return {
        "rows": rows,
        "set_words": _set_words(rows, means, format_, catalogue) if on_divider else ELSEWHERE,
        "spread": f"{fixed(whole['spread_mm'], 3)}\u00a0mm between the deepest and the shallowest side",
        "worst": f"furthest off: {place_words(whole['worst']['place'], catalogue)}",
        "standard": standard and {name: standard[name] for name in ("as_printed", "source", "sureness")},
        "instruments": "; ".join(dict.fromkeys(instrument_words(one, catalogue) for one in used)),
        "charts": _charts(means, format_, catalogue),
        "points": _points_words([len(points) for points in sides.values()]),
    }


def _set_words(rows: list[dict], means: Mapping[str, dict[str, float] | None], format_: str | None, catalogue: Mapping) -> str:
    if len(rows) == 1 and rows[0]["outside"]:
        return ONE_SIDE
    known = [{"place": place, "mean_mm": mean} for place, mean in means.items() if mean]
    if len(known) < len(means) and rows[0]["words"]:
        return NO_TOOL
    return SET_WORDS[set_fit(known, format_, catalogue) if known else "no_standard"]


def _means(sides: Mapping[str, list[float]], readings: list[dict], catalogue: Mapping) -> dict[str, dict[str, float] | None]:
    """Place of a side -> its mean with its interval, in mm; None where the instrument is not known, as then there is no interval."""
    known = {one["id"]: one for one in catalogue["terms"]["instruments"]}
    tools = {place: _tools(place, readings, known) for place in sides}
    return {place: used and mean_figure(sides[place], max(used, key=instrument_u)) for place, used in tools.items()}


def _charts(means: Mapping[str, dict[str, float] | None], format_: str | None, catalogue: Mapping) -> list[str]:
    """The chart of the set; none where a side has no interval."""
    sides = [{"place": place, "label": _label(place), "mean_mm": mean} for place, mean in means.items() if mean]
    if len(sides) < len(means):
        return []
    depths = {one["label"]: f"{fixed(one['mean_mm']['value'], 3)} mm" for one in sides}
    return holder_svgs(holder_chart(sides, format_, catalogue, "mm"), depths, "mm")


def _tools(place: str, readings: list[dict], known: Mapping) -> list[dict] | None:
    """What a side was read with: {resolution_mm, repeatability_mm}, as noted and else as usual; None where one is not known."""
    side, found = parse_place(place).items(), []
    for reading in readings:
        if side <= parse_place(reading.get("place") or "").items():
            given = reading.get("instrument") or {}
            usual = known.get(given.get("kind") or "", {})
            step = given.get("resolution_mm") or usual.get("resolution_mm")
            if not step:
                return None
            found.append({"resolution_mm": step, "repeatability_mm": usual.get("repeatability_mm")})
    return found


def _label(place: str) -> str:
    axes = parse_place(place)
    return " ".join(words for words in (axes.get("holder", ""), axes.get("side", "").upper()) if words)


def _depth_checks(piece: Mapping, catalogue: Mapping) -> dict[str, set[str]]:
    """Check id -> ids of its readings that are holder depths."""
    found = {check["id"]: {kind["id"] for kind in check["readings"] if is_depth_of_holder(kind)} for check in applicable(piece, catalogue)}
    return {check: kinds for check, kinds in found.items() if kinds}


def _sides(piece: Mapping, readings: list[dict], catalogue: Mapping) -> dict[str, list[float]]:
    """Place of a side -> its points in mm, in the order of the holders."""
    kinds = _depth_checks(piece, catalogue)
    found: dict[str, list[float]] = {}
    for reading in sorted(readings, key=lambda one: one.get("place") or ""):
        if reading.get("reading") in kinds.get(reading.get("check"), ()) and reading.get("typed"):
            mm = length_mm(reading["typed"])
            axes = parse_place(reading.get("place") or "")
            if mm is not None:
                found.setdefault(place_text({name: value for name, value in axes.items() if name != "point"}), []).append(mm)
    return dict(sorted(found.items(), key=lambda side: _by_number(side[0])))


def _by_number(place: str) -> tuple[int, str]:
    holder = parse_place(place).get("holder", "")
    return (int(holder) if holder.isdecimal() else 1_000_000, place)


def _row(place: str, points: list[float], mean: Mapping[str, float] | None, format_: str | None, catalogue: Mapping) -> dict[str, Any]:
    side = side_depth(points)
    doubt = f" ± {fixed((mean['high'] - mean['low']) / 2, 3)}" if mean else ""
    against = against_standard(side["mean_mm"], format_, catalogue)
    off = "" if against is None else fixed(against["deviation_mm"], 3).replace("-", "−")
    stands = "no_standard" if against is None else stand_of(mean, format_, catalogue)["stands"] if mean else "cannot_tell"
    return {
        "place": place_words(place, catalogue),
        "mean": f"{fixed(side['mean_mm'], 3)}{doubt}\u00a0mm",
        "spread": f"{fixed(side['spread_mm'], 3)}\u00a0mm" if side["n"] > 1 else "one point",
        "n": side["n"],
        "off": f"+{off}" if against and against["deviation_mm"] > 0 and off != "0.000" else off,
        "outside": stands in ("too_deep", "too_shallow"),
        "words": CANNOT_TELL if stands == "cannot_tell" else STANDS[stands],
    }


def _points_words(counts: list[int]) -> str:
    least, most = min(counts), max(counts)
    return f"{most} {'point' if most == 1 else 'points'} a side" if least == most else f"{least} to {most} points a side"
