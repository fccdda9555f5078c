"""The entrance pupil from one photo with a ruler in it: two taps on the ruler, two on the pupil."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.uncertainty import figure, positive, standard_u

TAP_U_PX = 2.0
"""One standard uncertainty of a tap across its line, in pixels of the picture. Common practice, no source."""

_LEAST_PX = 40


def pupil_from_taps(ruler: Sequence[Sequence[float]], ruler_mm: float, pupil: Sequence[Sequence[float]], tap_u_px: float = TAP_U_PX) -> dict[str, Any]:
    """{pupil_mm: {value, low, high}, scale_mm_per_px: {value, low, high}} from [[x, y], [x, y]] on each, in pixels.

    `ruler_mm` is the length between the two taps on the ruler; `tap_u_px` one standard uncertainty of a tap. Holds where
    ruler and pupil lie equally far from the camera (`at_another_depth` corrects it). Raises ValueError for taps too close
    together to say anything.
    """
    positive(ruler_mm, "The length tapped on the ruler, in mm,", 1000)
    along, across = _apart(ruler), _apart(pupil)
    if min(along, across) < _LEAST_PX:
        raise ValueError("The taps lie too close together to measure; come closer with the camera, or tap a longer stretch of the ruler.")
    tap = math.sqrt(2) * tap_u_px
    scale = ruler_mm / along
    mm = across * scale
    return {
        "pupil_mm": figure(mm, mm * math.hypot(tap / along, tap / across)),
        "scale_mm_per_px": figure(scale, scale * tap / along),
    }


def at_another_depth(pupil_mm: Mapping[str, float], behind_mm: float, camera_mm: float) -> dict[str, float]:
    """The pupil where it lies `behind_mm` further from the camera than the ruler, which is `camera_mm` away; both in mm.

    What lies further off looks smaller by (camera + behind) / camera. A fifth of `behind_mm` is taken as its uncertainty
    (common practice, no source). Raises ValueError.
    """
    positive(camera_mm, "The distance from camera to ruler, in mm,", 10000)
    if behind_mm < 0 or behind_mm > camera_mm:
        raise ValueError("How far the pupil lies behind the ruler must be from 0 to the distance of the camera, in mm.")
    factor = 1 + behind_mm / camera_mm
    u = math.hypot(standard_u(pupil_mm) * factor, pupil_mm["value"] * behind_mm / 5 / camera_mm)
    return figure(pupil_mm["value"] * factor, u)


def _apart(taps: Sequence[Sequence[float]]) -> float:
    if len(taps) != 2:
        raise ValueError("Two taps are needed on the ruler and two on the pupil.")
    return math.hypot(taps[0][0] - taps[1][0], taps[0][1] - taps[1][1])
