"""The catalogue holds together: every file fits its schema, no id dangles, no text is doubled, every source is a real row."""

import json
import re
from collections import Counter
from hashlib import sha256

import pytest
from jsonschema import Draft202012Validator

from barnlight import catalogue

CARD = "catalogue.json"
FILES = [CARD, *catalogue.read(CARD)["files"]]
DATA = catalogue.load()
CHECKS = DATA["checks"]
BY_ID = {check["id"]: check for check in CHECKS}
# An id is for ever: a check that came into another group keeps the one it was born with.
MOVED = {"lens.no_shutter.front_mounted"}
ID = re.compile(r"[a-z0-9][a-z0-9_]*(\.[a-z0-9][a-z0-9_]*)*")

# Ids of the rows and sections of the trade notes and the handbook that a source may name.
TRADE_ROWS = (
    {f"{letter}{n}" for letter, last in {"C": 15, "F": 2, "M": 4, "P": 4, "B": 6, "L": 25, "A": 6, "H": 14, "W": 5}.items() for n in range(1, last + 1)}
    | {"R1", "ST", "3", "7", "8"}
)
HANDBOOK_PLACES = {f"4 {part}" for part in (
    "Completeness", "Movements", "Back", "Bellows", "Body", "Glass", "Barrel", "Iris", "Shutter", "Fit", "Build", "Light", "Inside", "Registers on", "From far away",
)} | {"5", "6", "9"}


def schema_of(name: str) -> dict:
    stem = name.removesuffix(".json")
    return catalogue.read(f"schema/{'checks' if stem.startswith('checks_') else stem}.schema.json")


def ids(key: str) -> set[str]:
    return {entry["id"] for entry in DATA[key]}


def is_stops(check: dict) -> bool:
    return any(fault["picture"] == "stops" for fault in check["faults"])


@pytest.mark.parametrize("name", FILES)
def test_file_fits_its_schema(name):
    schema = schema_of(name)
    Draft202012Validator.check_schema(schema)
    faults = [f"{list(error.absolute_path)}: {error.message}" for error in Draft202012Validator(schema).iter_errors(catalogue.read(name))]
    assert faults == []


def test_schema_refuses_a_check_with_a_missing_or_unknown_field():
    validator = Draft202012Validator(schema_of("checks_camera.json"))
    whole = CHECKS[0]
    for field in set(whole) - {"lit", "shutter_kinds"}:
        lacking = {key: value for key, value in whole.items() if key != field}
        assert not validator.is_valid({"checks": [lacking]}), field
    assert not validator.is_valid({"checks": [{**whole, "shade": 1}]})


def test_every_data_file_is_listed():
    on_disk = {path.name for path in catalogue.FOLDER.glob("*.json")} - {CARD, *catalogue.KEPT_BESIDE}
    assert on_disk == set(catalogue.read(CARD)["files"])


@pytest.mark.parametrize("key", ["groups", "checks", "remedies", "shutter_kinds", "series", "standards", "formats", "cautions", "questions"])
def test_ids_are_unique_and_well_formed(key):
    counted = Counter(entry["id"] for entry in DATA[key])
    assert [one for one, times in counted.items() if times > 1] == []
    assert [one for one in counted if not ID.fullmatch(one)] == []


def test_ids_inside_checks_and_terms_are_unique():
    for check in CHECKS:
        for part in ("faults", "readings"):
            inner = [entry["id"] for entry in check[part]]
            assert len(inner) == len(set(inner)), (check["id"], part)
    lists = {**DATA["terms"], **DATA["terms"]["piece_types"]}
    for name, entries in lists.items():
        if isinstance(entries, list):
            inner = [entry["id"] for entry in entries]
            assert len(inner) == len(set(inner)), name


def test_checks_point_only_at_things_that_exist():
    groups = {group["id"]: group["kind"] for group in DATA["groups"]}
    quantities = {standard["quantity"] for standard in DATA["standards"]}
    types = {kind: {entry["id"] for entry in entries} for kind, entries in DATA["terms"]["piece_types"].items()}
    kinds_of_shutter, remedies, cautions = ids("shutter_kinds"), ids("remedies"), ids("cautions")
    for check in CHECKS:
        name = check["id"]
        assert name.startswith(check["group"] + ".") or name in MOVED, name
        assert groups[check["group"]] in check["kinds"], name
        assert set(check["types"] or ()) <= set().union(*(types[kind] for kind in check["kinds"])), name
        assert set(check["cautions"]) <= cautions, name
        assert {fault["remedy"] for fault in check["faults"]} - {None} <= remedies, name
        assert {reading["standard"] for reading in check["readings"]} - {None} <= quantities, name
        assert set(check.get("shutter_kinds", ())) <= kinds_of_shutter, name


