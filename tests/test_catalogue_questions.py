"""The questions to a distant seller: complete in every language, none left in English by mistake, numbers and marked speeds kept."""

import re

from barnlight import catalogue

FILE = catalogue.read("questions.json")
LANGUAGES = [language["id"] for language in FILE["languages"]]
TEXTS = [*[(question["id"], question["say"]) for question in FILE["questions"]], *FILE["letter"].items(), *FILE["more"].items()]
# The figures of a question: marked speeds, and counts that stand as figures in English. A full-width figure would be missed.
FIGURE = re.compile(r"\d+(?:/\d+)?")


def test_every_text_is_there_in_every_language():
    for name, said in TEXTS:
        assert list(said) == LANGUAGES, name
        assert len(set(said.values())) == len(LANGUAGES), f"{name} stands in two languages with the same words"


def test_japanese_is_japanese_and_the_others_are_not():
    kana = re.compile(r"[\u3040-\u30ff]")
    for name, said in TEXTS:
        assert [language for language in LANGUAGES if kana.search(said[language])] == ["ja"], name


def test_marked_speeds_are_the_same_in_every_language():
    first = next(question for question in FILE["questions"] if question["rank"] == 1)
    asked = FIGURE.findall(first["say"]["en"])
    assert asked == ["1", "1/8", "1/10", "1/30", "1/25"]
    assert {language: FIGURE.findall(text) for language, text in first["say"].items()} == dict.fromkeys(LANGUAGES, asked)


def test_only_english_counts_as_reviewed_until_a_native_speaker_has():
    assert {language["id"]: language["review"] for language in FILE["languages"]} == {"en": "written_here", **dict.fromkeys(LANGUAGES[1:], "not_reviewed")}


def test_key_questions_and_those_that_need_no_knowledge_are_the_trades():
    """Trade notes, section 7: 1, 2, 3, 5 unanswered price a piece as not working; 4, 5, 9 need no knowledge of cameras."""
    assert [question["rank"] for question in FILE["questions"] if question["key"]] == [1, 2, 3, 5]
    assert [question["rank"] for question in FILE["questions"] if not question["fair_not_to_know"]] == [4, 5, 9]


def test_what_none_of_the_questions_asks_has_its_own_where_a_fault_stops_a_picture():
    stops = [check for check in catalogue.load()["checks"] if check["question_rank"] is None and any(fault["picture"] == "stops" for fault in check["faults"])]
    assert {check["id"]: check["question"] for check in stops} == {check: say["en"] for check, say in FILE["more"].items()}
