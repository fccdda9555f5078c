"""One piece in a report: what it is, what comes with it, the verdict, what was not checked, and every finding and figure."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from barnlight.domain.checks import applicable
from barnlight.domain.remedies import bundle
from barnlight.domain.report_depth import depth_section
from barnlight.domain.report_findings import fault_words, groups, wrong
from barnlight.domain.report_fit import fit_figures
from barnlight.domain.report_history import cautions, claims, film_tests, repairs
from barnlight.domain.report_not_checked import not_checked
from barnlight.domain.report_photos import gallery, in_order, left_out_words, pictures
from barnlight.domain.report_readings import readings_table
from barnlight.domain.report_shutter import how_to_work, shutter_section, take_words
from barnlight.domain.report_verdict import piece_facts, verdict_words
from barnlight.domain.report_words import moment_day, title_of
from barnlight.domain.verdict import verdict


def piece_view(
    index: int, piece: Mapping, visits: Sequence[Mapping], records: Mapping, options: Mapping, first_photo: int, catalogue: Mapping
) -> dict[str, Any]:
    """`visits`: the oldest first; `records`: as `report_scope.last_seen` gives them; `options`: as `report_view` takes them."""
    hidden = options.get("hidden_groups") or ()
    visit = visits[-1]
    sample = next((one["sample"] for one in reversed(visits) if one.get("sample")), None)
    answers = [answer for answer in records.get("answer", []) if answer.get("check") and answer.get("result")]
    judged = verdict(piece, answers, catalogue)
    shown = pictures(records.get("photo", []), records.get("spot", []), records.get("leak_reading", []), options["here"], first_photo, catalogue)
    by_photo = {photo["id"]: picture for photo, picture in zip(in_order(records.get("photo", [])), shown, strict=True)}
    films = records.get("film_test", [])
    of_films = [by_photo[one["photo"]] for one in films if one.get("photo") in by_photo]
    of_looks = [picture for picture in shown if picture not in of_films]
    looked_for = {check["id"] for check in applicable(piece, catalogue)}
    depth = depth_section(piece, records.get("reading", []), catalogue)
    readings = readings_table(piece, records.get("reading", []), catalogue)
    return {
        "ref": piece["id"],
        "piece_anchor": f"piece-{index}",
        "number": index,
        "title": title(piece, catalogue),
        "looked_on": moment_day(visit.get("began")),
        "occasion": title_of(catalogue["terms"]["occasions"], visit.get("occasion")).lower(),
        "inspector": visit.get("inspector") or "",
        "facts": piece_facts(piece, visit, catalogue),
        "marks": _marks(piece),
        "comes_with": _counted_items(piece, there=True),
        "lacks": _counted_items(piece, there=False),
        "earlier": any(answer.get("seen_on") for answer in answers),
        "verdict": verdict_words(piece, sample, judged, catalogue),
        "not_checked": not_checked(piece, answers, judged, catalogue),
        "wrong": _wrong(piece, answers, wrong(judged, catalogue), catalogue),
        "pictures": gallery([picture for picture in of_looks if picture["check"] not in looked_for]),
        "all_pictures": [{"number": one["number"], "hash": one["hash"]} for one in shown if not one["missing"]],
        "left_out_photos": left_out_words(records.get("photo", []), catalogue),
        "hidden": _hidden_titles(piece, hidden, catalogue),
        "groups": groups(piece, answers, of_looks, hidden, catalogue),
        "shutter": shutter_section(piece, records, options["measured"], options.get("waves") or {}, catalogue),
        "work": how_to_work(piece, catalogue),
        "depth": depth,
        "fit": _some(fit_figures(piece, records.get("reading", []), catalogue)),
        "readings": _some(readings),
        "claims": _some(claims(records.get("claim", []), records.get("seen", []), catalogue)),
        "repairs": _some(repairs(records.get("repair", []), catalogue)),
        "film_tests": _some(film_tests(films, by_photo)),
        "cautions": _some(cautions(piece, answers, catalogue)),
        "recordings": _recordings(records),
        "has_lens": piece.get("kind") == "lens",
        "has_dark": any(one["leaks"] for one in shown) or any(answer["check"] in _dark_checks(catalogue) for answer in answers),
        "has_places": any(one["leaks"] for one in shown),
        "made_by_code": any(one["made_by_code"] for one in shown) or any(one.get("origin") == "made_by_code" for one in records.get("recording", [])),
    }


def title(piece: Mapping, catalogue: Mapping) -> str:
    """The piece's own title, else what kind of thing it is."""
    return piece.get("title") or kind_words(piece, catalogue)


