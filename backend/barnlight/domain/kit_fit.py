"""Does it fit: a piece against the person's own kit, or the pieces of a lot against each other, with what is missing to know."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import combinations
from typing import Any

from barnlight.domain import kit_rules

# (kinds of the two things) -> (question, facts of the first, facts of the second, whether it must be known, the rule).
# A fact with "|" is one of two that will do.
Rule = tuple[str, tuple[str, ...], tuple[str, ...], bool, Callable]
_RULES: dict[tuple[str, str], tuple[Rule, ...]] = {
    ("camera", "lens"): (
        ("covers", ("format",), ("circle_mm",), True, lambda a, b, catalogue, unit: kit_rules.covers(a, b, catalogue, unit)),
        ("infinity", ("shortest_mm", "longest_mm"), ("focal_mm",), True, lambda a, b, catalogue, unit: kit_rules.infinity(a, b, catalogue, unit)),
        ("board", ("board_width_mm", "board_height_mm"), ("shutter_size|thread_mm|board_width_mm",), True, lambda a, b, catalogue, unit: kit_rules.board(a, b, catalogue, unit)),
        ("passes", ("front_opening_mm",), ("rear_width_mm",), False, lambda a, b, _, unit: kit_rules.passes(a, b, unit)),
    ),
    ("camera", "holders"): (
        ("film", ("format",), ("film_size",), True, lambda a, b, catalogue, _: kit_rules.film(a, b, catalogue)),
        ("seats", ("holder_form",), ("form",), False, lambda a, b, *_: kit_rules.seats(a, b)),
        ("focuses", ("format", "glass_depth_mm"), ("depth_mm",), False, lambda a, b, catalogue, unit: kit_rules.focuses(a, b, catalogue, unit)),
    ),
    ("camera", "other"): (
        ("board", ("board_width_mm", "board_height_mm"), ("board_width_mm", "board_height_mm"), True, lambda a, b, catalogue, unit: kit_rules.board(a, b, catalogue, unit)),
    ),
    ("lens", "other"): (
        ("hole", ("shutter_size|thread_mm",), ("hole_mm",), True, lambda a, b, catalogue, unit: kit_rules.hole(a, b, catalogue, unit)),
    ),
}  # fmt: skip


def fit(one: Mapping, other: Mapping, catalogue: Mapping, unit: str) -> dict[str, Any] | None:
    """How two things {kind, facts} go together; None for two kinds that have nothing to fit. The order does not matter.

    {verdict: "fits", "fits_if", "does_not_fit" or "not_known", answers: [{about, verdict, reason, figure, missing: [{of: kind,
    fact, title}]}]}. Worst answer first counts: one that does not fit, then one that must be known and is not; a lesser
    one not known makes "fits_if". Lengths in the words are in `unit`, "mm" or "in". Raises ValueError for facts that cannot be.
    """
    first, second = (one, other) if (one["kind"], other["kind"]) in _RULES else (other, one)
    rules = _RULES.get((first["kind"], second["kind"]))
    if rules is None:
        return None
    answers = [_asked(rule, first, second, catalogue, unit) for rule in rules]
    return {"verdict": _together(answers, [rule[3] for rule in rules]), "answers": answers}


def fit_with_kit(piece: Mapping, kit: Sequence[Mapping], catalogue: Mapping, unit: str) -> list[dict[str, Any]]:
    """A piece {kind, facts} against every thing of a kit [{id, kind, facts}] it could go with: [{with: id, verdict, answers}]."""
    return [{"with": mine["id"], **found} for mine in kit if (found := fit(piece, mine, catalogue, unit))]


def fit_in_lot(pieces: Sequence[Mapping], catalogue: Mapping, unit: str) -> list[dict[str, Any]]:
    """The pieces of a lot [{id, kind, facts}] against each other: [{a: id, b: id, verdict, answers}], every pair that can go together."""
    return [{"a": one["id"], "b": other["id"], **found} for one, other in combinations(pieces, 2) if (found := fit(one, other, catalogue, unit))]


def _asked(rule: Rule, first: Mapping, second: Mapping, catalogue: Mapping, unit: str) -> dict[str, Any]:
    about, of_first, of_second, _, judge = rule
    missing = [*_missing(first, of_first, catalogue), *_missing(second, of_second, catalogue)]
    if not missing:
        return judge(first["facts"], second["facts"], catalogue, unit)
    lacking = ", ".join(dict.fromkeys(f"{one['title'].lower()} of the {_WORDS[one['of']]}" for one in missing))
    return {**kit_rules.answer(about, "not_known", f"Still to measure or ask: {lacking}."), "missing": missing}


_WORDS = {"camera": "camera", "lens": "lens", "holders": "holders", "other": "board"}


def _missing(thing: Mapping, wanted: Sequence[str], catalogue: Mapping) -> list[dict[str, str]]:
    lacking = [names.split("|") for names in wanted if not any(thing["facts"].get(name) is not None for name in names.split("|"))]
    titles = {one["id"]: one["title"] for one in catalogue["measures"]}
    return [{"of": thing["kind"], "fact": names[0], "title": titles[names[0]]} for names in lacking]


def _together(answers: Sequence[Mapping], must: Sequence[bool]) -> str:
    verdicts = [one["verdict"] for one in answers]
    if "does_not_fit" in verdicts:
        return "does_not_fit"
    if any(verdict == "not_known" and known for verdict, known in zip(verdicts, must, strict=True)):
        return "not_known"
    return "fits" if all(verdict == "fits" for verdict in verdicts) else "fits_if"
