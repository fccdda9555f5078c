"""Round figures along the axis of a chart, from nought up."""

from __future__ import annotations

import itertools
import math


def round_ticks(most: float, count: int) -> list[int]:
    """0, then every 1, 2 or 5 times a power of ten, at most `count` steps, the last at or above `most`. The step is at least 1."""
    for power in itertools.count():
        for times in (1, 2, 5):
            step = times * 10**power
            steps = max(math.ceil(most / step), 1)
            if steps <= count:
                return [step * at for at in range(steps + 1)]
    raise AssertionError  # counting has no end
