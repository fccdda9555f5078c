"""A tool called up in the middle of a pass leads back into the pass, to the check it was called from."""

from __future__ import annotations

import re
from collections.abc import Callable
from urllib.parse import quote

import pytest
from bench_phone import Phone
from bench_server import Server
from hands import add_piece, begin_session, heading, tap, wait_until_kept
from playwright.sync_api import Page, expect


@pytest.fixture
def page(server: Server, phone: Callable[..., Phone]) -> Page:
    page = phone().open(server.url)
    wait_until_kept(page)
    begin_session(page)
    return page


@pytest.mark.parametrize(("kind", "type_", "check", "place", "word", "tool"), [
    ("Camera", "Folding", "camera.back.depth", "", "Measure", "Screen and film"),
    ("Camera", "Folding", "camera.bellows.reach", "", "Measure", "Bellows and reach"),
    ("Camera", "Folding", "camera.bellows.light", "extension=middle", "Find leaks", "Leak finder"),
    ("Holders", "Sheet-film holders", "holders.depth.sides", "holder=1;side=a", "Measure", "Holder depth"),
])  # fmt: skip
def test_from_a_tool_back_into_the_pass(page: Page, kind: str, type_: str, check: str, place: str, word: str, tool: str) -> None:
    visit = add_piece(page, kind, type_)
    page.goto(page.url.split("#")[0] + f"#/visit/{visit}/pass/full?at={check}&place={quote(place, safe='')}")
    title = page.get_by_role("heading", level=1)
    expect(title).to_contain_text(re.compile(r"· \d+ of \d+"))
    before = heading(page)
    tap(page, word)
    expect(title).to_contain_text(tool)
    page.get_by_role("link", name="Back to the check").click()
    expect(title).to_have_text(before, use_inner_text=True)
    assert "/pass/full" in page.url
