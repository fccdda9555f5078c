"""The catalogue: the trade's shared data (checks, remedies, standards, words), read once and named by a hash."""

import hashlib
import json
from functools import cache
from pathlib import Path

FOLDER = Path(__file__).parent
# Kept beside the catalogue by the parts that decide them: the kinds of record, and the constants of shutter timing and the leak finder.
KEPT_BESIDE = ("records.json", "shutter_timing.json", "leaks.json")


def read(name: str) -> dict:
    """One data file of the catalogue by its file name; FileNotFoundError if there is none."""
    return json.loads((FOLDER / name).read_text(encoding="utf-8"))


def whole_numbers(data):
    """The same data with 3.0 as 3: JavaScript knows one kind of number and writes it so."""
    if isinstance(data, dict):
        return {key: whole_numbers(value) for key, value in data.items()}
    if isinstance(data, list):
        return [whole_numbers(value) for value in data]
    return int(data) if isinstance(data, float) and data.is_integer() else data


def canonical(data) -> bytes:
    """UTF-8 JSON with sorted keys and no spaces: the bytes that are hashed, equal on phone and server."""
    return json.dumps(whole_numbers(data), sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode("utf-8")


@cache
def load() -> dict:
    """The whole catalogue as one dict, shared by all callers: read it, never change it.

    Keys: groups, checks (all check files in one list), remedies, shutter_kinds, series, standards, formats, measures, iris_scales,
    cautions, terms, records, shutter_timing and leaks ({} while such a file is not there), revision, and content_hash
    (sha256, hex, over the canonical JSON of all the others).
    """
    card = read("catalogue.json")
    data: dict = {"revision": card["revision"], "checks": []}
    for name in card["files"]:
        stem, content = name.removesuffix(".json"), read(name)
        if stem.startswith("checks_"):
            data["checks"] += content["checks"]
        else:
            data[stem] = content.get(stem, content)
    for name in KEPT_BESIDE:
        data[name.removesuffix(".json")] = read(name) if (FOLDER / name).exists() else {}
    data["content_hash"] = hashlib.sha256(canonical(data)).hexdigest()
    return data
