"""The sample sessions are whole, say that they are made, and lead to the verdicts their stories tell (invented stories)."""

import hashlib
import json
import re
from pathlib import Path

import pytest

from barnlight import catalogue
from barnlight.demo.stories import STORIES
from barnlight.domain import shutter_timing, verdict
from barnlight.media import audio

SAMPLES = Path(__file__).resolve().parent.parent / "sample_sessions"
SUFFIX = {"image/jpeg": ".jpg", "audio/wav": ".wav"}
# What each piece of each story comes to, by its title, at each looking.
VERDICTS = {
    "house_clearance": {"Folding field camera, cherry wood": ["needs_work_first"], "210 mm lens in a dial-set shutter": ["usable_with_faults"]},
    "shop_counter": {"150 mm lens in a rim-set shutter": ["ready_to_use"]},
    "ten_holders": {"Ten sheet-film holders": ["needs_work_first"]},
    "far_listing": {"Monorail camera with bag": ["not_proven", "needs_work_first"]},
}


def read(story: str) -> dict:
    return json.loads((SAMPLES / story / "barnlight-export.json").read_text(encoding="utf-8"))


def records(story: str) -> list[tuple[str, dict]]:
    """(kind of record, plain values) of every record, the last change of a field standing."""
    kinds, values = {}, {}
    for change in read(story)["changes"]:
        kinds[change["record"]] = change["kind"]
        values.setdefault(change["record"], {"id": change["record"]})[change["field"]] = change["value"]
    return [(kinds[record], plain) for record, plain in values.items()]


def of(story: str, kind: str) -> list[dict]:
    return [plain for found, plain in records(story) if found == kind]


def test_every_story_of_the_demo_is_there_and_no_other():
    assert {folder.name for folder in SAMPLES.iterdir() if folder.is_dir()} == set(STORIES)


@pytest.mark.parametrize("story", STORIES)
def test_files_are_those_listed_by_hash_and_say_that_they_are_made(story: str):
    listed = read(story)["media"]
    there = {path.name for path in (SAMPLES / story / "media").iterdir()}
    assert {entry["hash"] + SUFFIX[entry["type"]] for entry in listed} == there
    for entry in listed:
        data = (SAMPLES / story / "media" / (entry["hash"] + SUFFIX[entry["type"]])).read_bytes()
        assert hashlib.sha256(data).hexdigest() == entry["hash"]
        assert entry["made_by_code"] is True
    assert "own code" in read(story)["made_by"]
    assert {one["origin"] for kind in ("photo", "recording") for one in of(story, kind)} <= {"made_by_code"}


@pytest.mark.parametrize("story", STORIES)
def test_answers_name_checks_and_faults_that_the_catalogue_has(story: str):
    checks = {check["id"]: check for check in catalogue.load()["checks"]}
    for answer in of(story, "answer"):
        known = {fault["id"] for fault in checks[answer["check"]]["faults"]}
        assert set(answer["result"]["faults"]) <= known, answer
        if answer["result"]["outcome"] == "faulty":
            assert answer["result"]["faults"], answer


@pytest.mark.parametrize("story", STORIES)
def test_verdicts_are_those_of_the_story(story: str):
    pieces = {piece["id"]: piece for piece in of(story, "piece")}
    found: dict[str, list[str]] = {}
    for visit in of(story, "visit"):
        piece = pieces[visit["piece"]]
        answers = [answer for answer in of(story, "answer") if answer["visit"] == visit["id"]]
        found.setdefault(piece["title"], []).append(verdict.verdict(piece, answers, catalogue.load())["verdict"])
    assert found == VERDICTS[story]


@pytest.mark.parametrize("story", [name for name in STORIES if any(SAMPLES.joinpath(name, "media").glob("*.wav"))])
def test_sounds_of_the_demo_read_as_shutters(story: str):
    """Made sounds of known speeds: nearly all are answered, and none is clear and a whole stop off its mark without the story saying so."""
    recordings = {one["id"]: one for one in of(story, "recording")}
    constants = catalogue.load()["shutter_timing"]
    takes, answered = of(story, "take"), 0
    for take in takes:
        data = (SAMPLES / story / "media" / (recordings[take["recording"]]["file"]["hash"] + ".wav")).read_bytes()
        samples, rate_hz = audio.read_sound(data)
        reading = shutter_timing.measure(samples, rate_hz, take["intent"]["marked"]["seconds"], constants)
        answered += reading["open_time_s"] is not None
        if reading["verdict"] == "clear":
            assert reading["low_s"] <= reading["open_time_s"] <= reading["high_s"]
    assert answered >= 0.95 * len(takes)


def test_the_house_clearance_has_what_its_deal_was_reckoned_by_and_counts_its_lights():
    story = "house_clearance"
    terms = {deal.get("piece"): deal["terms"] for deal in of(story, "deal")}
    assert set(terms) == {piece["id"] for piece in of(story, "piece")} | {None}, "each piece, and the lot"
    groups = {note["group"] for note in of("shop_counter", "price_note")}
    assert all(terms[piece["id"]].get("value") or terms[piece["id"]]["group"] in groups for piece in of(story, "piece"))
    lights = [spot for spot in of(story, "spot") if spot["label"].startswith("light ")]
    words = {3: "Three", 4: "Four", 5: "Five"}[len(lights)]
    assert any(answer.get("remark", "").startswith(f"{words} points") for answer in of(story, "answer"))


@pytest.mark.parametrize("story", STORIES)
def test_money_in_its_words_has_a_currency(story: str):
    words = [change["value"] for change in read(story)["changes"] if isinstance(change["value"], str)]
    assert [text for text in words if re.search(r"\b(asked for|gave back|paid|for sale at) [0-9]+(?! [A-Z]{3}\b)(?![0-9])", text, re.IGNORECASE)] == []
