"""Small statistics with their uncertainty: a share, a middle and a weighted middle, for samples of a few."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from scipy import stats

LEVEL = 0.95
Z = float(stats.norm.ppf(0.5 + LEVEL / 2))  # how many standard deviations hold that level


def wilson(hits: float, of: float) -> dict[str, float]:
    """{share, low, high} of hits among `of` trials, 95 %. Source: NIST handbook 7.2.4.1. Raises ValueError for none or too many."""
    if of <= 0 or not 0 <= hits <= of:
        raise ValueError("A share needs at least one trial, and no more hits than trials.")
    share, extra = hits / of, Z * Z / of
    middle = (share + extra / 2) / (1 + extra)
    half = Z / (1 + extra) * (share * (1 - share) / of + extra / (4 * of)) ** 0.5
    return {"share": share, "low": max(0.0, middle - half), "high": min(1.0, middle + half)}


def beta_interval(a: float, b: float) -> dict[str, float]:
    """{mean, low, high}: the middle 95 % of a beta distribution. Raises ValueError unless both are above 0."""
    if a <= 0 or b <= 0:
        raise ValueError("Both counts must be above nought.")
    tail = (1 - LEVEL) / 2
    return {"mean": a / (a + b), "low": float(stats.beta.ppf(tail, a, b)), "high": float(stats.beta.ppf(1 - tail, a, b))}


def median_interval(values: Sequence[float]) -> dict[str, Any]:
    """{low, high, coverage} for the middle of a population, whatever its shape: two of the values in order, and how surely.

    The narrowest pair that holds the middle with 95 %, else smallest and largest with what those give: 1 - 2^(1-n).
    Source: order statistics and the binomial distribution (figures: n = 5 .9375, n = 6 .96875). Raises ValueError for none.
    """
    if not values:
        raise ValueError("There are no values.")
    ordered, n = sorted(values), len(values)
    cut, outside = 0, 2 * 0.5**n
    tail = 0.5**n
    for k in range(1, n // 2):
        tail += float(stats.binom.pmf(k, n, 0.5))
        if 1 - 2 * tail < LEVEL:
            break
        cut, outside = k, 2 * tail
    return {"low": ordered[cut], "high": ordered[n - 1 - cut], "coverage": max(0.0, 1 - outside)}


def weighted_quantile(values: Sequence[float], weights: Sequence[float], share: float) -> float:
    """The value below which that share of the weight lies; halfway between two where the share falls exactly between them.

    With equal weights and a share of 1/2 it is the ordinary median. Raises ValueError where nothing has weight.
    """
    pairs = sorted((value, weight) for value, weight in zip(values, weights, strict=True) if weight > 0)
    if not pairs:
        raise ValueError("There are no values.")
    wanted, so_far = share * sum(weight for _, weight in pairs), 0.0
    for at, (value, weight) in enumerate(pairs):
        so_far += weight
        if abs(so_far - wanted) <= 1e-9 * so_far and at + 1 < len(pairs):
            return (value + pairs[at + 1][0]) / 2
        if so_far > wanted:
            return value
    return pairs[-1][0]
