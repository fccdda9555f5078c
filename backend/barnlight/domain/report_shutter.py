"""The shutter in a report: what it adds up to, cold first and settled, every speed, what was not judged, how it was heard."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from barnlight.domain.chart import chart_svg, chart_title, shutter_chart
from barnlight.domain.report_words import counted, listed, moment_day, stops_words, time_words
from barnlight.domain.rounding import fixed
from barnlight.domain.shutter_judgement import judgement
from barnlight.domain.shutter_table import table
from barnlight.domain.shutter_takes import read_takes
from barnlight.domain.waveform import wave_svg

BAND_WORDS = {
    "fine": "fine for film",
    "usable": "usable; write the true speed on the board",
    "needs_service": "needs service",
    "erratic": "needs service: firings differ",
    "indication_only": "indication only",
    "not_judged": "not judged",
}


# From here on the travel of the blades no longer matters: below 0.05 stop by the blade model of the method.
STOP_MATTERS_BELOW_S = 0.03
HOLDS = "Times shorter than 1/30 s hold about one stop down: wide open film gets less, stopped down more."


def shutter_section(piece: Mapping, records: Mapping, measured: Mapping, waves: Mapping, catalogue: Mapping) -> dict[str, Any] | None:
    """`records`: takes, marks and recordings of one visit by kind; `measured`: take id -> measurement; `waves`: take id ->
    `waveform.wave` of the stretch around its `wave_marks`. None without a take.
    """
    takes = _takes(records)
    if not takes:
        return None
    read = _read(takes, records, measured, catalogue)
    rows = table(read, piece, catalogue)
    kind = next((one for one in catalogue["shutter_kinds"] if one["id"] == piece.get("shutter_kind")), None)
    regimes = {one["id"]: one["title"] for one in (kind or {"regimes": []})["regimes"]}
    moved_count = sum(1 for take in read if take["reading"]["moved"])
    named = {take["recording"] for take in takes}
    heard = [one for one in records.get("recording", []) if one["id"] in named]
    return {
        "rows": [{**_row(row, regimes), "at_stop": _stop_words(row, takes)} for row in rows],
        "chart": chart_svg(shutter_chart(rows), chart_title(rows)) if rows else "",
        "waves": _waves(takes, read, waves),
        "untried": _untried(piece, rows),
        "cold": _cold_words(rows, read),
        "lines": _lines(rows, piece, catalogue),
        "unread": _unread_words(takes, read, catalogue),
        "moved": f"{counted(moved_count, 'take has', 'takes have')} marks that a person set; the figure is theirs, not the machine's." if moved_count else "",
        "conditions": _conditions(takes),
        "processed": any((one.get("capture") or {}).get("processed") is True for one in heard),
        "made_by_code": any(one.get("origin") == "made_by_code" for one in heard),
        "interval": catalogue["shutter_timing"]["interval_meaning"],
        "holds": HOLDS if any(_is_by_stop(row) for row in rows) else "",
        "algorithm": catalogue["shutter_timing"]["algorithm"],
        "fine": "1/3",
        "usable": fixed(catalogue["shutter_timing"]["bands"]["usable_stops"], 0),
        "judged_to": f"1/{fixed(1 / catalogue['shutter_timing']['bands']['judged_from_s'], 0)}",
    }


def wave_marks(records: Mapping, measured: Mapping, catalogue: Mapping) -> dict[str, tuple[float | None, float | None]]:
    """Take id -> where its firing opens and closes in its recording, in seconds; None where nothing could be read."""
    read = _read(_takes(records), records, measured, catalogue)
    return {one["id"]: (one["reading"]["open_s"], one["reading"]["close_s"]) for one in read}


def how_to_work(piece: Mapping, catalogue: Mapping) -> dict[str, Any] | None:
    """Three lines and the cocking rule for the shutter's kind; None where the kind is not known."""
    kind = next((one for one in catalogue["shutter_kinds"] if one["id"] == piece.get("shutter_kind")), None)
    return kind and {"kind_title": kind["title"], "steps": list(kind["how_to_work"]), "rule": kind["cocking_rule"], "expect": kind["expect"]}


def _takes(records: Mapping) -> list[dict]:
    return [take for take in records.get("take", []) if take.get("intent") and take.get("recording")]


def _read(takes: list[dict], records: Mapping, measured: Mapping, catalogue: Mapping) -> list[dict]:
    moved = {mark["take"]: mark["moved"] for mark in records.get("mark", []) if mark.get("moved")}
    return read_takes(takes, measured, moved, catalogue)


def _waves(takes: list[dict], read: list[dict], waves: Mapping) -> dict[str, Any] | None:
    """The sound of every take that was measured, small, with whose marks it bears."""
    named = {take["id"]: take_words(take) for take in takes}
    shown = []
    for one in read:
        if one["id"] in waves:
            reading, name = one["reading"], named[one["id"]]
            said = time_words(reading["open_time_s"]) if reading["open_time_s"] is not None else "could not be judged"
            whose = "marks set by a person" if reading["moved"] else "marks set by the machine" if reading["open_s"] is not None else "no marks"
            svg = wave_svg(waves[one["id"]], reading["open_s"], reading["close_s"], f"Sound of {name}: {said}; {whose}.")
            shown.append({"wave_title": name, "svg": svg, "words": f"{said}; {whose}"})
    return {"list": shown} if shown else None


