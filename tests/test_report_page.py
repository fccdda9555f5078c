"""The page of a report: hostile words stay words, wording stays honest, and nothing outside the report is ever fetched."""

from __future__ import annotations

import copy
import importlib.util
import json
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from barnlight.catalogue import load
from barnlight.domain.report_view import report_view
from barnlight.report import pdf
from barnlight.report.render import page, style

VECTORS = json.loads((Path(__file__).parent / "vectors" / "report_view.json").read_text("utf-8"))
VIEWS = {case["id"]: case for case in VECTORS[0]["cases"] if "out" in case}
HOSTILE = '<script>alert(1)</script><link rel="attachment" href="file:///etc/passwd"><img src="http://stranger.example/x.png" onerror=x>{{{title}}}'
VOID = {"meta", "link", "img", "br", "circle", "line", "path", "rect"}


class Outline(HTMLParser):
    """What a page is built of."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.open: list[str] = []
        self.ids: list[str] = []
        self.links: list[str] = []
        self.attributes: set[str] = set()
        self.unbalanced: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes |= {name for name, _ in attrs}
        self.ids += [value or "" for name, value in attrs if name == "id"]
        self.links += [value or "" for name, value in attrs if name in ("href", "src")]
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes |= {name for name, _ in attrs}

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.unbalanced.append(tag)


@pytest.mark.parametrize("case", VIEWS.values(), ids=VIEWS.keys())
def test_a_page_is_well_built_and_has_nothing_that_runs(case: dict) -> None:
    built = Outline(page(case["out"]))
    assert built.unbalanced == [] and built.open == []
    assert not {"script", "style", "iframe", "object", "form", "base"} & set(built.tags)
    assert not {name for name in built.attributes if name == "style" or name.startswith("on")}
    assert len(built.ids) == len(set(built.ids)), "every anchor is its own"
    inner = [link[1:] for link in built.links if link.startswith("#")]
    assert set(inner) <= set(built.ids), "every link within the page leads somewhere"
    assert all(re.fullmatch(r"#.+|style\.css|photo/[0-9a-f]{64}\.jpg|report\.(pdf|html)|/evidence/", link) for link in built.links)


def planted(value: object) -> object:
    """The same records with a hostile text in every free text of a person."""
    free = {"title", "remark", "caption", "label", "text", "reason_text", "inspector", "item", "found", "what", "how", "reason", "place"}
    if isinstance(value, dict):
        at_mark = "seconds" in value
        return {key: HOSTILE if key in free and isinstance(item, str) and not at_mark and not key_is_place(key, value) else planted(item) for key, item in value.items()}
    return [planted(item) for item in value] if isinstance(value, list) else value


def key_is_place(key: str, record: dict) -> bool:
    """A place of a record is canonical text, checked on the way in; only a mark's place is free. Terms and figures are checked too."""
    return (key == "place" and "text" not in record) or (key == "reason" and "outcome" in record) or (key == "text" and "unit" in record)


@pytest.mark.parametrize("case", VIEWS.values(), ids=VIEWS.keys())
def test_hostile_words_stay_words(case: dict) -> None:
    bundle, catalogue, options = case["in"]
    html = page(report_view(planted(copy.deepcopy(bundle)), catalogue, options))
    built = Outline(html)
    assert "&lt;script&gt;" in html and "script" not in built.tags and "onerror" not in built.attributes
    assert "{{{title}}}" in html, "what looks like a template in a person's words is not one"
    assert built.unbalanced == [] and built.tags.count("link") == 1


@pytest.mark.parametrize("case", VIEWS.values(), ids=VIEWS.keys())
def test_a_report_never_grades_and_never_claims_a_standard_it_could_not_read(case: dict) -> None:
    """Source: figures, head: never print "within ISO"; trade notes 6: no grade words, "none seen with", never "none"."""
    words = re.sub(r"<[^>]+>", " ", page(case["out"])).lower()
    for never in (r"within iso", r"\bmint\b", r"\bexcellent\b", r"\bgrade\b", r"\bscore\b", r"\bstars?\b", r"\bguarantee"):
        assert not re.search(never, words), never
    assert not re.search(r"(haze|fungus|separation|scratches)\W+(none|no)\b(?! fault seen)", words)


