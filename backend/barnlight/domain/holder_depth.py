"""Depth of sheet holders: each side's points as one figure, against the published depth of its format, and over the set."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any


def side_depth(points_mm: Sequence[float]) -> dict[str, Any]:
    """One side's points (five are asked for, one is accepted), in mm: {mean_mm, spread_mm: deepest less shallowest, n}.

    Raises ValueError if there are none.
    """
    if not points_mm:
        raise ValueError("a side needs at least one point")
    return {"mean_mm": sum(points_mm) / len(points_mm), "spread_mm": max(points_mm) - min(points_mm), "n": len(points_mm)}


def against_standard(mean_mm: float, format_: str | None, catalogue: Mapping) -> dict[str, Any] | None:
    """A side's mean against the published depth to the divider; None where none is published for the format.

    {standard: its id, value_mm, tolerance_mm, deviation_mm: positive is too deep}. Whether it is within hangs on the interval, too:
    `holder_set.stand_of`.
    """
    standard = next((one for one in catalogue["standards"] if one["quantity"] == "holder_depth" and one["applies"].get("format") == format_), None)
    if standard is None or standard["tolerance"] is None:
        return None
    return {
        "standard": standard["id"],
        "value_mm": standard["value"],
        "tolerance_mm": standard["tolerance"],
        "deviation_mm": mean_mm - standard["value"],
    }


def set_depth(sides: Sequence[Mapping], format_: str | None, catalogue: Mapping) -> dict[str, Any]:
    """The whole set from its sides' means, [{place, mean_mm}]; means something only where film lies on the divider.

    {mean_mm, spread_mm: deepest side less shallowest, worst: {place, mean_mm} (furthest from the published depth, or from
    the set's own mean where none is published)}. Raises ValueError if there are no sides.
    """
    means = [side["mean_mm"] for side in sides]
    whole = side_depth(means)
    against = [against_standard(mean, format_, catalogue) for mean in means]
    off = [abs(one["deviation_mm"] if one else mean - whole["mean_mm"]) for mean, one in zip(means, against, strict=True)]
    worst = sides[off.index(max(off))]
    return {
        "mean_mm": whole["mean_mm"],
        "spread_mm": whole["spread_mm"],
        "worst": {"place": worst["place"], "mean_mm": worst["mean_mm"]},
    }
