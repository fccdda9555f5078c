"""The benchmark of shutter timing: `python -m barnlight.bench.shutter --seeds 101-105`.

Prints what the simulator assumes, then accuracy at 20 dB and above by speed and by kind of recording, and for each target
whether it is met, with the uncertainty of the figure itself.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

from barnlight import catalogue
from barnlight.bench import shutter_libraries
from barnlight.bench.shutter_figures import Reading, Share, median_width_stops, reading, share, singles, triples
from barnlight.bench.shutter_recordings import JUDGING_FROM, TRAINS, Case, cases, each
from barnlight.demo.shutter_chatter import TALKS
from barnlight.demo.shutter_ranges import HOME, UNLIKE
from barnlight.domain.shutter_timing import read

# Of each seed; five seeds make the 1,000 recordings of the targets.
COUNTS = {"one": 200, "three": 100, "unlike": 200, "unlike three": 20, "nothing": 180, "talk": 120, "even train": 36, "stalled train": 36, "faint": 30}
NEVER_CLEAR = ("silence", "speech", "clipped noise", "one click", "buzz")
MOST_FALSE_HINTS = 0.05


def judged(case: Case) -> Reading:
    """A recording's result at its marked speed against its truth."""
    return reading(case, read(case.heard, case.marked_s, catalogue.load()["shutter_timing"]))


def readings(kind: str, seeds: list[int], asked: argparse.Namespace) -> list[Reading]:
    count = max(1, round(COUNTS[kind] * asked.share))
    found = cases(kind, seeds, count, asked.cache, asked.processes)
    return each(judged, [(case,) for case in found], f"{kind}: reading", asked.processes)


def show(title: str, found: dict[str, Share], of: list[Reading]) -> None:
    print(f"\n{title} (median width of the interval {median_width_stops(of):.3f} stop)")
    for name, value in found.items():
        print(f"  {name:28} {value}")


def show_by_speed(of: list[Reading]) -> None:
    columns = ("clear", "clear within 1/6", "clear within 1/3", "answered", "answered within 1/6", "interval covers, answered")
    print("\nBy marked speed, %: " + ", ".join(columns))
    for marked_s in sorted({one.case.marked_s for one in of}, reverse=True):
        at = [one for one in of if one.case.marked_s == marked_s]
        found = singles(at)
        text = f"{marked_s:g} s" if marked_s >= 1 else f"1/{1 / marked_s:.0f} s"
        print(f"  {text:8} n {len(at):4}  " + "".join(f"{100 * found[name].value:7.1f}" for name in columns) + f"   width {median_width_stops(at):.3f}")


def target(name: str, found: Share, limit: float, *, least: bool = True) -> bool:
    """One line: met or not, by the figure itself; `sure` where its whole uncertainty lies on the right side."""
    low, high = found.limits()
    met = found.of > 0 and (found.value >= limit if least else found.value <= limit)
    sure = met and (low >= limit if least else high <= limit)
    print(f"  {'met' if met else 'NOT MET':8}{'sure' if sure else '':5} {name:46} {'>=' if least else '<='} {100 * limit:g} %: {found}")
    return met


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", default="101-105", help=f"judging seeds, {JUDGING_FROM} or more: 101-105 or 101,107")
    parser.add_argument("--share", type=float, default=1.0, help="of the recordings a seed has, for a quick look")
    parser.add_argument("--libraries", type=int, default=20, help="recordings of each seed that general libraries read too")
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--cache", type=Path, default=Path(".barnlight/bench"), help="where what was heard is kept")
    asked = parser.parse_args()
    seeds = seeds_of(asked.seeds)
    if min(seeds) < JUDGING_FROM:
        parser.error(f"seeds below {JUDGING_FROM} are for tuning; judge with others")
    began = time.monotonic()
    constants = catalogue.load()["shutter_timing"]
    print(f"Algorithm {constants['algorithm']}, seeds {asked.seeds}. What is assumed of shutters, hands, rooms and phones:")
    print("\n".join(f"  {line}" for line in HOME.lines()))
    print("An unlike shutter differs in:")
    print("\n".join(f"  {line}" for line in UNLIKE.lines() if line not in HOME.lines()))
    found = {kind: readings(kind, seeds, asked) for kind in COUNTS}
    sure = constants["common"]["clear_share"]
    one, unlike, three = singles(found["one"]), singles(found["unlike"]), triples(found["three"], sure)
    show("One firing, 20-40 dB", one, found["one"])
    show_by_speed(found["one"])
    show("A shutter unlike the fitted ones, one firing", unlike, found["unlike"])
    show(f"Three firings, 20-40 dB (sure: posterior >= {sure})", three, found["three"])
    show("A shutter unlike the fitted ones, three firings", triples(found["unlike three"], sure), found["unlike three"])
    show("Faint: one firing, 5-15 dB", singles(found["faint"]), found["faint"])
    print("\nCalled clear where nothing was fired")
    nothing = {what: share([one.clear for one in found["nothing"] if one.case.what == what]) for what in (*NEVER_CLEAR, "thuds")}
    for what, value in nothing.items():
        print(f"  {what:28} {value}")
    talk = {what: share([one.clear for one in found["talk"] if one.case.what == what]) for what in TALKS}
    any_talk = share([one.clear for one in found["talk"]])
    print("\nCalled clear where people talk: " + ", ".join(f"{what} {value.hits} of {value.of}" for what, value in talk.items()) + f"; all {any_talk}")
    hints = {kind: share([one.uneven for one in found[kind] if one.uneven is not None]) for kind in TRAINS}
    print("\nBuzz called uneven, of those that could be judged")
    for kind, value in hints.items():
        print(f"  {kind:28} {value}; judged {value.of} of {len(found[kind])}")
    if asked.libraries:
        shutter_libraries.compare(seeds, asked.libraries, asked.processes)
    print("\nTargets (uncertainty: 95 %, Wilson)")
    met = [
        target("one firing: answered", one["answered"], 0.96),
        target("one firing: clear", one["clear"], 0.55),
        target("one firing: clear within 1/6 stop", one["clear within 1/6"], 0.97),
        target("one firing: clear within 1/3 stop", one["clear within 1/3"], 0.98),
        target("one firing: interval covers, all answered", one["interval covers, answered"], 0.95),
        target("three firings: common reading", three["common reading"], 0.95),
        target("three firings: sure ones within 1/6 stop", three["sure within 1/6"], 0.99),
        target("unlike shutter: clear within 1/3 stop", unlike["clear within 1/3"], 0.97),
        target("handling thuds called clear", nothing["thuds"], 0.02, least=False),
        *(target(f"{what} called clear", nothing[what], 0, least=False) for what in NEVER_CLEAR),
        target("talk of all kinds called clear", any_talk, 0, least=False),
        target("even trains called uneven", hints["even train"], MOST_FALSE_HINTS, least=False),
    ]
    print(f"{sum(met)} of {len(met)} met; {time.monotonic() - began:.0f} s")
    return 0 if all(met) else 1


def seeds_of(text: str) -> list[int]:
    """[101, 102, 105] of "101-102,105"."""
    found: list[int] = []
    for part in text.split(","):
        first, _, last = part.partition("-")
        found += range(int(first), int(last or first) + 1)
    return found


if __name__ == "__main__":
    sys.exit(main())
