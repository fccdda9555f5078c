"""A set of sheet holders: each side against the published depth with its interval, which to keep together, where the film lies."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.holder_depth import against_standard, set_depth
from barnlight.domain.ids import parse_place
from barnlight.domain.uncertainty import difference, figure, side_of, standard_u

# Published figures are inches rounded to a micrometre: a side exactly on the limit is within.
_EDGE_MM = 0.0005
# Where nothing is published for the format: the tolerance of a 4x5 holder. Common practice, no source.
_USUAL_SPAN_MM = 0.178


def stand_of(mean_mm: Mapping[str, float], format_: str | None, catalogue: Mapping) -> dict[str, Any]:
    """One side's mean {value, low, high} against the published depth of its format.

    {stands: "within", "too_deep", "too_shallow", "cannot_tell" (the interval lies over a limit) or "no_standard",
    off_mm: {value, low, high}, positive is too deep, or None}.
    """
    against = against_standard(mean_mm["value"], format_, catalogue)
    if against is None:
        return {"stands": "no_standard", "off_mm": None}
    off = figure(against["deviation_mm"], standard_u(mean_mm))
    give = against["tolerance_mm"] + _EDGE_MM
    return {"stands": {"above": "too_deep", "below": "too_shallow"}.get(where := side_of(off, -give, give), where), "off_mm": off}


def set_fit(sides: Sequence[Mapping], format_: str | None, catalogue: Mapping) -> str:
    """What the sides [{place, mean_mm: {value, low, high}}] say of the whole set, and no more than their intervals allow.

    "within": every side is. "agrees": a side is not, but all are as close together as the standard asks, so a camera set to
    them works. "strays": they are further apart than that. "outside": a side is not within; whether they agree cannot be
    told, or there is but one. "cannot_tell": no side is surely outside, and not all are surely within. "no_standard": none is
    published. Raises ValueError without sides.
    """
    spread = _spread(sides)
    stands = {stand_of(one["mean_mm"], format_, catalogue)["stands"] for one in sides}
    if stands <= {"no_standard", "within"}:
        return stands.pop()
    against = against_standard(sides[0]["mean_mm"]["value"], format_, catalogue)
    apart = side_of(spread, -math.inf, 2 * against["tolerance_mm"] + _EDGE_MM)
    if apart == "above":
        return "strays"
    if stands <= {"within", "cannot_tell"}:
        return "cannot_tell"
    return "agrees" if apart == "within" and len(sides) > 1 else "outside"


def _spread(sides: Sequence[Mapping]) -> dict[str, float]:
    """Deepest side less shallowest, in mm. Raises ValueError without sides."""
    if not sides:
        raise ValueError("a set needs at least one side")
    means = sorted((one["mean_mm"] for one in sides), key=lambda mean: mean["value"])
    return difference(means[-1], means[0]) if len(means) > 1 else figure(0, 0)


def usual_span(format_: str | None, catalogue: Mapping) -> dict[str, Any]:
    """How far apart sides may lie and still be kept together: {span_mm, source, sureness}.

    One published tolerance: such sides lie twice as close as the standard asks, and one setting of a camera serves them all.
    """
    standard = next((one for one in catalogue["standards"] if one["quantity"] == "holder_depth" and one["applies"].get("format") == format_), None)
    if standard is None:
        return {"span_mm": _USUAL_SPAN_MM, "source": "the tolerance of 4 × 5 in; common practice, no source", "sureness": "common practice, no source"}
    return {"span_mm": standard["tolerance"], "source": standard["source"], "sureness": standard["sureness"]}


def keep_together(sides: Sequence[Mapping], span_mm: float) -> dict[str, Any]:
    """Which holders may be used as one set, from sides [{place, mean_mm: {value, low, high}}].

    The rule: all sides of a group lie within `span_mm`. The largest such group is taken first (of equal ones the closest
    together), then the largest of what is left. A holder whose own two sides lie further apart is in none.
    {groups: [{holders, low_mm, high_mm, middle_mm: the depth a camera would be set to, spread_mm}], apart: [{holder, spread_mm}]}.
    Raises ValueError for a span that is not above 0.
    """
    if span_mm <= 0:
        raise ValueError("Sides can only be kept together within a span above 0 mm.")
    spans: dict[str, list[float]] = {}
    for side in sides:
        spans.setdefault(parse_place(side["place"]).get("holder", ""), []).append(side["mean_mm"]["value"])
    left = {holder: (min(values), max(values)) for holder, values in spans.items()}
    apart = [{"holder": holder, "spread_mm": high - low} for holder, (low, high) in left.items() if high - low > span_mm + _EDGE_MM]
    for one in apart:
        del left[one["holder"]]
    groups = []
    while left:
        best = max((_window(left, low, span_mm) for low, _ in left.values()), key=lambda group: (len(group["holders"]), -group["spread_mm"], -group["low_mm"]))
        groups.append(best)
        left = {holder: one for holder, one in left.items() if holder not in best["holders"]}
    return {"groups": groups, "apart": apart}


def _window(left: Mapping[str, tuple[float, float]], start: float, span_mm: float) -> dict[str, Any]:
    inside = {holder: one for holder, one in left.items() if one[0] >= start and one[1] <= start + span_mm + _EDGE_MM}
    low, high = min(one[0] for one in inside.values()), max(one[1] for one in inside.values())
    return {"holders": list(inside), "low_mm": low, "high_mm": high, "middle_mm": (low + high) / 2, "spread_mm": high - low}


def judge_set(sides: Sequence[Mapping], format_: str | None, catalogue: Mapping, span_mm: float) -> dict[str, Any]:
    """The whole set: {sides: [{place, stands, off_mm}], fit, spread_mm: {value, low, high}, worst, groups, apart}.

    `sides` are [{place, mean_mm: {value, low, high}}]; `fit` as in `set_fit`. Raises ValueError without sides.
    """
    whole = set_depth([{"place": one["place"], "mean_mm": one["mean_mm"]["value"]} for one in sides], format_, catalogue)
    return {
        "sides": [{"place": one["place"], **stand_of(one["mean_mm"], format_, catalogue)} for one in sides],
        "fit": set_fit(sides, format_, catalogue),
        "spread_mm": _spread(sides),
        "worst": whole["worst"],
        **keep_together(sides, span_mm),
    }


def emulsion_depth(depth_mm: Mapping[str, float], film_mm: float, slot_mm: float) -> dict[str, float]:
    """Where the emulsion may lie, in mm from the seat: {lying_mm: film on the divider, floating_mm: film at the lips, low_mm, high_mm}.

    Film floats in its slot: deepest is the deepest divider less the film, shallowest the shallowest divider less the slot.
    Raises ValueError for film that does not go into the slot.
    """
    if film_mm <= 0 or film_mm > slot_mm:
        raise ValueError(f"Film of {film_mm:g} mm does not go into a slot of {slot_mm:g} mm; check both.")
    return {
        "lying_mm": depth_mm["value"] - film_mm,
        "floating_mm": depth_mm["value"] - slot_mm,
        "low_mm": depth_mm["low"] - slot_mm,
        "high_mm": depth_mm["high"] - film_mm,
    }
