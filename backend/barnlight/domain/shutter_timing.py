"""Open times of a leaf shutter from a recording of its sound: the whole way from samples to firings and verdict.

The figure is the interval from click to click: the end of opening to the end of closing, as is assumed of the two loud
clicks. It is about the light-weighted time near one stop down; figures and limits come from simulated sound.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from barnlight.domain import shutter_alone, shutter_buzz, shutter_common, shutter_events
from barnlight.domain.shutter_candidates import Clicks, find_clicks
from barnlight.domain.shutter_events import Event
from barnlight.domain.shutter_pairs import Pairs, find_pairs
from barnlight.domain.shutter_signal import Signal, prepare, why_unusable


NOT_ALONE = {"verdict": "doubtful", "reason": "not_alone"}
# Reasons that leave it open whether a shutter was fired at all.
NO_SHUTTER = ("may_not_be_a_shutter", "not_alone")


@dataclass(frozen=True)
class Heard:
    """What a recording holds before any mark is looked at."""

    signal: Signal
    clicks: Clicks


def measure(samples: np.ndarray, rate_hz: int, marked_s: float | None, constants: dict) -> dict[str, Any]:
    """The firings of a recording.

    `samples`: mono, full scale -1..1; `marked_s`: the marked speed in seconds, None if not known; `constants`: the
    catalogue's `shutter_timing`. Returns {verdict, reason, open_time_s, low_s, high_s, other_s, firings, common, clicks_s,
    ...}; times in seconds from the start of the recording, limits are 95 %. Raises ValueError below 8000 samples a second.
    """
    return read(listen(samples, rate_hz, constants), marked_s, constants)


def listen(samples: np.ndarray, rate_hz: int, constants: dict) -> Heard | str:
    """The clicks of a recording, or the id of the reason why it is unusable."""
    reason = why_unusable(samples, constants)
    if reason:
        return reason
    signal = prepare(samples, rate_hz, constants)
    return Heard(signal, find_clicks(signal, constants))


def read(heard: Heard | str, marked_s: float | None, constants: dict) -> dict[str, Any]:
    """What `measure` returns, of a recording that was listened to."""
    return read_both(heard, marked_s, constants)[0]


def read_both(heard: Heard | str, marked_s: float | None, constants: dict) -> tuple[dict[str, Any], dict[str, Any]]:
    """(what `measure` returns for the marked speed, what it returns without one), of a recording that was listened to."""
    if isinstance(heard, str):
        return _unusable(heard, marked_s, constants, []), _unusable(heard, None, constants, [])
    unmarked = _read(heard, None, constants)
    return (unmarked if marked_s is None else _doubted(_read(heard, marked_s, constants), unmarked, constants)), unmarked


def _read(heard: Heard, marked_s: float | None, constants: dict) -> dict[str, Any]:
    signal, clicks = heard.signal, heard.clicks
    clicks_s = (clicks.at / signal.rate_hz).tolist()
    pairs = find_pairs(signal, clicks, marked_s, constants)
    events = shutter_events.find_events(pairs, constants)
    if not events or events[0].none_p > constants["verdict"]["none_unusable"]:
        alone = len(clicks.at) < 2
        return _unusable("one_click_alone" if alone else "no_pair_stands_out", marked_s, constants, clicks_s)
    common = shutter_common.common_reading(pairs, events, constants)
    chosen = common["chosen"] if common else [event.best for event in events]
    firings = [_firing(pairs, event, answer, constants) for event, answer in zip(events, chosen, strict=True) if answer is not None]
    alone = shutter_alone.stands_alone(signal, clicks, pairs, events, constants["alone"])
    if not alone:
        firings = [firing | NOT_ALONE if firing["verdict"] == "clear" else firing for firing in firings]
    lead, verdict = _leading(firings, common, alone, constants)
    best = common or lead
    return {
        "verdict": verdict,
        "reason": None if verdict == "clear" else lead["reason"],
        "marked_s": marked_s,
        "open_time_s": best["open_time_s"],
        "low_s": best["low_s"],
        "high_s": best["high_s"],
        "other_s": None if verdict == "clear" else lead["other_s"],
        "firings": sorted(firings, key=lambda firing: firing["open_s"]),
        "common": common and {name: common[name] for name in ("open_time_s", "spread_stops", "share")},
        "buzz": None if lead["reason"] in NO_SHUTTER else shutter_buzz.buzz_of(signal, clicks, firings, lead, constants["buzz"]),
        "clicks_s": clicks_s,
        "interval": constants["interval_meaning"],
        "algorithm": constants["algorithm"],
    }


def _doubted(result: dict[str, Any], unmarked: dict[str, Any], constants: dict) -> dict[str, Any]:
    """The result, doubted where the sound by itself clearly says another time: the mark must not hide a shutter far off."""
    if unmarked["verdict"] != "clear":
        return result
    if result["open_time_s"] is None or result["reason"] == "may_not_be_a_shutter":
        return {**unmarked, "marked_s": result["marked_s"], "verdict": "doubtful", "reason": "far_from_mark"}
    apart_stops = abs(math.log2(unmarked["open_time_s"] / result["open_time_s"]))
    if apart_stops <= constants["verdict"]["clear_stops"]:
        return result
    return {**result, "verdict": "doubtful", "reason": "far_from_mark", "other_s": unmarked["open_time_s"]}


def measure_marks(open_s: float, close_s: float, constants: dict) -> dict[str, Any]:
    """The reading between two marks that a person set, in the shape of a firing; placing by eye is taken as a weak click's."""
    time_s = close_s - open_s
    limits = constants["interval"]
    half_ms = math.hypot(limits["weak_onset_ms"], limits["weak_onset_ms"], limits["impact_ms"]) + limits["clock_ppm"] * 1e-3 * time_s
    fits = constants["pairs"]["least_s"] <= time_s <= constants["pairs"]["most_s"]
    return {
        "open_s": open_s,
        "close_s": close_s,
        "open_time_s": time_s if fits else None,
        "low_s": time_s - half_ms / 1000 if fits else None,
        "high_s": time_s + half_ms / 1000 if fits else None,
        "verdict": "clear" if fits else "unusable",
        "reason": None if fits else "marks_do_not_fit",
        "other_s": None,
        "moved": True,
    }


