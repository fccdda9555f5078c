"""Script in every text field of every kind of record, through the API into page, one-file copy and PDF: it is text, and nothing runs.

Two books are alike but for their words: one speaks harmlessly, the other in script. Both reports must have the very same
elements and attributes. The reading is done by a parser of others (tinyhtml5, an implementation of the HTML standard's).
"""

from __future__ import annotations

import hashlib
import io
import re
from collections import Counter
from typing import Any
from xml.etree.ElementTree import Element

import pytest
import tinyhtml5
from flask import Flask
from phones import Phone
from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject
from report_bundle import Book, plant_everything

from barnlight.catalogue import load
from barnlight.report.pdf import is_available

PAYLOADS = (
    "<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "\"' autofocus onfocus=alert(1) x='", "</title></style><svg onload=alert(1)>",
    "{{{title}}}{{> piece}}{{=<% %>=}}", "<!--</main>-->&lt;b&gt;", "javascript:alert(1)", "]]><iframe srcdoc='<b>'>", "&#60;script&#62;", "a\u2028b\u202ec\u0085d",
)  # fmt: skip
ALLOWED_ATTRIBUTES = re.compile(r"(?!on)[A-Za-z0-9:-]+|\{http://www\.w3\.org/2000/xmlns/\}xmlns")
RUNS = {"script", "iframe", "object", "embed", "base", "form", "template", "noscript", "frame", "applet"}


def of_definition(schema: dict[str, Any]) -> dict[str, Any]:
    return load()["records"]["$defs"][schema["$ref"].rsplit("/", 1)[1]] if "$ref" in schema else schema


def free_texts(schema: dict[str, Any], path: tuple[str, ...] = ()) -> list[tuple[tuple[str, ...], int]]:
    """Where a value of this schema may hold any words: (path, longest); [] stands for the items of a list."""
    schema = of_definition(schema)
    found = [one for option in schema.get("anyOf", ()) for one in free_texts(option, path)]
    kinds = schema.get("type", ())
    if "string" in ([kinds] if isinstance(kinds, str) else kinds) and not {"pattern", "enum"} & schema.keys():
        found.append((path, schema.get("maxLength", 10_000)))
    for name, inner in schema.get("properties", {}).items():
        found += free_texts(inner, (*path, name))
    return found + (free_texts(schema["items"], (*path, "[]")) if "items" in schema else [])


def example(schema: dict[str, Any]) -> Any:
    """A value that the schema allows, with every part that it may have."""
    schema = of_definition(schema)
    if "anyOf" in schema:
        return example(schema["anyOf"][0])
    if "enum" in schema:
        return schema["enum"][0]
    kind = schema.get("type", "null")
    kind = kind if isinstance(kind, str) else kind[0]
    if kind == "string":
        fitting = ("words", "0" * 32, "0" * 64, "2026-01-01", "EUR", "A", "")
        return next(text for text in fitting if re.search(schema.get("pattern", ""), text))
    if kind == "object":
        return {name: example(inner) for name, inner in schema.get("properties", {}).items()}
    if kind == "array":
        return [example(schema["items"])] * max(1, schema.get("minItems", 1))
    return {"integer": max(1, schema.get("minimum", 1)), "number": 1, "boolean": False, "null": None}[kind]


def put_words(value: Any, path: tuple[str, ...], words: str) -> Any:
    """The value with the words at that place, in every item of a list."""
    if not path:
        return words
    if path[0] == "[]":
        return [put_words(one, path[1:], words) for one in value] if isinstance(value, list) else value
    return {**value, path[0]: put_words(value.get(path[0]), path[1:], words)} if isinstance(value, dict) else value


def texts_of_every_kind() -> dict[tuple[str, str], list[tuple[tuple[str, ...], int]]]:
    """(kind, field) -> the places in its value where any words may stand."""
    kinds = load()["records"]["kinds"]
    found = {(kind, field): free_texts(schema) for kind, about in kinds.items() if not about.get("server_only") for field, schema in about["fields"].items()}
    return {place: texts for place, texts in found.items() if texts}


def speak(book: Book, words: Any) -> int:
    """Sets every text of every record that is there, and one record of each kind that is not. Returns how many texts were set."""
    held = {change["record"]: {"kind": change["kind"]} for change in book.phone.pull()["changes"]}
    for change in book.phone.pull()["changes"]:
        held[change["record"]][change["field"]] = change["value"]
    texts, count = texts_of_every_kind(), 0
    for kind in {kind for kind, _ in texts} - {one["kind"] for one in held.values()}:
        held[hashlib.sha256(kind.encode()).hexdigest()[:32]] = {"kind": kind}
    for record, one in held.items():
        for (kind, field), places in texts.items():
            if one["kind"] != kind:
                continue
            value = one.get(field) or example(load()["records"]["kinds"][kind]["fields"][field])
            for path, longest in places:
                value = put_words(value, path, words(count)[:longest])
                count += 1
            book.put(kind, record, **{field: value})
    for start in range(0, len(book.edits), 400):
        results = book.phone.push(*book.edits[start : start + 400])
        assert {result["result"] for result in results} == {"ok"}, [one for one in results if one["result"] != "ok"][:3]
    return count