def _row(row: Mapping, regimes: Mapping) -> dict[str, Any]:
    settled, cold = row["settled"], row["cold"]
    error = row["error_stops"]
    return {
        "marked": row["marked"]["text"],
        "nominal": time_words(row["nominal_s"]),
        "cold": cold and _span(cold["s"], cold["low_s"], cold["high_s"]),
        "settled": settled and _span(settled["median_s"], settled["low_s"], settled["high_s"]),
        "n": settled["n"] if settled else 0,
        "scatter": f"{fixed(settled['scatter_stops'], 2)}" if settled and settled["scatter_stops"] is not None else "",
        "error": "" if error is None else stops_words(error),
        "error_range": "" if error is None else f"{stops_words(row['error_low'])} to {stops_words(row['error_high'])}",
        "band": row["band"],
        "band_words": BAND_WORDS[row["band"]],
        "regime": regimes.get(row["regime"], ""),
        "not_read": f"{counted(row['not_read'], 'take', 'takes')} not readable" if row["not_read"] else "",
    }


def _span(middle_s: float, low_s: float, high_s: float) -> dict[str, str]:
    return {"time": time_words(middle_s), "range": f"{time_words(low_s)} to {time_words(high_s)}"}


def _untried(piece: Mapping, rows: list[dict]) -> str:
    """The marks on the shutter that nobody recorded."""
    heard = {row["marked"]["text"] for row in rows}
    return listed([mark["text"] for mark in (piece.get("speeds") or {}).get("marks", []) if mark["text"] not in heard])


def _cold_words(rows: list[dict], read: list[dict]) -> str:
    row = next((one for one in rows if one["cold"]), None)
    unsure = next((one for one in read if one["cold"]), None)
    if row is None and unsure:
        time_s = unsure["reading"]["open_time_s"]
        about = f" (perhaps {time_words(time_s)})" if time_s is not None else ""
        return f"The first firing of the day was recorded, at {unsure['marked']['text']}, but could not be read with certainty{about}: the cold state is not known."
    if row is None:
        return "The first firing of the day was not recorded, so the cold state is not known."
    said = f"First firing of the day, at {row['marked']['text']}: {time_words(row['cold']['s'])}"
    if row["drift_stops"] is None:
        return f"{said}. No settled firings at that speed to hold it against."
    return f"{said}, {stops_words(row['drift_stops'])} stop against the settled ones. Film gets the first firing."


def _lines(rows: list[dict], piece: Mapping, catalogue: Mapping) -> list[dict[str, Any]]:
    """[{words, bad}]: which regime is at fault and how, slow or erratic, and up to which mark the shutter is good."""
    judged = judgement(rows, piece, catalogue)
    bad = [one["state"] not in ("fine", "usable") for one in judged["regimes"]]
    return [{"words": words, "bad": index < len(bad) and bad[index]} for index, words in enumerate(judged["lines"])]


def _is_by_stop(row: Mapping) -> bool:
    return row["nominal_s"] < STOP_MATTERS_BELOW_S and (row["settled"] or row["cold"]) is not None


def _stop_words(row: Mapping, takes: list[dict]) -> str:
    """At which stop a figure was taken, where that matters."""
    if not _is_by_stop(row):
        return ""
    own = [take.get("conditions") or {} for take in takes if take["intent"]["marked"]["text"] == row["marked"]["text"]]
    stops = list(dict.fromkeys(one["stop"] for one in own if one.get("stop")))
    return f"at {listed(stops)}" if stops else "stop not noted"


def _unread_words(takes: list[dict], read: list[dict], catalogue: Mapping) -> list[str]:
    """Takes that were kept though they could not be judged, and those whose sound is still on the phone."""
    reasons = catalogue["shutter_timing"]["reasons"]
    known = {one["id"]: one for one in read}
    words = []
    for take in takes:
        what = f"{take['intent']['marked']['text']}, {'cold' if take['intent'].get('cold') else 'settled'}"
        reading = known[take["id"]]["reading"] if take["id"] in known else None
        if reading is None:
            words.append(f"{what}: its recording is not on the server, so nothing was measured.")
        elif reading["open_time_s"] is None:
            words.append(f"{what}: could not be judged. {reasons.get(reading['reason'], '').split('. ')[0].rstrip('.')}.")
    return words


def _conditions(takes: list[dict]) -> str:
    """Stops, temperature, attitude and days of all takes together."""
    said = [take.get("conditions") or {} for take in takes]
    stops = list(dict.fromkeys(one["stop"] for one in said if one.get("stop")))
    celsius = [one["celsius"] for one in said if one.get("celsius") is not None]
    attitudes = list(dict.fromkeys(one["attitude"] for one in said if one.get("attitude")))
    warmth = "temperature not noted"
    if celsius:
        low, high = fixed(min(celsius), 0), fixed(max(celsius), 0)
        warmth = f"{low} °C" if low == high else f"{low} to {high} °C"
    days = list(dict.fromkeys(day for take in takes if (day := moment_day(take.get("at")))))
    attitude = f"lens pointing {listed(attitudes)}".replace("pointing level", "held level") if attitudes else "attitude not noted"
    return "; ".join([f"iris at {listed(stops)}" if stops else "iris setting not noted", warmth.replace("-", "−"), attitude, *days])


def take_words(take: Mapping) -> str:
    """What a take was meant to be: "1/50, settled 2"."""
    intent = take.get("intent") or {}
    marked = (intent.get("marked") or {}).get("text", "")
    return f"{marked}, first firing of the day" if intent.get("cold") else f"{marked}, settled {intent.get('ordinal', 1)}"