def _leading(firings: list[dict], common: dict | None, alone: bool, constants: dict) -> tuple[dict[str, Any], str]:
    """The firing that stands for all, and the verdict of the whole: firings that agree are clear together.

    Only if the likeliest sounds like a shutter at all and they stand alone: a motor agrees with itself too.
    """
    if firings[0]["reason"] in NO_SHUTTER:
        return firings[0], "doubtful"
    if not common or common["share"] < constants["common"]["clear_share"]:
        # One that is clear by itself is not, where the others do not bear it out.
        doubted = common is not None and firings[0]["verdict"] == "clear"
        return (firings[0] | {"reason": "other_readings_fit"}, "doubtful") if doubted else (firings[0], firings[0]["verdict"])
    lead = min(firings, key=lambda firing: abs(firing["open_time_s"] - common["open_time_s"]))
    if math.log2(common["high_s"] / common["low_s"]) / 2 > constants["verdict"]["clear_stops"]:
        return lead | {"reason": "interval_too_wide"}, "doubtful"
    return (lead, "clear") if alone else (lead | NOT_ALONE, "doubtful")


def _firing(pairs: Pairs, event: Event, answer: int, constants: dict) -> dict[str, Any]:
    low_s, high_s = shutter_events.limits_s(pairs, event, answer, constants)
    verdict, reason = shutter_events.verdict_of(pairs, event, answer, low_s, high_s, constants["verdict"])
    other = event.rivals[event.groups[1][0]] if verdict != "clear" and len(event.groups) > 1 else None
    return {
        "open_s": float(pairs.open_s[answer]),
        "close_s": float(pairs.close_s[answer]),
        "open_time_s": float(pairs.open_time_s[answer]),
        "low_s": low_s,
        "high_s": high_s,
        "verdict": verdict,
        "reason": reason,
        "other_s": None if other is None else float(pairs.open_time_s[other]),
    }


def _unusable(reason: str, marked_s: float | None, constants: dict, clicks_s: list[float]) -> dict[str, Any]:
    return {
        "verdict": "unusable",
        "reason": reason,
        "marked_s": marked_s,
        "open_time_s": None,
        "low_s": None,
        "high_s": None,
        "other_s": None,
        "firings": [],
        "common": None,
        "buzz": None,
        "clicks_s": clicks_s,
        "interval": constants["interval_meaning"],
        "algorithm": constants["algorithm"],
    }
