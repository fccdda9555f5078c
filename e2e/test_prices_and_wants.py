"""The ledger on a phone without signal: prices noted, pasted, taken out as a table and back; a want from resting to found."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest
from bench_phone import Phone
from bench_server import Server
from hands import fill, tap, wait_until_kept
from playwright.sync_api import Page, expect

TODAY = date.today()
NBSP = "\u00a0"


@pytest.fixture
def page(server: Server, phone: Callable[..., Phone]) -> Page:
    """A phone with the app on it, whose network is gone."""
    mine = phone().open(server.url)
    wait_until_kept(mine)
    mine.context.set_offline(True)
    return mine


def test_prices_noted_pasted_and_round_the_table(page: Page, server: Server, tmp_path: Path) -> None:
    page.goto(f"{server.url}/#/")
    tap(page, "Ledger")
    tap(page, "Prices")
    expect(page.get_by_text("No price noted yet")).to_be_visible()

    # By hand: a price of 0 and a day to come are refused in words, and what was typed stands.
    tap(page, "Note a price")
    fill(page, "What was it?", "210 mm in a leaf shutter")
    fill(page, "Price", "0")
    fill(page, "Group", "210 mm in a shutter")
    fill(page, "Day", str(TODAY + timedelta(days=2)))
    tap(page, "Save this price")
    wrong = page.get_by_role("alert").filter(has_text="Not saved yet")
    expect(wrong).to_contain_text("A price of 0 says nothing")
    expect(wrong).to_contain_text("That day is yet to come")
    fill(page, "Price", "240")
    fill(page, "Day", str(TODAY))
    tap(page, "Save this price")
    expect(page.get_by_text("Noted: 210 mm in a leaf shutter, 240")).to_be_visible()
    expect(page.get_by_label("What was it?")).to_have_value("")
    expect(page.get_by_label("Group")).to_have_value("210 mm in a shutter")

    # Many at once: three that are clear, one that is there already, one in another currency, two with something wrong.
    page.goto(f"{server.url}/#/prices/paste")
    fill(page, "One price a line", "\n".join([
        "2024-05-03 210 mm, second one 200 EUR sold working", "2024-11-03 210 mm, third 220 EUR", f"{TODAY} 210 mm in a leaf shutter 240 EUR",
        "2025-05-03 210 mm 150 EUR faulty", "2025-06-03 210 mm from overseas 250 USD", "2025-13-03 210 mm 200 EUR", "210 mm for nothing 0 EUR",
    ]))  # fmt: skip
    fill(page, "Group for all of them", "210 mm in a shutter")
    expect(page.get_by_text("Stands in your book already")).to_be_visible()
    expect(page.get_by_text("“2025-13-03” is not clear as a day")).to_be_visible()
    tap(page, "Save 4 prices")
    expect(page.get_by_text("4 prices saved; 3 left here")).to_be_visible()
    expect(page.get_by_label("One price a line")).to_have_value(re.compile(r"leaf shutter 240 EUR\n.*210 mm 200 EUR\n.*for nothing 0 EUR$", re.DOTALL))
    # One undo for all of them, and once more.
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("button", name="Save 4 prices")).to_be_visible()
    expect(page.get_by_text("Line 6:")).to_be_visible()
    tap(page, "Save 4 prices")
    expect(page.get_by_text("4 prices saved; 3 left here")).to_be_visible()

    # Sold in EUR: 150, 200, 220, 240; the weights of the half-life decide the middle, the interval is smallest to largest
    # with 1 - 2^(1-4) = 0.875 (order statistics).
    page.goto(f"{server.url}/#/prices")
    tap(page, "210 mm in a shutter")
    sums = page.get_by_label("What it comes to")
    expect(sums).to_contain_text(f"Usually 220{NBSP}EUR, of 4 sales")
    expect(sums).to_contain_text(f"between 150{NBSP}EUR and 240{NBSP}EUR 87 times in 100")
    expect(sums).to_contain_text("Trend: cannot tell")
    expect(page.get_by_text("1 sale in another currency left out: type a rate to count it.")).to_be_visible()
    expect(page.get_by_role("img", name=re.compile("Prices of 210 mm")).locator("text", has_text=re.compile("^EUR$"))).to_be_visible()
    tap(page, "Type a rate")
    fill(page, "is how many EUR", "0.8")
    tap(page, "Add the rate")
    expect(page.get_by_text("1 USD is 0.8 EUR")).to_be_visible()
    page.goto(f"{server.url}/#/prices/group?name=210+mm+in+a+shutter")
    expect(sums).to_contain_text("of 5 sales")
    expect(sums).to_contain_text("1 sale turned into EUR by your rates.")

    # Out as a table that another reader of tables understands (Python's csv, RFC 4180), everything off, and in again.
    page.goto(f"{server.url}/#/prices")
    page.evaluate("() => { navigator.canShare = undefined; }")
    with page.expect_download() as told:
        tap(page, "Save as a table")
    told.value.save_as(tmp_path / "prices.csv")
    text = (tmp_path / "prices.csv").read_text("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(text)))
    assert len(rows) == 5 and {row["group"] for row in rows} == {"210 mm in a shutter"}
    assert sorted((row["amount"], row["currency"]) for row in rows) == [("150.00", "EUR"), ("200.00", "EUR"), ("220.00", "EUR"), ("240.00", "EUR"), ("250.00", "USD")]
    # A spreadsheet of the continent parts by semicolons; a formula comes in as words and goes out harmless.
    (tmp_path / "more.csv").write_text("day;what;amount;currency;colour\r\n3.5.2023;=1+1 lens;99,50;EUR;black\r\n3.5.2023;lens;0;EUR;\r\n", "utf-8")
    page.goto(f"{server.url}/#/prices/paste")
    page.get_by_label("Table to read").set_input_files(tmp_path / "prices.csv")
    expect(page.get_by_text("Stands in your book already")).to_have_count(5)
    expect(page.get_by_role("button", name="Save 0 prices")).to_be_disabled()
    tap(page, "Put it away")
    page.get_by_label("Table to read").set_input_files(tmp_path / "more.csv")
    expect(page.get_by_text("Not taken over, as there is no place for them: colour.")).to_be_visible()
    tap(page, "Save 1 price")
    expect(page.get_by_text("1 price saved; 1 left here")).to_be_visible()
    page.goto(f"{server.url}/#/prices")
    with page.expect_download() as told:
        tap(page, "Save as a table")
    told.value.save_as(tmp_path / "prices.csv")
    assert "2023-05-03,'=1+1 lens,,99.50,EUR,sold,unknown" in (tmp_path / "prices.csv").read_text("utf-8-sig")

    # A note put right: a day to come is refused and the old one stays.
    tap(page, "No group yet")
    tap(page, "=1+1 lens")
    fill(page, "Day", str(TODAY + timedelta(days=1)))
    expect(page.get_by_text("That day is yet to come")).to_be_visible()
    tap(page, "Take this price off")
    page.get_by_role("button", name="Undo").click()
    page.goto(f"{server.url}/#/prices/group?name=")
    expect(page.get_by_text("=1+1 lens")).to_be_visible()


def want(page: Page, server: Server, what: str, days_ago: int, found_after: int | None = None) -> None:
    """Puts a want of some days ago on the list, and finds it after so many days, where it was."""
    page.goto(f"{server.url}/#/wants")
    tap(page, "Want something")
    fill(page, "What it is", what)
    fill(page, "Group", "Lenses")
    tap(page, "Put it on the list")
    expect(page.get_by_role("heading", level=1)).to_contain_text(what)
    fill(page, "Wanted since", str(TODAY - timedelta(days=days_ago)))
    if found_after is not None:
        tap(page, "It turned up")
        fill(page, "On the day", str(TODAY - timedelta(days=days_ago - found_after)))
        page.get_by_role("dialog").get_by_role("button", name="Found").click()
        expect(page.get_by_text("Look for it again")).to_be_visible()


def test_a_want_rests_stands_and_turns_up(page: Page, server: Server) -> None:
    other_tab = page.context.new_page()
    other_tab.goto(f"{server.url}/#/wants")
    page.goto(f"{server.url}/#/")
    tap(page, "Ledger")
    tap(page, "Wants")
    expect(page.get_by_text("Nothing looked for yet")).to_be_visible()
    tap(page, "Want something")
    fill(page, "What it is", "Board for the long lens")
    tap(page, "Put it on the list")
    fill(page, "Most you would pay", "40")
    fill(page, "Why you want it", "The lens lies idle without it.")
    # Two weeks by default (handbook, section 7: rest period before buying on impulse).
    expect(page.get_by_text(re.compile("^It rests until"))).to_be_visible()
    expect(other_tab.get_by_text("at most 40")).to_be_visible()

    fill(page, "Wanted since", str(TODAY + timedelta(days=1)))
    expect(page.get_by_text("cannot have been wanted from a day yet to come")).to_be_visible()
    fill(page, "Wanted since", str(TODAY - timedelta(days=35)))
    expect(page.get_by_role("heading", name="Does the want still stand?")).to_be_visible()
    expect(page.get_by_text("You wrote: “The lens lies idle without it.”")).to_be_visible()
    expect(other_tab.get_by_text("Does it still stand?")).to_be_visible()
    tap(page, "Yes, it stands")
    expect(page.get_by_text(re.compile("^Said to stand on"))).to_be_visible()
    expect(page.get_by_text("You have waited 5 weeks. Too few to say how long it takes: 0 of 1 want found, 3 are needed.")).to_be_visible()

    for what, days_ago, found_after in (("90 mm", 300, 14), ("150 mm", 200, 35), ("210 mm", 100, 49)):
        want(page, server, what, days_ago, found_after)
    want(page, server, "300 mm", 35)
    # Found after 2, 5 and 7 weeks, one open for 5: Kaplan and Meier by hand 3/4, 1/2, 0; half had turned up at 5 weeks.
    line = page.get_by_text(re.compile("^You have waited 5 weeks; half of such pieces turned up within 5 weeks"))
    expect(line).to_contain_text("4 wants, 1 of them not found so far")

    # Found before it was wanted is refused in words; then it turns up, and comes back by undo.
    tap(page, "It turned up")
    sheet = page.get_by_role("dialog")
    fill(page, "On the day", str(TODAY - timedelta(days=40)))
    sheet.get_by_role("button", name="Found").click()
    expect(sheet.get_by_role("alert").filter(has_text="It cannot be found before it was wanted")).to_be_visible()
    fill(page, "On the day", str(TODAY))
    sheet.get_by_role("button", name="Found").click()
    expect(page.get_by_text("after 5 weeks.")).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    expect(line).to_be_visible()

    page.goto(f"{server.url}/#/wants")
    page.get_by_label("Of which group").select_option("Lenses")
    expect(page.get_by_role("img", name=re.compile("Share of Lenses"))).to_be_visible()
    expect(page.get_by_role("paragraph").filter(has_text="Half of them turned up within 5 weeks")).to_be_visible()
    # Watched for seven weeks at most: within twelve is not known, and is said so.
    expect(page.get_by_role("row", name=re.compile("within 2 weeks"))).to_contain_text("25 % (95 % interval")
    expect(page.get_by_role("row", name=re.compile("within 12 weeks"))).to_contain_text("not known: the longest wait so far is 7 weeks")


def test_what_turned_up_is_noted_as_a_price(page: Page, server: Server) -> None:
    want(page, server, "90 mm", 300, 14)
    tap(page, "Note what it sold for")
    expect(page.get_by_label("What was it?")).to_have_value("90 mm")
    expect(page.get_by_label("Group")).to_have_value("Lenses")
    expect(page.get_by_label("Day")).to_have_value(str(TODAY - timedelta(days=286)))
    fill(page, "Price", "250")
    tap(page, "Save this price")
    page.goto(f"{server.url}/#/prices/group?name=Lenses")
    expect(page.get_by_role("link", name=re.compile("^90 mm"))).to_contain_text(f"250{NBSP}EUR")


def test_a_price_typed_and_not_saved_outlives_a_dropped_phone(server: Server, phone: Callable[..., Phone]) -> None:
    mine = phone()
    page = mine.open(f"{server.url}/#/prices/add")
    wait_until_kept(page)
    fill(page, "What was it?", "Brass lens")
    fill(page, "Price", "1")
    page.get_by_label("Currency").select_option("GBP")
    page.get_by_label("State").select_option("faulty")
    page.get_by_label("Price", exact=True).fill("185")
    other_tab = page.context.new_page()
    other_tab.goto(f"{server.url}/#/prices/add")
    expect(other_tab.get_by_label("Price", exact=True)).to_have_value("185")
    mine.kill()

    page = mine.open(f"{server.url}/#/prices/add")
    expect(page.get_by_text("Typed before and not saved yet.")).to_be_visible()
    expect(page.get_by_label("What was it?")).to_have_value("Brass lens")
    expect(page.get_by_label("State")).to_have_value("faulty")
    tap(page, "Save this price")
    expect(page.get_by_text(f"Noted: Brass lens, 185{NBSP}GBP")).to_be_visible()
    # Once it is saved nothing of it comes back.
    page.goto(f"{server.url}/#/prices")
    tap(page, "Note a price")
    expect(page.get_by_label("What was it?")).to_have_value("")
    expect(page.get_by_text("Typed before and not saved yet.")).to_have_count(0)
