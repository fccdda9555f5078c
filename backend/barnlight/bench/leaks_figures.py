"""Points found against the leaks that are there: which were found, what is false, and the tables of a run.

A point is right within 0.6 % of the long edge of a leak. False is what lies neither on a leak of any strength nor on a reflection.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from scipy.stats import chi2

from barnlight.bench.shutter_figures import Share, share

WITHIN = 0.006
CNR_BANDS = ((0, 3.5), (3.5, 5), (5, 8), (8, 12), (12, 18), (18, 30), (30, 60), (60, math.inf))


@dataclass(frozen=True)
class Leak:
    """A true leak: px of the photo; a slit has a line, all others begin and end it where they are."""

    shape: str
    lines: Sequence[tuple[float, float, float, float]]
    seen_as: str
    cnr: float


@dataclass(frozen=True)
class Truth:
    """What is true of a picture."""

    size: tuple[int, int]
    kind: str
    spoilt: str | None
    leaks: Sequence[Leak]
    reflections: Sequence[Sequence[float]]


@dataclass(frozen=True)
class Tally:
    """One picture's points against its truth."""

    truth: Truth
    found: Sequence[bool]  # of each leak
    false: int
    on_reflections: int
    usable: bool
    reasons: Sequence[str]


def tally(truth: Truth, points: Sequence[tuple[float, float]], usable: bool = True, reasons: Sequence[str] = ()) -> Tally:
    near_px = WITHIN * max(truth.size)
    near = [[_far(leak, point) <= near_px for point in points] for leak in truth.leaks]
    stray = [point for index, point in enumerate(points) if not any(row[index] for row in near)]
    on = [point for point in stray if any(_in_box(box, point, near_px) for box in truth.reflections)]
    return Tally(truth, [any(row) for row in near], len(stray) - len(on), len(on), usable, reasons)


def _far(leak: Leak, point: tuple[float, float]) -> float:
    return min(_far_of_line(line, point) for line in leak.lines)


def _far_of_line(line: tuple[float, float, float, float], point: tuple[float, float]) -> float:
    x0, y0, x1, y1 = line
    dx, dy = x1 - x0, y1 - y0
    along = 0.0 if dx == dy == 0 else ((point[0] - x0) * dx + (point[1] - y0) * dy) / (dx * dx + dy * dy)
    along = min(max(along, 0.0), 1.0)
    return math.hypot(x0 + along * dx - point[0], y0 + along * dy - point[1])


def _in_box(box: Sequence[float], point: tuple[float, float], margin: float) -> bool:
    return box[0] - margin <= point[0] <= box[2] + margin and box[1] - margin <= point[1] <= box[3] + margin


def found_share(tallies: Sequence[Tally], wanted: Callable[[Leak], bool]) -> Share:
    return share([hit for one in tallies for leak, hit in zip(one.truth.leaks, one.found, strict=True) if wanted(leak)])


def band_share(tallies: Sequence[Tally], low: float, high: float, shape: str) -> Share:
    """Of the leaks of a shape ("" is all) whose contrast to noise lies from `low` to below `high`."""
    return found_share(tallies, lambda leak: low <= leak.cnr < high and shape in ("", leak.shape))


def mean(values: Sequence[float]) -> float:
    return sum(values) / len(values) if values else math.nan


def rate(tallies: Sequence[Tally], count: Callable[[Tally], int]) -> str:
    """Mean of a count a picture with its 95 % interval (Garwood 1936, Poisson), and how many pictures have none."""
    total, pictures = sum(count(one) for one in tallies), len(tallies)
    if not pictures:
        return "-"
    low, high = chi2.ppf(0.025, 2 * total) / 2 if total else 0.0, chi2.ppf(0.975, 2 * total + 2) / 2
    none = share([count(one) == 0 for one in tallies])
    return f"{total / pictures:.2f} ({low / pictures:.2f}-{high / pictures:.2f}) a picture; none in {none}"


def report(tallies: Sequence[Tally]) -> None:
    """All tables of the finder itself."""
    good, bad = [one for one in tallies if not one.truth.spoilt], [one for one in tallies if one.truth.spoilt]
    print(f"\n{len(good)} usable pictures, {len(bad)} spoilt")
    for name in ("visible", "faint", "invisible"):
        print(f"  {name + ' leaks found':28} {found_share(good, lambda leak, name=name: leak.seen_as == name)}")
    print(f"  {'false points':28} {rate(good, lambda one: one.false)}")
    print(f"  {'points on reflections':28} {rate(good, lambda one: one.on_reflections)}")
    print(f"  {'usable refused':28} {share([not one.usable for one in good])}")
    for reason in sorted({one.truth.spoilt or "" for one in bad}):
        of = [one for one in bad if one.truth.spoilt == reason]
        said = sorted({word for one in of for word in one.reasons})
        print(f"  {'refused: ' + reason:28} {share([not one.usable for one in of])}; called {', '.join(said) or 'usable'}")
    print("\nFound by contrast to noise, usable pictures: all, pinhole, slit, corner")
    for low, high in CNR_BANDS:
        whole, *parts = (band_share(good, low, high, shape) for shape in ("", "pinhole", "slit", "corner"))
        print(f"  {f'{low:g}-{high:g}' if high < math.inf else f'over {low:g}':8} {whole};  " + ", ".join(f"{part.hits}/{part.of}" for part in parts))
    print("\nBy scene and size, usable pictures: visible found; false")
    groups: list[tuple[str, Callable[[Tally], Any]]] = [("scene", lambda one: one.truth.kind), ("long edge", lambda one: max(one.truth.size))]
    for title, key in groups:
        for value in sorted({key(one) for one in good}):
            of = [one for one in good if key(one) == value]
            text = f"{found_share(of, lambda leak: leak.seen_as == 'visible')}; {mean([one.false for one in of]):.2f}"
            print(f"  {f'{title} {value}':28} {text} a picture of {len(of)}")