def test_pages_are_the_golden_ones_that_the_phone_makes_too() -> None:
    """The web app's page.test.ts holds its pages against the same files."""
    golden = Path(__file__).parent / "files" / "report_pages"
    spec = importlib.util.spec_from_file_location("report_pages_make", golden / "make.py")
    made = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(made)
    pages = made.pages()
    assert set(pages) == {file.name for file in golden.glob("*.html")} and len(pages) >= 5
    for name, html in pages.items():
        assert (golden / name).read_text("utf-8") == html, f"{name}: run {golden.name}/make.py and read the difference"


def test_what_was_not_checked_is_as_large_as_the_verdict() -> None:
    """Source: handbook 10: what was NOT checked, as large as the verdict."""
    html = page(VIEWS["holders"]["out"])
    assert re.search(r'class="panel verdict".*?<p class="word">Needs work first</p>', html, re.S)
    assert re.search(r'class="panel unchecked".*?<p class="word">3 of 3 looks</p>', html, re.S)
    sheet = style()
    assert re.search(r"\.panel \.word \{[^}]*font-size", sheet) and not re.search(r"\.(verdict|unchecked) \.word", sheet)


def test_depths_stand_against_the_published_figure_with_its_source() -> None:
    """Source: figures, holders: 4x5 is 0.197 in ± 0.007 in (5.004 ± 0.178 mm) to the divider, fair."""
    words = page(VIEWS["holders"]["out"])
    assert "0.197 in ± 0.007 in" in words and "ASA Z38.1.51-1951" in words and "How sure: fair" in words
    assert "+0.296 <b>too deep</b>" in words and "+0.006 <b>within</b>" in words


def test_every_sample_session_can_be_reported() -> None:
    stories = sorted((Path(__file__).parent.parent / "sample_sessions").glob("*/barnlight-export.json"))
    assert len(stories) >= 4
    for story in stories:
        bundle: dict[str, list[dict]] = {}
        records: dict[str, dict] = {}
        for change in json.loads(story.read_text("utf-8"))["changes"]:
            if change["record"] not in records:
                records[change["record"]] = {"id": change["record"], "kind": change["kind"]}
                bundle.setdefault(change["kind"], []).append(records[change["record"]])
            records[change["record"]][change["field"]] = change["value"]
        options = {"pieces": None, "measured": {}, "here": [], "version": 1, "published": {"ms": 0, "offset_min": 0}, "catalogue_hash": ""}
        for session in bundle["session"]:
            html = page(report_view(bundle, load(), options | {"about": {"session": session["id"]}}))
            assert Outline(html).unbalanced == [] and "made by the project" in html


def test_the_pdf_maker_reads_no_file_and_no_address(tmp_path: Path) -> None:
    if not pdf.is_available():
        with pytest.raises(Exception, match="Pango"):
            pdf.make_pdf("<p>", "", {})
        return
    secret = tmp_path / "secret.txt"
    secret.write_text("planted-on-the-disk")
    for part in (f'<link rel="attachment" href="{secret.as_uri()}">', f'<img src="{secret.as_uri()}" alt="">', '<img src="http://127.0.0.1:9/x.png" alt="">'):
        with pytest.raises(Exception, match="nothing but its own parts"):
            pdf.make_pdf(f"<html lang=en><title>x</title>{part}<p>words", "", {})


@pytest.mark.parametrize("case", VIEWS.values(), ids=VIEWS.keys())
def test_every_drawing_tells_its_words_to_who_cannot_see_it(case: dict) -> None:
    """Source: WAI-ARIA 1.2, role img; SVG 2, title and desc. Marks on photos are said in the list below and are hidden from a reader."""
    drawings = re.findall(r"<svg[^>]*>.*?</svg>", page(case["out"]), re.DOTALL)
    for drawing in drawings:
        told = re.match(r'<svg[^>]*role="img"[^>]*><title>[^<]{10,}</title><desc>[^<]{20,}</desc>', drawing)
        assert told or 'aria-hidden="true"' in drawing[: drawing.index(">")], drawing[:200]