def test_the_rest_points_only_at_things_that_exist():
    for kind in DATA["shutter_kinds"]:
        assert set(kind["cautions"]) <= ids("cautions"), kind["id"]
        assert kind["default_series"] in ids("series") | {None}, kind["id"]
    for standard in DATA["standards"]:
        assert standard["applies"].get("format") in ids("formats") | {None}, standard["id"]
    for file in catalogue.read(CARD)["files"]:
        assert (catalogue.FOLDER / file).exists(), file


def test_nothing_lies_unused():
    groups, remedies, cautions = set(), set(), set()
    for check in CHECKS:
        groups.add(check["group"])
        cautions.update(check["cautions"])
        remedies.update(fault["remedy"] for fault in check["faults"])
    for kind in DATA["shutter_kinds"]:
        cautions.update(kind["cautions"])
    assert ids("groups") - groups == set()
    assert ids("remedies") - remedies == set()
    assert ids("cautions") - cautions == set()


def test_groups_are_shown_in_one_order():
    orders = [group["order"] for group in DATA["groups"]]
    assert len(orders) == len(set(orders))


@pytest.mark.parametrize("field", ["good", "bad"])
def test_no_two_checks_share_a_sentence(field):
    seen: dict[str, str] = {}
    for check in CHECKS:
        for sentence in re.split(r"[.;!?]", check[field]):
            plain = " ".join(re.findall(r"[a-z0-9/]+", sentence.lower()))
            if plain:
                assert seen.setdefault(plain, check["id"]) == check["id"], f"{plain!r} stands in {seen[plain]} and {check['id']}"


def test_titles_are_told_apart_within_a_kind():
    counted = Counter((kind, check["title"]) for check in CHECKS for kind in check["kinds"])
    assert [title for title, times in counted.items() if times > 1] == []


def test_each_source_is_a_real_row():
    for check in CHECKS:
        for source in check["source"].split("; "):
            if source == "own":
                continue
            book, _, row = source.partition(" ") if source.startswith("handbook") else source.rpartition(" ")
            known = {"handbook": HANDBOOK_PLACES, "trade notes": TRADE_ROWS}.get(book, set())
            assert row in known, (check["id"], source)


def test_each_row_of_the_trade_notes_has_its_check():
    named = {source.rpartition(" ")[2] for check in CHECKS for source in check["source"].split("; ") if source.startswith("trade notes")}
    rows = {row for row in TRADE_ROWS if not row.isdigit()}
    assert rows - named == set()


def test_readings_can_be_typed():
    units = {"length": "mm", "time": "s", "count": "count", "temperature": "celsius", "text": "text"}
    for check in CHECKS:
        for reading in check["readings"]:
            where = (check["id"], reading["id"])
            assert reading["unit"] == units[reading["quantity"]], where
            if reading["plausible"]:
                assert reading["plausible"]["low"] < reading["plausible"]["high"], where
            assert set(check["axes"]) <= set(reading["axes"]) or check["axes"] == ["extension"], where


def test_questions_rank_only_what_is_asked():
    for check in CHECKS:
        assert check["question"] and check["question"].rstrip()[-1] in "?.", check["id"]
    asked = {question["rank"] for question in DATA["questions"]}
    assert asked == set(range(1, 13))
    # Rank 5 (may it come back?) asks about the deal and not about a look at the piece.
    assert {check["question_rank"] for check in CHECKS} - {None} == asked - {5}


def test_a_checks_kind_is_asked_the_question_it_is_ranked_under():
    kinds = {question["rank"]: set(question["kinds"]) for question in DATA["questions"]}
    for check in CHECKS:
        if check["question_rank"]:
            assert set(check["kinds"]) <= kinds[check["question_rank"]], check["id"]


def test_no_group_is_for_a_piece_of_another_kind():
    """"Lens without a shutter" stood with a check of its own beside every lens in a shutter."""
    assert {check["id"] for check in CHECKS if check["group"] == "lens.no_shutter" and check["types"] != ["barrel"]} == set()


def test_a_lamp_is_meant_where_the_report_says_one_was_used():
    """The report's "no fault seen with the lamp used" (trade notes 6, the dispute about haze) stands where the check says to use one."""
    for check in CHECKS:
        said = re.search(r"\b(lamp|torch|against the light|slanting light)\b", check["do"], re.IGNORECASE)
        assert check.get("lit") != "torch" or said, check["id"]


def test_shutter_checks_are_where_they_belong():
    for check in CHECKS:
        if check["recorder"] or check.get("shutter_kinds"):
            assert check["types"] == ["in_shutter"], check["id"]
        if check["leak_photo"]:
            assert check["lit"] == "dark", check["id"]
    assert BY_ID["lens.shutter.speeds"]["good_up_to"] is True


