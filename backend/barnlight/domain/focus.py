"""Ground glass and film: where the screen focuses, where the film lies, the error between them and what to do about it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.uncertainty import difference, figure, positive, standard_u

INDEX_U = 0.02
"""One standard uncertainty of an index nobody measured: glass 1.50 to 1.54, acrylic about 1.49. Common practice, no source."""

_LEAST_INDEX, _MOST_INDEX = 1.3, 2.0
_THICKEST_MM = 20


def plate_shift(thickness_mm: float, index: float) -> float:
    """How much further from the lens a plane plate moves the image, in mm: t·(1 − 1/n) (thin rays; standard physics).

    Raises ValueError for a plate that cannot be.
    """
    positive(thickness_mm, "The thickness of a sheet, in mm,", _THICKEST_MM)
    if index < _LEAST_INDEX or index > _MOST_INDEX:
        raise ValueError(f"An index of {index:g} is no glass or plastic: glass is about 1.52, acrylic 1.49. Type a figure from 1.3 to 2.0.")
    return thickness_mm * (1 - 1 / index)


def screen_depth(measured_mm: Mapping[str, float], measured_to: str, layers: Sequence[Mapping] = ()) -> dict[str, Any]:
    """The depth, in mm from the seat of the holder, of the plane a screen really focuses on: {optical_mm, layers: [{shift_mm}]}.

    `layers` are the sheets between lens and matte surface [{thickness_mm, index}]: a fresnel in front, a clear sheet, or the
    glass itself where it was put in the wrong way round. `measured_to` is "matte" where the gauge stood at the depth of the
    matte surface, "front" where it stood on the first of the layers. Each layer moves the plane by −t·(1 − 1/n) from the
    matte surface, which is +t/n from its own front. Raises ValueError for layers that cannot be.
    """
    if measured_to not in ("matte", "front"):
        raise ValueError("Say whether the depth was taken to the matte surface or to the sheet before it.")
    shifts = [plate_shift(one["thickness_mm"], one["index"]) for one in layers]
    mechanical = sum(one["thickness_mm"] for one in layers) if measured_to == "front" else 0
    spread = [one["thickness_mm"] / one["index"] ** 2 * INDEX_U for one in layers]
    u = math.hypot(standard_u(measured_mm), *spread)
    return {"optical_mm": figure(measured_mm["value"] + mechanical - sum(shifts), u), "layers": [{"shift_mm": one} for one in shifts]}


def film_plane(divider_mm: Mapping[str, float], film_mm: float) -> dict[str, float]:
    """The depth of the emulsion of film lying on the divider, in mm: depth to the divider less the film. Raises ValueError."""
    positive(film_mm, "The thickness of film, in mm,", 1)
    return figure(divider_mm["value"] - film_mm, standard_u(divider_mm))


def focus_error(screen_mm: Mapping[str, float], film_mm: Mapping[str, float]) -> dict[str, Any]:
    """How far the screen's plane lies behind the film's, in mm, and what that does.

    {error_mm: {value, low, high}, sharp: "nearer" than focused (the screen lies too close to the lens), "farther", or
    "cannot_tell" where the interval holds 0, shim}. `shim` {do: "add" (the screen moves away from the lens), "take_away" or
    "leave", mm: {value, low, high}}.
    """
    error = difference(screen_mm, film_mm)
    side = "nearer" if error["high"] < 0 else "farther" if error["low"] > 0 else "cannot_tell"
    do = {"nearer": "add", "farther": "take_away", "cannot_tell": "leave"}[side]
    size = figure(abs(error["value"]), standard_u(error))
    return {"error_mm": error, "sharp": side, "shim": {"do": do, "mm": {**size, "low": max(0.0, size["low"])}}}
