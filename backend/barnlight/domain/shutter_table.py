"""The table of a shutter's speeds: takes with their readings in, one row a marked speed out.

The cold firing stands alone; the settled ones give median and scatter; drift is cold against settled at that speed.
"""

from __future__ import annotations

from statistics import median
from typing import Any

from barnlight.domain.exposure import band, error_stops, is_judged, nominal_seconds, parse_mark


def table(takes: list[dict], piece: dict, catalogue: dict) -> list[dict[str, Any]]:
    """Rows from the slowest to the fastest marked speed.

    `takes`: [{marked: {text, seconds}, cold, ordinal, reading: {verdict, open_time_s, low_s, high_s, moved}}]. A reading
    counts if it is clear or a person set its marks; where no take of a speed has one, doubtful readings are shown but not
    judged. Times in seconds, errors in stops; limits are 95 %.
    """
    series = next((one for one in catalogue["series"] if one["id"] == (piece.get("speeds") or {}).get("series")), None)
    regimes = next((kind["regimes"] for kind in catalogue["shutter_kinds"] if kind["id"] == piece.get("shutter_kind")), [])
    bands = catalogue["shutter_timing"]["bands"]
    by_mark: dict[str, list[dict]] = {}
    for take in takes:
        if take["marked"]["seconds"] is not None:
            by_mark.setdefault(take["marked"]["text"], []).append(take)
    rows = [_row(of_mark, series, regimes, bands) for of_mark in by_mark.values()]
    return sorted(rows, key=lambda row: -row["marked"]["seconds"])


def _row(takes: list[dict], series: dict | None, regimes: list[dict], bands: dict) -> dict[str, Any]:
    marked = takes[0]["marked"]
    # What the mark says decides, whatever a list of speeds stored as its seconds: 1/125 may stand there as 1/128.
    said_s = parse_mark(marked["text"]) or marked["seconds"]
    nominal_s = nominal_seconds(marked["text"], series) or said_s
    usable = [take for take in takes if take["reading"]["open_time_s"] is not None]
    counted = [take for take in usable if _is_sure(take["reading"])] or usable
    sure = bool(counted) and _is_sure(counted[0]["reading"])
    cold = next((_limits(take["reading"]) for take in counted if take["cold"]), None)
    warm = sorted((take["reading"] for take in counted if not take["cold"]), key=lambda reading: reading["open_time_s"])
    settled = _settled(warm) if warm else None
    # A shutter met once and never warmed up is judged by that one firing.
    judged = {"s": settled["median_s"], **settled} if settled else cold
    stops, low, high = (error_stops(judged[name], nominal_s) if judged else None for name in ("s", "low_s", "high_s"))
    return {
        "marked": marked,
        "nominal_s": nominal_s,
        "cold": cold,
        "settled": settled,
        "drift_stops": error_stops(cold["s"], settled["median_s"]) if cold and settled else None,
        "error_stops": stops,
        "error_low": low,
        "error_high": high,
        "band": _band(stops, said_s, bands, warm) if sure else "not_judged",
        "regime": next((one["id"] for one in regimes if one["from_s"] >= said_s > one["to_s"]), None),
        "not_read": len(takes) - len(counted),
    }


def _is_sure(reading: dict) -> bool:
    return reading["open_time_s"] is not None and (reading["verdict"] == "clear" or bool(reading.get("moved")))


def _limits(reading: dict) -> dict[str, float]:
    return {"s": reading["open_time_s"], "low_s": reading["low_s"], "high_s": reading["high_s"]}


def _settled(warm: list[dict]) -> dict[str, Any]:
    """Median of the settled firings (fastest first); its limits reach over all of them, for so few bound the median no closer."""
    fastest, slowest, count = warm[0], warm[-1], len(warm)
    middle = warm[(count - 1) // 2 : count // 2 + 1]
    return {
        "median_s": median(reading["open_time_s"] for reading in middle),
        "low_s": min(fastest["open_time_s"], median(reading["low_s"] for reading in middle)),
        "high_s": max(slowest["open_time_s"], median(reading["high_s"] for reading in middle)),
        "n": count,
        "scatter_stops": error_stops(slowest["open_time_s"], fastest["open_time_s"]) if count > 1 else None,
    }


def _band(stops: float, marked_s: float, bands: dict, warm: list[dict]) -> str:
    return "erratic" if is_judged(marked_s, bands) and _is_erratic(warm, bands) else band(stops, marked_s, bands)


def _is_erratic(warm: list[dict], bands: dict) -> bool:
    """Scatter beyond the limit, and more than the limits of the two firings can explain."""
    if len(warm) < 2:
        return False
    fastest, slowest = warm[0], warm[-1]
    scatter_stops = error_stops(slowest["open_time_s"], fastest["open_time_s"])
    return scatter_stops > bands["erratic_stops"] and slowest["low_s"] > fastest["high_s"]
