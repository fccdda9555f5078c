"""Fits the weights of the timing engine's pair scores on simulated recordings: `python -m barnlight.bench.shutter_fit --write`.

A softmax over all pairs of a recording and "none of these", by maximum likelihood with a penalty on squared weights. Which
features and products there are is taken from the present weights; the seeds are the tuning ones, never those of judging.
"""

from __future__ import annotations

import argparse
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
from scipy.optimize import minimize

from barnlight import catalogue
from barnlight.bench.shutter_recordings import Case, cases
from barnlight.domain import shutter_pairs

# kind: seeds, recordings a seed, how much one counts. Home and "unlike" shutters together, else the verdict is honest at home only.
PLAN = {
    "one": (range(2, 11), 300, 1.0),
    "unlike": (range(2, 7), 300, 1.0),
    "nothing": (range(2, 7), 300, 2.0),
    "talk": (range(21, 28), 600, 0.3),
    "three": (range(2, 5), 150, 0.5),
    "unlike three": (range(1, 2), 150, 0.4),
    "faint": (range(1, 3), 120, 0.5),
}
# A pair is right if both clicks are within this of the truth and the times agree.
NEAR_S, NEAR_STOPS, SAME_TIME_STOPS = 0.001, 1 / 6, 1 / 12
LIKELIEST, REST_COUNTS, PENALTY, STEPS = 60, 0.3, 0.12, 250
# What lies so near a firing belongs to it.
BEFORE_S, AFTER_S = 0.10, 0.15
REGIMES = ("short", "long")
FILE = Path(catalogue.__file__).parent / "shutter_timing.json"


class Choices:
    """All choices of the plan: each a few pairs of which some may be right, or none."""

    def __init__(self, cache: Path, *, marked: bool, constants: dict) -> None:
        self.weights = constants["weights"]["marked" if marked else "unmarked"]
        self.names = [name for name in self.weights["short"] if name != "bias"]
        values, long, right, counts, sizes = [], [], [], [], []
        for kind, (seeds, each, count) in PLAN.items():
            for case in cases(kind, seeds, each, cache):
                for terms, is_long, is_right, share in self._choices(case, marked, constants):
                    score = np.where(is_long, terms @ self._vector("long"), terms @ self._vector("short"))
                    kept = is_right.copy()
                    kept[np.argsort(-score)[:LIKELIEST]] = True
                    values.append(terms[kept].astype(np.float32))
                    long.append(is_long[kept])
                    right.append(is_right[kept])
                    counts.append(count * share)
                    sizes.append(int(kept.sum()))
        self.values, self.long, self.right = np.concatenate(values), np.concatenate(long), np.concatenate(right)
        self.counts = np.array(counts)
        self.first = np.concatenate(([0], np.cumsum(sizes)[:-1]))
        self.of = np.repeat(np.arange(len(sizes)), sizes)
        self.none_right = ~np.logical_or.reduceat(self.right, self.first)

    def _vector(self, regime: str) -> np.ndarray:
        return np.array([*(self.weights[regime][name] for name in self.names), self.weights[regime]["bias"]])

    def _choices(self, case: Case, marked: bool, constants: dict) -> Iterator[tuple[np.ndarray, np.ndarray, np.ndarray, float]]:
        """(terms, is long, is right, how much it counts): one a firing, against all but the other firings, and one of what is left."""
        if isinstance(case.heard, str):
            return
        signal, marked_s = case.heard.signal, case.marked_s if marked else None
        clicks = shutter_pairs.strongest_clicks(case.heard.clicks, constants["pairs"])
        first, second = shutter_pairs.possible(clicks, signal.rate_hz, marked_s, constants["pairs"])
        if len(first) == 0:
            return
        found = shutter_pairs.features(signal, clicks, first, second, marked_s, constants["features"])
        terms = np.stack([*(np.prod([found[part] for part in name.split("*")], axis=0) for name in self.names), np.ones(len(first))], axis=1)
        open_s, close_s = clicks.at[first] / signal.rate_hz, clicks.at[second] / signal.rate_hz
        long = close_s - open_s > constants["features"]["long_ms"] / 1000
        apart = [(close_s < opened - BEFORE_S) | (open_s > closed + AFTER_S) for opened, closed in case.marks_s]
        for index, (opened, closed) in enumerate(case.marks_s):
            free = np.logical_and.reduce([np.ones(len(first), bool), *apart[:index], *apart[index + 1 :]])
            right = free & _right(open_s, close_s, opened, closed)
            if free.any():
                yield terms[free], long[free], right[free], 1.0
        rest = np.logical_and.reduce([np.ones(len(first), bool), *apart])
        if rest.any():
            yield terms[rest], long[rest], np.zeros(rest.sum(), bool), REST_COUNTS if case.marks_s else 1.0

    def loss(self, flat: np.ndarray) -> tuple[float, np.ndarray]:
        """Penalised negative log likelihood, and its gradient."""
        weights = flat.reshape(2, -1)
        both = self.values @ weights.T.astype(np.float32)
        score = np.where(self.long, both[:, 1], both[:, 0]).astype(float)
        highest = np.maximum(np.maximum.reduceat(score, self.first), 0)
        odds = np.exp(score - highest[self.of])
        none = np.exp(-highest)
        total = np.add.reduceat(odds, self.first) + none
        right_odds = odds * self.right
        # The floor keeps one hopeless recording from bending all weights.
        right = np.add.reduceat(right_odds, self.first) + np.where(self.none_right, none, 0) + 1e-4 * total
        slope = (self.counts[self.of] * (odds / total[self.of] - right_odds / right[self.of])).astype(np.float32)
        gradient = np.stack([self.values.T @ np.where(self.long, 0, slope), self.values.T @ np.where(self.long, slope, 0)]).astype(float)
        penalty = np.full_like(weights, PENALTY)
        penalty[:, -1] /= 100
        value = -np.sum(self.counts * np.log(right / total)) + np.sum(penalty * weights**2)
        return float(value), (gradient + 2 * penalty * weights).ravel()

    def fit(self) -> dict[str, dict[str, float]]:
        """The weights by regime and name."""
        start = np.concatenate([self._vector(regime) for regime in REGIMES])
        found = minimize(self.loss, start, jac=True, method="L-BFGS-B", options={"maxiter": STEPS, "maxfun": 2 * STEPS})
        print(f"{len(self.counts)} choices, {len(self.values)} pairs: loss {found.fun / self.counts.sum():.4f} a choice")
        rows = found.x.reshape(2, -1)
        return {regime: dict(zip([*self.names, "bias"], map(float, row), strict=True)) for regime, row in zip(REGIMES, rows, strict=True)}


