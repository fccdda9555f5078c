"""The sound of one firing drawn small: the stretch around its two marks, the loudest sample of each column, the marks as lines."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from barnlight.domain.drawing import INK, length, opening, words
from barnlight.domain.rounding import fixed, half_away

COLUMNS = 120
LOUDEST = 20  # units of height on each side of the middle
EACH = 2  # units of width a column
TOP, MIDDLE, BOTTOM = 4, 26, 48
HEIGHT = 66
# Beside the marks: half the time between them again, and never less than a click needs to be seen.
LEAST_BESIDE_S = 0.008


def wave(samples: Sequence[float], rate_hz: float, open_s: float | None, close_s: float | None) -> dict[str, Any]:
    """{from_s, to_s, heights}: the stretch around the marks, all of the sound where there are none, as heights 0 to 20 of its loudest.

    `samples`: mono, full scale -1 to 1; times in seconds from the start. Raises ValueError for an empty sound.
    """
    heard = np.abs(np.asarray(samples, dtype=np.float64))
    if not len(heard):
        raise ValueError("This recording holds no sound.")
    first, last = 0, len(heard)
    if open_s is not None and close_s is not None:
        beside = max(LEAST_BESIDE_S, (close_s - open_s) / 2)
        first = min(max(0, math.floor((open_s - beside) * rate_hz)), len(heard) - 1)
        last = max(min(len(heard), math.ceil((close_s + beside) * rate_hz)), first + 1)
    starts = [first + (last - first) * column // COLUMNS for column in range(COLUMNS + 1)]
    peaks = [float(heard[start : max(start + 1, end)].max()) for start, end in itertools.pairwise(starts)]
    most = max(peaks)
    return {"from_s": first / rate_hz, "to_s": last / rate_hz, "heights": [int(half_away(LOUDEST * peak / most, 0)) if most else 0 for peak in peaks]}


def wave_svg(drawn: Mapping, open_s: float | None, close_s: float | None, title: str) -> str:
    """The drawing of a `wave`; a mark outside the stretch is left out."""
    width = EACH * COLUMNS
    strokes = "".join(f"M{EACH * index + 1} {MIDDLE - height}v{2 * height}" for index, height in enumerate(drawn["heights"]) if height)
    parts = [
        opening(width, HEIGHT, title, "Loudness over time. A whole line stands where the shutter is taken to open, a broken line where it is taken to close."),
        f'<line class="tick" x1="0" x2="{width}" y1="{MIDDLE}" y2="{MIDDLE}" stroke="#a9a9a0"/>',
        f'<path class="sound" d="{strokes}" stroke="#55534c" stroke-width="1.4"/>',
    ]
    span = drawn["to_s"] - drawn["from_s"]
    for at, dash in ((open_s, ""), (close_s, ' stroke-dasharray="4 3"')):
        if at is not None and drawn["from_s"] <= at <= drawn["to_s"]:
            x = length(width * (at - drawn["from_s"]) / span)
            parts.append(f'<line class="bar" x1="{x}" x2="{x}" y1="{TOP - 4}" y2="{BOTTOM}" stroke="{INK}" stroke-width="2"{dash}/>')
    parts.append(words(0, HEIGHT - 4, f"{fixed(drawn['from_s'], 3)} s", "start"))
    parts.append(words(width, HEIGHT - 4, f"{fixed(drawn['to_s'], 3)} s", "end"))
    return "".join(parts) + "</svg>"
