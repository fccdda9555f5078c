"""Turns a report view into the page a buyer reads, by the one template; no script, no style but the sheet beside it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

import pystache

TEMPLATE = Path(__file__).parent / "template"
PARTS = ("leaks", "piece", "picture", "shutter", "since")


def page(view: Mapping) -> str:
    """The HTML of a view. Raises KeyNotFoundError where the template asks for what the view does not have."""
    return _renderer().render(_text("report.mustache"), dict(view))


def closed_page(title: str, happened: str, todo: str) -> str:
    """The page behind a link that shows no report: what happened, and what its reader can do."""
    return _renderer().render(_text("closed.mustache"), {"title": title, "happened": happened, "todo": todo})


def newer_page(view: Mapping) -> str:
    """The page in front of an old version: {title, version, published, newest, newest_published, leads_on}."""
    return _renderer().render(_text("newer.mustache"), dict(view))


def evidence_page(view: Mapping) -> str:
    """The page that says whether a file is the one published: {asked, name, found: [{words, day, newer}], names}."""
    return _renderer().render(_text("evidence.mustache"), dict(view))


def style(paper: str = "a4") -> str:
    """The style sheet that stands beside the page; `paper` is what the PDF is made for: "a4" or "letter"."""
    return f"{_text('style.css')}\n@media print {{ @page {{ size: {paper}; }} }}\n"


class _Renderer(pystache.Renderer):
    """Writes a number as JavaScript does, so that the phone's page is the same text: 32.0 is 32."""

    def str_coerce(self, val: object) -> str:
        return str(int(val)) if isinstance(val, float) and val.is_integer() else str(val)


@cache
def _renderer() -> pystache.Renderer:
    # Strict: a name that is in the template and not in the view is a mistake to be seen, not a gap in a report.
    return _Renderer(partials={name: _text(f"{name}.mustache") for name in PARTS}, missing_tags="strict")


@cache
def _text(name: str) -> str:
    return (TEMPLATE / name).read_text("utf-8")