def _right(open_s: np.ndarray, close_s: np.ndarray, opened: float, closed: float) -> np.ndarray:
    off_stops = np.abs(np.log2((close_s - open_s) / (closed - opened)))
    right = (np.abs(open_s - opened) < NEAR_S) & (np.abs(close_s - closed) < NEAR_S) & (off_stops < NEAR_STOPS)
    if right.any():
        return right
    # Where a click was missed, another pair of the same time will do.
    return (off_stops < SAME_TIME_STOPS) & (open_s < closed) & (close_s > opened)


def as_text(weights: dict[str, Any]) -> str:
    """The weights as the catalogue's file has them."""
    lines = []
    for one, by_length in weights.items():
        lines.append(f'    "{one}": {{')
        for regime, named in by_length.items():
            rows, row = [], ""
            for item in (f'"{name}": {weight:.2f}' for name, weight in named.items()):
                if len(row) + len(item) > 125:
                    rows.append(row.rstrip())
                    row = ""
                row += item + ", "
            rows.append(row.rstrip(", "))
            lines += [f'      "{regime}": {{', *(f"        {text}" for text in rows), "      }" + ("," if regime == REGIMES[0] else "")]
        lines.append("    }" + ("," if one == "marked" else ""))
    return "\n".join(['"weights": {', *lines, '  },\n  "event"'])


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cache", type=Path, default=Path(".barnlight/bench"), help="where what was heard is kept")
    parser.add_argument("--write", action="store_true", help="put the weights into the catalogue")
    asked = parser.parse_args()
    constants = catalogue.load()["shutter_timing"]
    weights = {name: Choices(asked.cache, marked=name == "marked", constants=constants).fit() for name in ("marked", "unmarked")}
    if asked.write:
        text = re.sub(r'"weights": \{.*?\n  \},\n  "event"', lambda _: as_text(weights), FILE.read_text("utf-8"), flags=re.DOTALL)
        FILE.write_text(text, encoding="utf-8")
    else:
        print(json.dumps(weights, indent=1))


if __name__ == "__main__":
    main()
