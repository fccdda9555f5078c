"""The memory of sellers: ordered by the lower end, two entries told as one and apart again, told before the next deal, handed over as a file."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from bench_phone import Phone
from bench_server import Server
from hands import starts, tap, unfold, wait_until_kept
from playwright.sync_api import Page, expect


def add_seller(page: Page, server: Server, name: str, outcomes: list[str]) -> None:
    """A new entry with dealings of these outcomes."""
    page.goto(f"{server.url}/#/sellers")
    find, nobody = page.get_by_label("Find"), page.get_by_text("Nobody here yet")
    expect(find.or_(nobody)).to_be_visible()
    # An empty book asks for the first one without a name, which is then typed.
    if find.is_visible():
        find.fill(name)
        tap(page, f"Add “{name}”")
    else:
        tap(page, "Add a seller")
        expect(page.get_by_label("Name or handle")).to_have_value("")
        page.get_by_label("Name or handle").fill(name)
        page.get_by_label("Name or handle").blur()
    expect(page.get_by_role("heading", level=1)).to_contain_text(name)
    for count, outcome in enumerate(outcomes, 1):
        tap(page, "Note a dealing")
        sheet = page.get_by_role("dialog", name="How did it go?")
        sheet.get_by_role("button", name=starts(outcome)).first.click()
        if outcome == "Unfair":
            sheet.get_by_role("button", name=starts("Hid it")).click()
        sheet.get_by_label("Note").fill(f"Private word {count}")
        sheet.get_by_role("button", name="Keep it").click()
        expect(sheet).to_have_count(0)


def expect_listed(page: Page, server: Server, names: list[str]) -> None:
    """The book of sellers holds these and no others, in this order."""
    page.goto(f"{server.url}/#/sellers")
    expect(page.locator("main ol.lines a.line .name")).to_have_text(names)


def test_sellers_are_remembered_and_told_before_the_next_deal(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    page.goto(f"{server.url}/#/sellers")
    expect(page.get_by_text("Nobody here yet")).to_be_visible()
    add_seller(page, server, "Perrine Holtwick", ["Fair", "Fair", "Fair", "Fair"])
    add_seller(page, server, "attic_nine", ["Fair"])
    add_seller(page, server, "Attic Nine Finds", ["Unfair"])
    # One fair dealing does not outrank four; the unfair one comes last.
    expect_listed(page, server, ["Perrine Holtwick", "attic_nine", "Attic Nine Finds"])
    expect(page.get_by_text(re.compile(r"Fair in \d+ to \d+ % of dealings, by 4 dealings"))).to_be_visible()
    page.get_by_label("Find").fill("NINE attic")
    expect(page.locator("main ol.lines a.line")).to_have_count(2)

    # Two entries of one person: told as one, with a way back.
    page.get_by_role("link", name=re.compile("^Attic Nine Finds")).click()
    expect(page.get_by_text("Unfair: hid it")).to_be_visible()
    unfold(page, "Name, venue, place, note")
    tap(page, "The same person as another entry")
    page.get_by_role("button", name="The same as attic_nine").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("attic_nine")
    expect(page.get_by_text("2 dealings: 1 fair, 1 unfair")).to_be_visible()
    expect(page.get_by_text("Unfair: hid it")).to_be_visible()
    expect_listed(page, server, ["Perrine Holtwick", "attic_nine · Attic Nine Finds"])

    # Told before dealing again, by either name, in calm words.
    page.goto(f"{server.url}/#/new")
    page.get_by_label(re.compile("Or a name|Who sells")).last.fill("attic nine finds")
    expect(page.get_by_text("Hid a fault once.")).to_be_visible()
    expect(page.get_by_text("No reason to turn away")).to_be_visible()
    tap(page, "Start")
    page.wait_for_url(re.compile("#/session/"))
    expect_listed(page, server, ["Perrine Holtwick", "attic_nine · Attic Nine Finds"])  # nobody is noted twice

    # All that is noted of them leaves as one file, and only by hand.
    page.get_by_role("link", name=re.compile("^attic_nine")).click()
    unfold(page, "Name, venue, place, note")
    with page.expect_download() as download:
        tap(page, "All that is noted of them, as a file")
    kept = tmp_path / "seller.txt"
    download.value.save_as(kept)
    text = kept.read_text("utf-8")
    assert "Attic Nine Finds" in text and "Unfair: hid it" in text and "Private word 1" in text and "Perrine" not in text
    page.get_by_role("button", name="Take apart: Attic Nine Finds").click()
    expect(page.get_by_text("1 dealing: 1 fair")).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("2 dealings: 1 fair, 1 unfair")).to_be_visible()
