"""A report handed on: copies ready without a signal, a file made by the phone alone, and the word of the server on each file."""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from bench_phone import Phone
from bench_server import Server
from demo_screens import known_records
from hands import LONG_MS, make_report, pair, tap, wait_until_kept
from playwright.sync_api import Page, expect


@pytest.fixture
def at_report(demo_server: Server, phone: Callable[..., Phone]) -> tuple[Page, str]:
    """A phone of the demo's book, with the address of a lens's report screen."""
    page = phone("seller").open(demo_server.url)
    wait_until_kept(page)
    pair(page, demo_server, "Orla")
    records = known_records(page, demo_server)
    visit = next(id_ for id_, one in records["visit"].items() if "210 mm lens" in records["piece"][one["piece"]]["title"])
    return page, f"{demo_server.url}/#/visit/{visit}/report"


def save(page: Page, press: Callable[[], None], path: Path) -> bytes:
    with page.expect_download() as saved:
        press()
    saved.value.save_as(path)
    return path.read_bytes()


def test_copies_are_ready_without_a_signal_and_known_to_the_server(demo_server: Server, at_report: tuple[Page, str], tmp_path: Path) -> None:
    page, address = at_report
    make_report(page, address)
    copies = page.get_by_role("region", name="Copies on this phone")
    expect(copies.get_by_role("button", name="PDF of version 1")).to_be_visible(timeout=LONG_MS)
    page.context.set_offline(True)
    files = {}
    for kind, name in (("One file", "copy.html"), ("PDF", "copy.pdf")):
        files[name] = save(page, copies.get_by_role("button", name=f"{kind} of version 1").click, tmp_path / name)
    assert files["copy.pdf"].startswith(b"%PDF") and b"<!doctype html>" in files["copy.html"]
    page.context.set_offline(False)
    for name, data in files.items():
        (tmp_path / f"changed-{name}").write_bytes(data.replace(b"lens", b"bens", 1) if name.endswith("html") else data[:-2] + b" \n")
        for file, word in ((tmp_path / name, "Yes, as published"), (tmp_path / f"changed-{name}", "No")):
            page.goto(f"{demo_server.url}/evidence/")
            page.set_input_files("#file", file)
            page.get_by_role("button", name="Look it up").click()
            expect(page.locator(".word")).to_have_text(word)


def test_the_phone_alone_makes_one_file_from_its_own_book(at_report: tuple[Page, str], tmp_path: Path) -> None:
    page, address = at_report
    page.goto(address)
    page.context.set_offline(True)
    tap(page, "Make one file on this phone")
    press = page.get_by_role("button", name=re.compile("^Hand on [0-9]+ kB$"))
    expect(press).to_be_visible(timeout=LONG_MS)
    html = save(page, press.click, tmp_path / "own.html").decode()
    assert "made on the phone alone" in html and "Shutter times" in html
    page.context.set_offline(False)
    page.goto((tmp_path / "own.html").as_uri())
    expect(page.get_by_role("heading", level=1)).to_contain_text("210 mm lens")
    if folder := os.environ.get("BARNLIGHT_PICTURES"):
        page.screenshot(path=Path(folder) / "own-file.png", full_page=True)


def test_an_old_link_leads_on_only_when_the_sender_lets_it(demo_server: Server, at_report: tuple[Page, str], phone: Callable[..., Phone]) -> None:
    page, address = at_report
    page.goto(address)
    tap(page, "Make the report")
    dialog = page.get_by_role("dialog", name=re.compile("Version [0-9]+ is made"))
    link = dialog.get_by_role("link").inner_text()
    version = dialog.get_by_role("heading").inner_text().removesuffix(" is made")
    dialog.get_by_role("button", name="Close").click()
    tap(page, "Make the report")
    dialog.get_by_role("button", name="Close").click()
    newest = page.locator("li.card", has=page.get_by_role("heading", name=re.compile("^Version"))).first.get_by_role("button", name="Will lead to newer")
    newest.click()
    expect(page.get_by_text("That link will lead on to a newer version, once there is one")).to_be_visible()
    expect(newest).to_have_attribute("aria-pressed", "true")
    buyer = phone("buyer").open(link)
    expect(buyer.get_by_text("There is a newer version of this report")).to_be_visible()
    expect(buyer.get_by_role("link", name=re.compile("^Read version"))).to_have_count(1)
    page.locator("li.card", has=page.get_by_role("heading", name=version, exact=True)).get_by_role("button", name="Leads to newer").click()
    expect(page.get_by_text("That link now leads on to newer versions")).to_be_visible()
    buyer.reload()
    buyer.get_by_role("link", name=re.compile("^Read version [0-9]+$")).click()
    expect(buyer.get_by_role("heading", level=1)).to_contain_text("210 mm lens")
    expect(buyer.get_by_text("What changed since version").first).to_be_visible()


def test_why_no_report_was_made_stands_before_the_eyes(at_report: tuple[Page, str]) -> None:
    """The button stands at the foot of a long page; what it came to must not stand out of sight."""
    page, address = at_report
    page.goto(address)
    expect(page.get_by_text("A card for the photo")).to_be_visible()
    page.context.set_offline(True)
    page.evaluate("window.scrollTo(0, document.documentElement.scrollHeight)")
    tap(page, "Make the report")
    expect(page.get_by_role("alert").filter(has=page.get_by_role("paragraph"))).to_be_in_viewport()


def test_words_of_a_report_and_of_its_links_keep_the_width_of_a_phone(demo_server: Server, at_report: tuple[Page, str], phone: Callable[..., Phone]) -> None:
    page, _ = at_report
    records = known_records(page, demo_server)
    camera = next(id_ for id_, one in records["visit"].items() if "cherry wood" in records["piece"][one["piece"]]["title"])
    link = make_report(page, f"{demo_server.url}/#/visit/{camera}/report")
    wide = "(one) => one.getBoundingClientRect().width"
    assert page.locator("li.link .who").first.evaluate(wide) > 250
    buyer = phone("buyer").open(link)
    # What a reading is stands above its figure, not word under word in a third of the width.
    assert buyer.locator("table.readings tbody th").last.evaluate(wide) > 300