def test_regimes_cover_every_marked_speed_once():
    marks = {mark["nominal"]["num"] / mark["nominal"]["den"] for series in DATA["series"] for mark in series["marks"]}
    for kind in DATA["shutter_kinds"]:
        if kind["id"] == "barrel":
            assert kind["regimes"] == []
            continue
        top = kind["regimes"][0]["from_s"]
        for seconds in marks:
            holding = [regime["id"] for regime in kind["regimes"] if regime["to_s"] < seconds <= regime["from_s"]]
            assert len(holding) == (1 if seconds <= top else 0), (kind["id"], seconds)
        for slower, faster in zip(kind["regimes"], kind["regimes"][1:]):
            assert slower["to_s"] == faster["from_s"] < slower["from_s"], kind["id"]


def test_remedy_figures_are_ordered_and_marked_as_examples():
    for remedy in DATA["remedies"]:
        cost, weeks = remedy["cost"], remedy["weeks"]
        assert cost["low_minor"] <= cost["likely_minor"] <= cost["high_minor"], remedy["id"]
        assert weeks["low"] <= weeks["high"], remedy["id"]
        assert remedy["example"] is True, remedy["id"]


def test_a_remedy_covers_dearer_work_only_once():
    remedies = {remedy["id"]: remedy for remedy in DATA["remedies"]}
    for remedy in remedies.values():
        for name in remedy["covers"]:
            assert name in remedies and name != remedy["id"], remedy["id"]
            # Nothing may cover what covers it, and the wider work is never the cheaper.
            assert remedy["id"] not in remedies[name]["covers"], remedy["id"]
            assert remedies[name]["cost"]["likely_minor"] <= remedy["cost"]["likely_minor"], (remedy["id"], name)
    # Handbook 3: holes, patches, stiffness, lifted glue are one bellows.
    assert {"bellows_patch", "bellows_glue"} <= set(remedies["new_bellows"]["covers"])


def test_one_service_and_one_bellows_cover_many_faults():
    # Handbook 3: slow train, lazy blades, oil, T and B are one shutter service; holes, stiffness and patches one bellows.
    covers = Counter(fault["remedy"] for check in CHECKS for fault in check["faults"])
    used_by = {name: {check["id"] for check in CHECKS for fault in check["faults"] if fault["remedy"] == name} for name in ("shutter_service", "new_bellows")}
    assert {"lens.shutter.slow_train", "lens.shutter.blades", "lens.shutter.t_and_b", "lens.shutter.speeds"} <= used_by["shutter_service"]
    assert {"camera.bellows.light", "camera.bellows.covering", "camera.bellows.edges"} <= used_by["new_bellows"]
    assert covers["shutter_service"] >= 10


def test_a_lens_can_reach_ready_without_a_part_it_has_not():
    # A stops-check about one kind of shutter must name that kind, or every other lens would stay "not proven".
    assert is_stops(BY_ID["lens.shutter.electronic"]) and BY_ID["lens.shutter.electronic"]["shutter_kinds"] == ["electronic"]
    for check in CHECKS:
        if check["group"] == "lens.no_shutter" and is_stops(check):
            assert check["types"] == ["barrel"], check["id"]


def test_no_words_that_promise_too_much():
    forbidden = re.compile(r"within ISO|\bmint\b|\bguarantee|\bperfect\b", re.IGNORECASE)
    for name in FILES:
        assert forbidden.findall(json.dumps(catalogue.read(name), ensure_ascii=False)) == [], name


def test_cautions_defer_where_law_or_licence_is_concerned():
    words = re.compile(r"local|licen[sc]ed|qualified|conservator|repairer|museums", re.IGNORECASE)
    for name in ("record_leave", "nitrate", "thorium", "radium", "insects", "asbestos", "mercury", "darkroom_bottles", "batteries", "mains", "lead_paint", "no_shutter_opening"):
        say = next(caution["say"] for caution in DATA["cautions"] if caution["id"] == name)
        assert words.search(say), name


def test_hash_names_the_content():
    rest = {key: value for key, value in DATA.items() if key != "content_hash"}
    assert len(DATA["content_hash"]) == 64
    assert sha256(catalogue.canonical(rest)).hexdigest() == DATA["content_hash"]
    assert catalogue.load() is DATA


def test_numbers_read_the_same_on_phone_and_server():
    # A number written in two ways would give two hashes for one catalogue: 3.0 is "3" and 0.00001 "1e-05" on one side only.
    assert catalogue.canonical({"b": [3.0, 0.5], "a": "é"}) == '{"a":"é","b":[3,0.5]}'.encode()

    def floats(value):
        if isinstance(value, dict):
            value = list(value.values())
        if isinstance(value, list):
            return [one for inner in value for one in floats(inner)]
        return [value] if isinstance(value, float) else []

    assert [one for one in floats(DATA) if "e-0" in repr(one)] == []
