"""Runs every vector in tests/vectors through the Python side of the domain; the web app runs the same files."""

import json
from importlib import import_module
from inspect import getmembers, isfunction
from pathlib import Path
from pkgutil import iter_modules

import jsonschema
import pytest

from barnlight import domain
from barnlight.catalogue import load

FOLDER = Path(__file__).parent / "vectors"
FILES = sorted(FOLDER.glob("*.json"))
SCHEMA = json.loads((FOLDER / "schema" / "vectors.schema.json").read_text(encoding="utf-8"))


def vectors(file: Path) -> list[dict]:
    content = json.loads(file.read_text(encoding="utf-8"))
    return content if isinstance(content, list) else [content]


CASES = [pytest.param(one["function"], case, id=f"{one['function']}-{case['id']}") for file in FILES for one in vectors(file) for case in one["cases"]]


def difference(expected, got, tolerance: float | None, where: str = "out") -> str | None:
    """Where two JSON values differ first; None if they do not. true is not 1, and a tuple is an array."""
    if isinstance(expected, dict) and isinstance(got, dict):
        if expected.keys() != got.keys():
            return f"{where}: keys {sorted(expected)} are {sorted(got)}"
        pairs = [(expected[key], got[key], f"{where}.{key}") for key in expected]
    elif isinstance(expected, list) and isinstance(got, list | tuple):
        if len(expected) != len(got):
            return f"{where}: {len(expected)} entries are {len(got)}: {got}"
        pairs = [(*both, f"{where}[{index}]") for index, both in enumerate(zip(expected, got, strict=True))]
    else:
        numbers = all(isinstance(value, int | float) and not isinstance(value, bool) for value in (expected, got))
        same = expected == got and isinstance(expected, bool) == isinstance(got, bool)
        if same or (numbers and tolerance is not None and abs(expected - got) <= tolerance):
            return None
        return f"{where}: {expected!r} is {got!r}"
    return next((found for one in pairs if (found := difference(one[0], one[1], tolerance, one[2]))), None)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_vectors_have_their_shape_and_the_name_of_their_module(file):
    jsonschema.validate(json.loads(file.read_text(encoding="utf-8")), SCHEMA)
    assert {one["function"].split(".")[0] for one in vectors(file)} == {file.stem}


@pytest.mark.parametrize(("function", "case"), CASES)
def test_vector(function, case):
    module, name = function.split(".")
    call = getattr(import_module(f"barnlight.domain.{module}"), name)
    arguments = [load() if value == {"$catalogue": True} else value for value in case["in"]]
    if "error" in case:
        with pytest.raises(ValueError) as raised:
            call(*arguments)
        assert str(raised.value) == case["error"], case["why"]
        return
    found = difference(case["out"], call(*arguments), case.get("tolerance"))
    assert found is None, f"{found}; {case['why']}"


# Modules whose functions no vector names one by one, and what pins both sides to each other instead.
PINNED_OTHERWISE = {
    **dict.fromkeys(
        ("report_depth", "report_findings", "report_history", "report_methods", "report_not_checked", "report_photos", "report_piece",
         "report_readings", "report_scope", "report_shutter", "report_verdict"), "parts of report_view, whose vectors run them"),
    **dict.fromkeys(
        ("shutter_alone", "shutter_beside", "shutter_buzz", "shutter_candidates", "shutter_common", "shutter_events", "shutter_pairs", "shutter_signal", "shutter_timing"),
        "they work on sound: tests/files/shutter_sound holds recordings with results that both sides must give"),
    **dict.fromkeys(
        ("leak_doubts", "leak_filters", "leak_finder", "leak_maps", "leak_pieces", "leak_points", "leak_reduce",
         "leak_sharpness"),
        "they work on pictures: tests/files/leaks holds pictures with results that both sides must give"),
}  # fmt: skip


def public_functions() -> list[str]:
    """module.function of everything the domain exports."""
    found = []
    for entry in iter_modules(domain.__path__):
        module = import_module(f"barnlight.domain.{entry.name}")
        found += [f"{entry.name}.{name}" for name, value in getmembers(module, isfunction)
                  if value.__module__ == module.__name__ and not name.startswith("_")]
    return found


def test_every_function_of_the_domain_is_pinned() -> None:
    named = {one["function"] for file in FILES for one in vectors(file)}
    left = [name for name in public_functions() if name not in named and name.split(".")[0] not in PINNED_OTHERWISE]
    assert not left, "add vectors in tests/vectors, run by both sides"


def test_no_exemption_outlives_its_module() -> None:
    assert {name.split(".")[0] for name in public_functions()} >= set(PINNED_OTHERWISE)
