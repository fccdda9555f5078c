"""What a shutter's table says of the whole: which part is at fault, how far it is good, and speeds that read too much alike."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.exposure import is_judged, parse_mark
from barnlight.domain.report_words import listed
from barnlight.domain.rounding import fixed

GOOD = ("fine", "usable")
JUDGED = (*GOOD, "needs_service", "erratic")
# Neighbouring marks this far apart or more are steps of about one stop; closer ones (1/75, 1/100) prove nothing.
LEAST_STEP_STOPS = 0.75
# Marks that read less than half their step apart read alike; common practice, no source (trade notes 4: 1 s right, 1/2 = 0.9 s).
ALIKE_SHARE = 0.5
LEAST_FOR_EVEN = 3


def judgement(rows: Sequence[Mapping], piece: Mapping, catalogue: Mapping) -> dict[str, Any]:
    """`rows`: of `shutter_table.table`. Errors in stops; marks faster than sound can judge count neither for nor against.

    {regimes: [{id, title, state: fine | usable | slow | fast | mixed | erratic, at: marks beyond the bands, cause}],
    alike: [{slower, faster, step_stops, nominal_stops}], even_stops: an error that all speeds share, None without one,
    good_up_to: {text, seconds} or None, but: slower marks that are not good, untried: marks no firing judged, lines: sentences}.
    """
    bands = catalogue["shutter_timing"]["bands"]
    judged = [row for row in rows if row["band"] in JUDGED]
    regimes = _regimes(judged, piece, catalogue)
    alike, even = _alike(judged), _even(judged, bands)
    good = [row["marked"] for row in judged if row["band"] in GOOD]
    good_up_to = good[-1] if good else None
    bad = [row for row in judged if row["band"] not in GOOD]
    but = [row["marked"]["text"] for row in bad if good_up_to and row["nominal_s"] > _nominal(judged, good_up_to)]
    untried = _untried(judged, rows, piece, bands)
    return {
        "regimes": regimes, "alike": alike, "even_stops": even, "good_up_to": good_up_to, "but": but, "untried": untried,
        "lines": _lines(regimes, alike, even, good_up_to, but, untried),
    }  # fmt: skip


def _regimes(judged: list[Mapping], piece: Mapping, catalogue: Mapping) -> list[dict[str, Any]]:
    kind = next((one for one in catalogue["shutter_kinds"] if one["id"] == piece.get("shutter_kind")), None)
    known = {one["id"]: one for one in (kind or {"regimes": []})["regimes"]}
    by_regime: dict[str | None, list[Mapping]] = {}
    for row in judged:
        by_regime.setdefault(row["regime"] if row["regime"] in known else None, []).append(row)
    found = []
    for regime, rows in by_regime.items():
        state, at = _state(rows)
        about = known.get(regime, {"title": "Shutter of unknown kind"})
        found.append({"id": regime, "title": about["title"], "state": state, "at": at, "cause": about.get(f"if_{state}")})
    return found


def _state(rows: list[Mapping]) -> tuple[str, list[str]]:
    """The state of one regime and the marks that are beyond the bands. Erratic comes first: no figure of such a speed holds."""
    erratic = [row["marked"]["text"] for row in rows if row["band"] == "erratic"]
    if erratic:
        return "erratic", erratic
    off = [row for row in rows if row["band"] == "needs_service"]
    if off:
        signs = {row["error_stops"] > 0 for row in off}
        return "mixed" if len(signs) > 1 else "slow" if True in signs else "fast", [row["marked"]["text"] for row in off]
    return ("usable" if any(row["band"] == "usable" for row in rows) else "fine"), []


def _alike(judged: list[Mapping]) -> list[dict[str, Any]]:
    """Neighbours of one regime that read nearly the same, beyond what their limits explain: the ring or cam, not dried oil."""
    steady = [row for row in judged if row["band"] != "erratic"]
    found = []
    for slower, faster in zip(steady, steady[1:], strict=False):
        nominal_stops = math.log2(slower["nominal_s"] / faster["nominal_s"])
        step_stops = nominal_stops + slower["error_stops"] - faster["error_stops"]
        most_stops = nominal_stops + slower["error_high"] - faster["error_low"]
        if slower["regime"] == faster["regime"] and nominal_stops >= LEAST_STEP_STOPS and step_stops < ALIKE_SHARE * nominal_stops and most_stops < nominal_stops:
            found.append({"slower": slower["marked"]["text"], "faster": faster["marked"]["text"], "step_stops": step_stops, "nominal_stops": nominal_stops})
    return found


def _even(judged: list[Mapping], bands: Mapping) -> float | None:
    """The mean error of a shutter that is off by about the same at every speed, in stops."""
    errors = [row["error_stops"] for row in judged]
    if len(errors) < LEAST_FOR_EVEN or any(row["band"] == "erratic" for row in judged) or max(errors) - min(errors) > bands["fine_stops"]:
        return None
    mean = sum(errors) / len(errors)
    return mean if abs(mean) > bands["fine_stops"] else None


def _nominal(rows: list[Mapping], mark: Mapping) -> float:
    return next(row["nominal_s"] for row in rows if row["marked"] == mark)


def _untried(judged: list[Mapping], rows: Sequence[Mapping], piece: Mapping, bands: Mapping) -> list[str]:
    """Marks on the shutter that sound could judge and no firing has, slowest first."""
    listed_marks = [mark["text"] for mark in (piece.get("speeds") or {}).get("marks", [])] + [row["marked"]["text"] for row in rows]
    heard = {row["marked"]["text"] for row in judged}
    times = {text: parse_mark(text) for text in listed_marks}
    open_marks = [text for text, said_s in times.items() if said_s is not None and is_judged(said_s, bands) and text not in heard]
    return sorted(open_marks, key=lambda text: -times[text])


def _lines(regimes: list[dict], alike: list[dict], even: float | None, good_up_to: Mapping | None, but: list[str], untried: list[str]) -> list[str]:
    if not regimes:
        return ["No speed could be judged yet."]
    lines = [_regime_line(one) for one in regimes]
    lines += [
        f"{one['slower']} and {one['faster']} read nearly alike: look whether the ring was set; if it was, suspect the ring or its cam, not old oil."
        for one in alike
    ]
    if even is not None:
        lines.append(f"All speeds judged are about {fixed(abs(even), 1)} stop {'slow' if even > 0 else 'fast'} alike: a label on the board, not a fault.")
    good = f"Good up to {good_up_to['text']}" if good_up_to else "Good at no speed judged"
    lines.append(good + (f", but not {listed(but)}" if but else "") + (f"; {listed(untried)} not judged" if untried else "") + ".")
    return lines


def _regime_line(regime: Mapping) -> str:
    at = listed(regime["at"])
    words = {
        "fine": "fine",
        "usable": "usable; write the true speeds down",
        "slow": f"too slow at {at}",
        "fast": f"too fast at {at}",
        "mixed": f"far off at {at}, slow and fast",
        "erratic": f"differs from firing to firing at {at}",
    }[regime["state"]]
    return f"{regime['title']}: {words}." + (f" {regime['cause']}" if regime["cause"] else "")