def report_of(app: Flask, words: Any) -> dict[str, Any]:
    """The page, its one-file copy and its PDF, of a book that speaks so."""
    phone = Phone(app).pair()
    made = plant_everything(Book(phone))
    count = speak(Book(phone), words)
    answer = phone.post("/api/reports", {"session": made["session"], "recipient": words(0)})
    assert answer.status_code == 201, answer.text
    path = "/r/" + answer.json["link"].rstrip("/").rsplit("/", 1)[1]
    http = app.test_client()
    return {"count": count, "page": http.get(f"{path}/").text, "file": http.get(f"{path}/report.html").text, "pdf": http.get(f"{path}/report.pdf").data}


def skeleton(html: str) -> Counter[tuple[str, tuple[str, ...]]]:
    """The elements with the names of their attributes, and how often each occurs."""
    tree: Element = tinyhtml5.parse(html, namespace_html_elements=False)
    return Counter((str(one.tag), tuple(sorted(map(str, one.attrib)))) for one in tree.iter())


@pytest.fixture(scope="module")
def plain_and_hostile(tmp_path_factory: pytest.TempPathFactory) -> tuple[dict[str, Any], dict[str, Any]]:
    from barnlight.app import create_app
    from barnlight.config import Config
    from barnlight.services import Services

    def fresh(words: Any) -> dict[str, Any]:
        services = Services.open(Config(data_dir=tmp_path_factory.mktemp("store"), rate_limits=False))
        made = report_of(create_app(services), words)
        services.database.close()
        return made

    return fresh(lambda number: f"Words{number:03}"), fresh(lambda number: PAYLOADS[number % len(PAYLOADS)])


def test_every_kind_of_record_was_spoken_through() -> None:
    texts = texts_of_every_kind()
    assert len(texts) >= 40 and len({kind for kind, _ in texts}) >= 12
    assert (("session", "title") in texts, ("typed",) in [path[:1] for path, _ in texts["reading", "typed"]]) == (True, False)


@pytest.mark.parametrize("part", ["page", "file"])
def test_words_make_no_element_and_no_attribute(plain_and_hostile: tuple[dict[str, Any], dict[str, Any]], part: str) -> None:
    plain, hostile = plain_and_hostile
    assert plain["count"] == hostile["count"] >= sum(map(len, texts_of_every_kind().values()))
    found = skeleton(hostile[part])
    assert found == skeleton(plain[part])
    assert {tag for tag, _ in found} & RUNS == set()
    assert {name for _, names in found for name in names if not ALLOWED_ATTRIBUTES.fullmatch(name)} == set()
    tree: Element = tinyhtml5.parse(hostile[part], namespace_html_elements=False)
    leads = [one.attrib[name] for one in tree.iter() for name in ("href", "src", "action", "srcset") if name in one.attrib]
    assert [lead for lead in leads if lead.lower().strip().startswith(("javascript", "vbscript", "http:")) ] == []
    # The words did get there, as words.
    shown = "".join(tree.itertext())
    assert sum(payload in shown for payload in PAYLOADS if "<" in payload) >= 2


def actions(thing: Any, seen: set[int]) -> set[str]:
    """Every kind of action in a PDF, however deep (ISO 32000-1, 12.6.4)."""
    if isinstance(thing, IndirectObject):
        if thing.idnum in seen:
            return set()
        seen.add(thing.idnum)
        thing = thing.get_object()
    if isinstance(thing, DictionaryObject):
        own = {str(thing["/S"])} if "/S" in thing and ("/URI" in thing or "/JS" in thing or "/D" in thing or "/F" in thing) else set()
        own |= {str(key) for key in ("/JS", "/JavaScript", "/Launch", "/AA", "/OpenAction", "/EmbeddedFiles", "/XFA", "/AcroForm") if key in thing}
        return own.union(*(actions(inner, seen) for inner in thing.values()))
    return set().union(*(actions(inner, seen) for inner in thing)) if isinstance(thing, ArrayObject) else set()


@pytest.mark.skipif(not is_available(), reason="2026-11-25: Pango is not on this machine, so no PDF is made")
def test_the_pdf_holds_the_words_and_no_action(plain_and_hostile: tuple[dict[str, Any], dict[str, Any]]) -> None:
    plain, hostile = (PdfReader(io.BytesIO(made["pdf"])) for made in plain_and_hostile)
    text = "".join("".join(page.extract_text() for page in hostile.pages).replace("\0", "").split())
    assert sum("".join(payload.split()) in text for payload in PAYLOADS) >= 4, "cut short here and there, but there"
    assert actions(hostile.trailer, set()) == actions(plain.trailer, set()) <= {"/URI", "/GoTo", "/OpenAction"}