def kind_words(piece: Mapping, catalogue: Mapping) -> str:
    """"Monorail", "Sheet-film holders", or the kind alone for a lens and where the type is not known."""
    terms = catalogue["terms"]
    kind = piece.get("kind") or "other"
    if kind == "lens":
        return title_of(terms["piece_kinds"], kind)
    return title_of(terms["piece_types"].get(kind, []), piece.get("type"), title_of(terms["piece_kinds"], kind, "Piece"))


def _some(rows: list) -> dict[str, list] | None:
    """A section that is left out when it has no rows."""
    return {"list": rows} if rows else None


def _marks(piece: Mapping) -> dict[str, list] | None:
    return _some([
        {"place": mark["place"], "text": "" if mark.get("none_marked") else mark["text"], "none": bool(mark.get("none_marked"))}
        for mark in piece.get("marks") or []
    ])  # fmt: skip


def _counted_items(piece: Mapping, *, there: bool) -> dict[str, list] | None:
    return _some([{"item": one["item"], "count": one["count"]} for one in piece.get("comes_with") or [] if (one["count"] > 0) == there])


def _wrong(piece: Mapping, answers: list[dict], found: list[dict], catalogue: Mapping) -> dict[str, Any] | None:
    return {"list": found, "remedies": _some(_remedies(piece, answers, catalogue))} if found else None


def _remedies(piece: Mapping, answers: list[dict], catalogue: Mapping) -> list[dict[str, str]]:
    """What would put the faults right, and how long that takes; never what it costs."""
    checks = {check["id"]: check for check in applicable(piece, catalogue)}
    who = catalogue["terms"]["who"]
    found = []
    for remedy in bundle([answer for answer in answers if answer["check"] in checks], catalogue):
        named: dict[str, None] = {}
        for one in remedy["faults"]:
            named.update((words["fault"], None) for words in fault_words(checks[one["check"]], [one["fault"]]))
        weeks = f"{remedy['weeks']['low']:g} to {remedy['weeks']['high']:g} weeks"
        times = "" if remedy["times"] == 1 else f", {remedy['times']} times"
        found.append({
            "remedy": remedy["title"] + times, "who": title_of(who, remedy["who"]).lower().replace("yourself", "oneself"),
            "weeks": weeks, "cures": ", ".join(named).lower(),
        })  # fmt: skip
    return found


def _hidden_titles(piece: Mapping, hidden: Collection[str], catalogue: Mapping) -> dict[str, list] | None:
    """The groups that the sender left out and this piece has."""
    own = {check["group"] for check in applicable(piece, catalogue)}
    return _some([{"hidden_title": group["title"]} for group in catalogue["groups"] if group["id"] in hidden and group["id"] in own])


def _recordings(records: Mapping) -> list[dict[str, str]]:
    """Each recording with the takes it holds."""
    takes: dict[str, list[str]] = {}
    for take in sorted(records.get("take", []), key=lambda one: ((one.get("intent") or {}).get("ordinal", 1), one["id"])):
        if take.get("recording"):
            takes.setdefault(take["recording"], []).append(take_words(take))
    ordered = sorted((one for one in records.get("recording", []) if one.get("file")), key=lambda one: ((one.get("made") or {}).get("ms", 0), one["id"]))
    return [{"what": "; ".join(takes.get(one["id"], ["no take"])), "hash": one["file"]["hash"]} for one in ordered]


def _dark_checks(catalogue: Mapping) -> set[str]:
    return {check["id"] for check in catalogue["checks"] if check.get("lit") == "dark" or check["leak_photo"]}
