"""How many leaks are found, and how much is found that is none: `python -m barnlight.bench.leaks --seeds 1001-1060`.

Every figure is of simulated pictures; what is assumed of them is printed first. With --folder, of the pictures of a folder.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from barnlight import catalogue
from barnlight.bench import leaks_libraries
from barnlight.bench.leaks_figures import Tally, Truth, found_share, mean, report, tally
from barnlight.bench.leaks_pictures import JUDGING_FROM, kept, simulated
from barnlight.bench.shutter import seeds_of
from barnlight.demo import leak_ranges
from barnlight.domain.leak_finder import find_leaks


def own(full: np.ndarray, truth: Truth) -> Tally:
    found = find_leaks(full, catalogue.load()["leaks"])
    return tally(truth, [(point["x"], point["y"]) for point in found["points"]], found["usable"], found["reasons"])


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", default="1001-1060", help=f"judging seeds, {JUDGING_FROM} or more")
    parser.add_argument("--tune", action="store_true", help=f"allow the seeds below {JUDGING_FROM}; never quote their figures")
    parser.add_argument("--folder", type=Path, help="pictures with a truth.json instead of simulated ones")
    parser.add_argument("--libraries", type=int, default=20, help="usable pictures that general methods look at too")
    asked = parser.parse_args()
    seeds = seeds_of(asked.seeds)
    if min(seeds) < JUDGING_FROM and not asked.tune and not asked.folder:
        parser.error(f"seeds below {JUDGING_FROM} are for tuning; judge with others, or say --tune")
    print(f"Algorithm {catalogue.load()['leaks']['algorithm']}, " + (f"folder {asked.folder.name}" if asked.folder else f"seeds {asked.seeds}. Assumed:"))
    if not asked.folder:
        print("\n".join(f"  {line}" for line in leak_ranges.lines()))
    finders = leaks_libraries.finders() if asked.libraries else {}
    began, spent_s = time.monotonic(), 0.0
    tallies: list[Tally] = []
    others: dict[str, list[Tally]] = {name: [] for name in finders}
    pictures: Iterator[tuple[np.ndarray, Truth]] = kept(asked.folder) if asked.folder else map(simulated, seeds)
    for full, truth in pictures:
        start = time.perf_counter()
        tallies.append(own(full, truth))
        spent_s += time.perf_counter() - start
        if not truth.spoilt and sum(not one.truth.spoilt for one in tallies) <= asked.libraries:
            for name, finder in finders.items():
                others[name].append(tally(truth, leaks_libraries.places(finder, full)))
    report(tallies)
    if finders:
        compare(tallies, others)
    print(f"\n{spent_s / len(tallies):.2f} s a picture; {time.monotonic() - began:.0f} s in all")
    return 0


def compare(tallies: list[Tally], others: dict[str, list[Tally]]) -> None:
    """One line a method on the same usable pictures."""
    count = len(next(iter(others.values())))
    good = [one for one in tallies if not one.truth.spoilt][:count]
    print(f"\nGeneral methods on {count} of the usable pictures: visible found; false a picture mean, median; on reflections")
    for name, of in {"own": good, **others}.items():
        false = [one.false for one in of]
        visible = found_share(of, lambda leak: leak.seen_as == "visible")
        print(f"  {name:26} {visible}; {mean(false):8.2f}, {np.median(false):5.1f}; {mean([one.on_reflections for one in of]):6.2f}")


if __name__ == "__main__":
    sys.exit(main())
