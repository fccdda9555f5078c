"""The head of a piece in a report: its facts, and the verdict in words with its range and what drove it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from barnlight.domain.report_findings import anchor, fault_words
from barnlight.domain.report_words import counted, listed, places_words, title_of
from barnlight.domain.rounding import fixed


def piece_facts(piece: Mapping, visit: Mapping, catalogue: Mapping) -> list[dict[str, str]]:
    """{name, value} of what is known about the piece; what nobody filled in is left out."""
    terms, holders = catalogue["terms"], piece.get("holders") or {}
    said = [
        ("Kind", title_of(terms["piece_kinds"], piece.get("kind"))),
        ("Type", title_of(terms["piece_types"].get(piece.get("kind") or "", []), piece.get("type"))),
        ("Format", title_of(catalogue["formats"], piece.get("format"), piece.get("format") or "")),
        ("Shutter", title_of(catalogue["shutter_kinds"], piece.get("shutter_kind"))),
        ("Marked speeds", ", ".join(mark["text"] for mark in (piece.get("speeds") or {}).get("marks", []))),
        ("Holders", str(holders["count"]) if holders.get("count") else ""),
        ("Film they take", title_of(catalogue["formats"], holders.get("film_size"))),
        ("Built of", title_of(terms["builds"], holders.get("build")).lower()),
        ("Film lies on", title_of(terms["registers_on"], holders.get("registers_on")).lower()),
        ("Screen, from the lens", listed([_surface(one, catalogue) for one in piece.get("screen_stack") or []])),
        ("Temperature", _warmth(visit.get("temperature") or {})),
    ]
    return [{"name": name, "value": value} for name, value in said if value]


def verdict_words(piece: Mapping, sample: Mapping | None, judged: Mapping, catalogue: Mapping) -> dict[str, Any]:
    """The derived verdict for a reader: word, meaning, range, drivers, and for holders the count one by one."""
    terms = catalogue["terms"]["verdicts"]
    word = judged["verdict"]
    by_id = {check["id"]: check for check in catalogue["checks"]}
    up_to = judged["range"]["up_to"]
    own = (piece.get("parts_only") or {}).get("reason") or ""
    drove = [_drove(by_id[check], own, catalogue) for check, own in _by_check(judged["drove"]).items()]
    return {
        "id": word,
        "words": title_of(terms, word),
        "meaning": next(one["hint"] for one in terms if one["id"] == word) if word != "parts_only" else "No cure is known, or the sender offers it for parts.",
        "range": f"Up to {up_to['text']}; faster speeds were not judged." if up_to else "",
        "own_reason": f"Offered for parts: {own}" if word == "parts_only" and own else "",
        "drove": {"list": drove} if drove else None,
        "unlooked": _unlooked_words(len(judged["unlooked"])) if word == "not_proven" else "",
        "holders": _holder_words(judged["holders"]) if judged["holders"] else "",
        "sample": _sample_words(sample),
    }


def _by_check(findings: list[dict]) -> dict[str, list[dict]]:
    found: dict[str, list[dict]] = {}
    for one in findings:
        found.setdefault(one["check"], []).append(one)
    return found


def _drove(check: Mapping, findings: list[dict], catalogue: Mapping) -> dict[str, str]:
    named = fault_words(check, [fault for one in findings for fault in one["faults"]])
    return {
        "what": check["title"],
        "where": places_words([one["place"] for one in findings], catalogue),
        "faults_line": "; ".join(words["fault"] for words in named) or "fault not named",
        "link": anchor(check["id"]),
    }


def _unlooked_words(count: int) -> str:
    return f"{counted(count, 'look', 'looks')} that a picture hangs on {'was' if count == 1 else 'were'} not taken: see Not checked."


def _holder_words(count: Mapping) -> str:
    rest = count["of"] - count["ready"] - count["with_faults"] - count["needs_work"]
    said = [
        f"{count['ready']} ready to use" if count["ready"] else "",
        f"{count['with_faults']} usable with faults" if count["with_faults"] else "",
        f"{count['needs_work']} {'needs' if count['needs_work'] == 1 else 'need'} work first" if count["needs_work"] else "",
        f"{rest} not proven" if rest else "",
    ]
    return f"Of {counted(count['of'], 'holder', 'holders')}: {listed([words for words in said if words])}."


def _sample_words(sample: Mapping | None) -> str:
    if not sample:
        return ""
    how = f", {sample['how']}" if sample.get("how") else ""
    return f"A sample: {sample['looked']} of {sample['of']} looked at{how}. Nothing is said of the others."


def _surface(one: Mapping, catalogue: Mapping) -> str:
    thick = one.get("thickness_mm")
    title = title_of(catalogue["terms"]["screen_surfaces"], one["surface"], one["surface"]).lower()
    return title + (f" {thick:g}\u00a0mm" if thick is not None else "")


def _warmth(temperature: Mapping) -> str:
    celsius = temperature.get("celsius")
    return "" if celsius is None else f"{fixed(celsius, 0)}\u00a0°C".replace("-", "−")
