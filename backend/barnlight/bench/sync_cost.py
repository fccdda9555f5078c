"""What sync costs, as ratios with their targets: `python -m barnlight.bench.sync_cost`.

One changed check pushed into a small and a large store, 10,000 changes pulled, pushes against a bare Flask route doing one
committed SQLite insert, and the bytes of 40 photos on the wire (that part needs Playwright, a Chromium and the built app).
"""

from __future__ import annotations

import argparse
import json
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from barnlight.bench.sync_server import Caller, bare_insert, barnlight
from barnlight.bench.sync_work import Maker

FEW, MANY = 10, 5_000
PULLED = 10_000
PAGE = 500
PULLS = 5
TIMED = 200
PUSHES = 2_000
ROW = 50
WARM_UP = 20
GROWS_AT_MOST = 1.3
TWICE_AT_MOST = 2.4  # twice the changes, and room for what a page costs by itself
BARE_AT_LEAST = 0.5
WIRE_AT_MOST = 1.03


@dataclass(frozen=True)
class Figure:
    """One line of the answer; `is_met` is None for what has no target."""

    what: str
    value: str
    target: str
    is_met: bool | None

    def __str__(self) -> str:
        verdict = {True: "met", False: "NOT MET", None: ""}[self.is_met]
        return f"{self.what:82} {self.value:>18}   {self.target:10} {verdict}".rstrip()


def one_change_in_stores(folder: Path) -> Iterator[Figure]:
    """The same push into a store with few sessions and one with many, in turns, so that both meet the same machine."""
    with barnlight(folder / "few") as few, barnlight(folder / "many") as many:
        makers = {FEW: Maker(few), MANY: Maker(many)}
        for sessions, maker in makers.items():
            maker.sessions(sessions)
        took: dict[int, list[float]] = {FEW: [], MANY: []}
        size: dict[int, set[int]] = {FEW: set(), MANY: set()}
        for turn in range(TIMED + WARM_UP):
            for sessions, maker in makers.items():
                body = maker.check_answered()
                before = time.perf_counter()
                sent, got = maker.push(body)
                if turn >= WARM_UP:
                    took[sessions].append(time.perf_counter() - before)
                    size[sessions].add(sent + got)
    ms = {sessions: 1000 * statistics.median(each) for sessions, each in took.items()}
    grows = ms[MANY] / ms[FEW]
    yield Figure(f"push of one changed check, {MANY} sessions against {FEW} ({ms[MANY]:.1f} and {ms[FEW]:.1f} ms)", f"{grows:.2f} times the time",
                 f"<= {GROWS_AT_MOST}", grows <= GROWS_AT_MOST)  # fmt: skip
    # The number that the answer names is longer in the larger store.
    widths = {sessions: statistics.median(each) for sessions, each in size.items()}
    differs = abs(widths[MANY] - widths[FEW])
    yield Figure("  bytes there and back", f"{widths[FEW]:.0f} and {widths[MANY]:.0f}", "same", differs <= len(str(MANY * 20)))


def pulls(folder: Path) -> Iterator[Figure]:
    """All changes from the first on, page by page, as a new phone asks for them."""
    with barnlight(folder / "pull") as caller:
        Maker(caller).changes(PULLED)
        took: dict[int, list[float]] = {PULLED // 2: [], PULLED: []}
        for _ in range(PULLS):  # in turns, so that both meet the same machine
            for count, each in took.items():
                each.append(_pull(caller, count))
        halves = {count: min(each) for count, each in took.items()}
    ratio = halves[PULLED] / halves[PULLED // 2]
    yield Figure(f"pull of {PULLED} changes", f"{halves[PULLED]:.2f} s", "seconds", halves[PULLED] < 10)
    yield Figure(f"  against {PULLED // 2}", f"{ratio:.2f} times the time", f"<= {TWICE_AT_MOST}", ratio <= TWICE_AT_MOST)


def _pull(caller: Caller, count: int) -> float:
    begun, after = time.perf_counter(), 0
    while after < count:
        after = caller.get(f"/api/changes?after={after}&limit={PAGE}")["next"]
    return time.perf_counter() - begun


def pushes(folder: Path) -> Iterator[Figure]:
    """One request after the other on one connection, each one committed transaction on the disk.

    The three servers take turns, so that all meet the same machine: each after one request, as a person answers checks, and each
    after a row of them, as a phone catches up with what it did without a signal.
    """
    with (
        barnlight(folder / "push") as ours, bare_insert(folder / "kept", kept=True) as kept, bare_insert(folder / "opened", kept=False) as opened,
    ):  # fmt: skip
        maker = Maker(ours)
        maker.sessions(1)
        works: dict[str, Callable[[Any], Any]] = {
            "ours": maker.push, "kept": lambda body: kept.post("/insert", body), "opened": lambda body: opened.post("/insert", body),
        }  # fmt: skip
        for row, words in ((1, "one by one"), (ROW, f"{ROW} in a row")):
            took: dict[str, list[float]] = {name: [] for name in works}
            for turn in range(PUSHES // row + 1):
                for name, work in works.items():
                    for body in [maker.check_answered() if name == "ours" else {"value": "x"} for _ in range(row)]:
                        before = time.perf_counter()
                        work(body)
                        if turn:  # the first turn warms up
                            took[name].append(time.perf_counter() - before)
            rates = {name: 1 / statistics.median(each) for name, each in took.items()}
            for name, how in (("kept", "keeps its connection"), ("opened", "opens one a request")):
                share = rates["ours"] / rates[name]
                what = f"pushes a second {words}, {rates['ours']:.0f} to {rates[name]:.0f} of a bare route that {how}"
                # Told, not judged: the least that can be done at all, with everything of it still warm from the time before.
                is_judged = (name, row) != ("kept", ROW)
                yield Figure(what, f"{share:.2f}", f">= {BARE_AT_LEAST}" if is_judged else "", share >= BARE_AT_LEAST if is_judged else None)


def photos(folder: Path) -> Iterator[Figure]:
    """The app itself, in a browser, over a line that counts."""
    try:
        from barnlight.bench.sync_photos import bytes_of_photos
    except ImportError as missing:
        yield Figure(f"photos on the wire: not measured, {missing.name} is not installed", "", "", None)
        return
    held, passed = bytes_of_photos(folder / "photos")
    ratio = passed / held
    yield Figure(f"bytes on the wire of 40 photos of {held / 40_000:.0f} kB ({passed} for {held})", f"{ratio:.4f} times", f"<= {WIRE_AT_MOST}", ratio <= WIRE_AT_MOST)


PARTS: dict[str, Callable[[Path], Iterator[Figure]]] = {"stores": one_change_in_stores, "pull": pulls, "push": pushes, "photos": photos}


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--only", choices=PARTS, action="append", help="measure this part alone (may be given again)")
    parser.add_argument("--json", action="store_true", help="print JSON")
    given = parser.parse_args()
    found = []
    with tempfile.TemporaryDirectory() as folder:
        for name in given.only or PARTS:
            for figure in PARTS[name](Path(folder)):
                found.append(figure)
                if not given.json:
                    print(figure, flush=True)
    if given.json:
        print(json.dumps([vars(figure) for figure in found], indent=2))
    return 1 if any(figure.is_met is False for figure in found) else 0


if __name__ == "__main__":
    sys.exit(main())
