"""A deal from the first figure to the first film: the ceiling hides until held, nothing is lost by a wrong figure, a fault on film goes back to its check."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

from barnlight.catalogue import load
from barnlight.domain.deal_lot import deal_lot
from barnlight.domain.deal_sheet import deal_sheet
from bench_phone import Phone
from bench_server import Server
from hands import add_piece, begin_session, starts, tap, wait_until_kept
from playwright.sync_api import Locator, Page, expect

NOT_TYPED = {"resale": False, "week_minor": 0, "premium": 0, "tax": 0, "fees": 0, "freight_minor": 0, "travel_minor": 0, "margin_minor": 0}


def fold(page: Page, words: str) -> Locator:
    """The folded part of these words, opened."""
    part = page.locator("details", has=page.locator("summary", has_text=words)).first
    if part.get_attribute("open") is None:
        part.locator("summary").click()
    expect(part).to_have_attribute("open", "")
    return part


def type_in(where: Page | Locator, label: str, text: str) -> None:
    field = where.get_by_label(label, exact=True)
    field.fill(text)
    field.blur()


def value_of(page: Page, low: str, likely: str, high: str) -> None:
    """Types what a working one is worth."""
    fold(page, "Value of a working one").get_by_role("button", name=starts("Type your own figure")).click()
    sheet = page.get_by_role("dialog")
    for label, text in (("Low, EUR", low), ("Likely, EUR", likely), ("High, EUR", high)):
        type_in(sheet, label, text)
    sheet.get_by_role("button", name="Keep these figures").click()


def lens_on_its_deal_sheet(page: Page, server: Server) -> str:
    """A lens asked 150 EUR for at a sale, nothing looked at yet; returns its visit."""
    wait_until_kept(page)
    begin_session(page, seller="Marisol Quince")
    visit = add_piece(page, "Lens", "In a shutter")
    page.goto(f"{server.url}/#/visit/{visit}/deal")
    expect(page.get_by_text("No ceiling yet")).to_be_visible()
    type_in(fold(page, "Price asked"), "Asking price of this piece", "150")
    return visit


def whole(minor: float) -> str:
    """Three figures, no hundredths, as the sheet shows sums of guesses."""
    return f"{float(f'{minor / 100:.3g}'):.0f}\u00a0EUR"


def test_the_ceiling_shows_only_while_it_is_held(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    visit = lens_on_its_deal_sheet(page, server)
    value_of(page, "430", "300", "640")
    expect(page.get_by_role("dialog").get_by_text("Low must not be above likely")).to_be_visible()
    type_in(page.get_by_role("dialog"), "Likely, EUR", "520")
    page.get_by_role("dialog").get_by_role("button", name="Keep these figures").click()

    # What the server's side reckons from the same records.
    deal = {"currency": "EUR", "value": {"low_minor": 43_000, "likely_minor": 52_000, "high_minor": 64_000}, "asking_minor": 15_000, **NOT_TYPED}
    sheet = deal_sheet(deal, {"kind": "lens", "type": "in_shutter"}, [], load())
    secret = whole(sheet["ceiling"]["middle_minor"])
    button = page.get_by_role("button", name="Hold to see the ceiling")
    figures = page.locator(".card.lit .held-figures")
    expect(button).to_be_visible()
    assert secret not in page.locator("body").inner_text()

    button.hover()
    page.mouse.down()
    expect(figures).to_contain_text(secret)
    expect(figures).to_contain_text(f"between {whole(sheet['ceiling']['low_minor'])} and {whole(sheet['ceiling']['high_minor'])}")
    expect(figures).to_contain_text(f"Walk away above {secret}")
    page.mouse.up()
    expect(figures).to_have_text("Hidden: it shows only while you hold the button.")

    button.focus()
    page.keyboard.down(" ")
    expect(figures).to_contain_text(secret)
    page.keyboard.up(" ")
    expect(figures).to_contain_text("Hidden")
    # A screen reader presses without holding; a second press hides it again.
    button.evaluate("(one) => one.click()")
    expect(figures).to_contain_text(secret)
    button.evaluate("(one) => one.click()")
    expect(figures).to_contain_text("Hidden")

    # The dearest look leads to its check, and says what it moves in the words of the sheet.
    first = sheet["checking"][0]
    look = page.locator("section", has=page.locator("#checking")).locator("a.line").first
    expect(look).to_contain_text(f"moves the ceiling by {whole(first['moves_minor'])}")
    expect(look).to_have_attribute("href", f"#/visit/{visit}/check/{first['check']}")
    tap(page, "Show the seller")
    expect(page.get_by_role("heading", name="What could not be tried here")).to_be_visible()
    assert not re.search(r"ceiling|EUR|walk away", page.locator("main").inner_text())
    # In the line that is always there, the answer hides as well.
    page.goto(f"{server.url}/#/visit/{visit}")
    line = page.get_by_role("button", name="Hold: so, buy or not?")
    expect(line).to_be_visible()
    assert secret not in page.locator("body").inner_text()
    line.evaluate("(one) => one.click()")
    expect(page.locator(".bottom-line .held-figures")).to_contain_text(secret)


def test_wrong_figures_are_refused_in_words_and_a_rate_makes_others_count(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    lens_on_its_deal_sheet(page, server)
    value_of(page, "", "520", "")
    on_top = fold(page, "What comes on top")
    type_in(on_top, "Buyer's premium, %", "much")
    expect(page.get_by_text("Type a percentage from 0 to 200")).to_be_visible()
    type_in(on_top, "Buyer's premium, %", "20")
    type_in(on_top, "Freight, EUR", "12,5")
    expect(page.locator("#drives + ul, section:has(#drives) ul").first).to_contain_text("Freight")
    fold(page, "Price asked").get_by_label("Currency").select_option("USD")
    expect(page.get_by_text("The price is asked in USD: type a rate to EUR, and it counts.")).to_be_visible()
    rates = fold(page, "Currency and rates")
    type_in(rates, "1 USD is how many EUR?", "nought")
    rates.get_by_role("button", name=starts("Keep this rate")).click()
    expect(page.get_by_text("Type how much 1 USD is in EUR, as in 0.92.")).to_be_visible()
    type_in(rates, "1 USD is how many EUR?", "0.9")
    rates.get_by_role("button", name=starts("Keep this rate")).click()
    expect(rates.get_by_text("1 USD = 0.9 EUR")).to_be_visible()
    expect(page.get_by_text("The price is asked in USD")).to_have_count(0)
    # The whole deal in dollars: 520 EUR at 0.9 are 577.78 USD; into yen there is no rate.
    fold(page, "Currency and rates").get_by_label("Reckon in").select_option("JPY")
    expect(page.get_by_text("type a rate between EUR and JPY first")).to_be_visible()
    fold(page, "Currency and rates").get_by_label("Reckon in").select_option("USD")
    fold(page, "Value of a working one")
    expect(page.get_by_text("Reckoned with: 578\u00a0USD")).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("Reckoned with: 520\u00a0EUR")).to_be_visible()
    # One's own figure for a repair stands at once where the example stood, and goes by one tap.
    table = fold(page, "Repairs in question")
    table.get_by_role("button", name=starts("Your figure for:")).first.click()
    type_in(page.get_by_role("dialog"), "Low, EUR", "1")
    type_in(page.get_by_role("dialog"), "Likely, EUR", "2")
    type_in(page.get_by_role("dialog"), "High, EUR", "3")
    page.get_by_role("dialog").get_by_role("button", name="Keep these figures").click()
    expect(table.get_by_text("2\u00a0EUR (1\u00a0EUR to 3\u00a0EUR)")).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    expect(table.get_by_text("2\u00a0EUR (1\u00a0EUR to 3\u00a0EUR)")).to_have_count(0)


def test_a_group_of_price_notes_gives_the_value_also_of_the_lot_without_a_signal(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    visit = lens_on_its_deal_sheet(page, server)
    page.context.set_offline(True)
    page.goto(f"{server.url}/#/prices/paste")
    today = date.today().isoformat()
    type_in(page, "One price a line", "\n".join(f"{today} a lens {price} EUR sold working" for price in (480, 520, 610)))
    type_in(page, "Group for all of them", "Lenses")
    tap(page, "Save 3 prices")
    page.goto(f"{server.url}/#/visit/{visit}/deal")
    fold(page, "Value of a working one").get_by_label("Group of your price notes").select_option("Lenses")
    expect(page.get_by_text("3 working ones sold, the middle at 520\u00a0EUR")).to_be_visible()
    deal = {"currency": "EUR", "value": {"low_minor": 48_000, "likely_minor": 52_000, "high_minor": 61_000}, "asking_minor": 15_000, **NOT_TYPED}
    piece = {"kind": "lens", "type": "in_shutter"}
    page.get_by_role("button", name="Hold to see the ceiling").evaluate("(one) => one.click()")
    expect(page.locator(".held-ceiling")).to_have_text(whole(deal_sheet(deal, piece, [], load())["ceiling"]["middle_minor"]))

    page.goto(f"{server.url}/#/")
    page.locator("a.line", has_text="Marisol Quince").or_(page.locator("main a[href^='#/session/']")).first.click()
    tap(page, "Deal sheet of the lot")
    type_in(fold(page, "Price asked"), "Price for the whole lot", "90")
    type_in(fold(page, "What comes on top"), "Freight, EUR", "25")
    lot = deal_lot({**deal, "value": None, "asking_minor": 9000, "freight_minor": 2500}, [{"id": visit, "deal": deal, "piece": piece, "answers": []}], load())
    expect(page.get_by_text("Asked for the lot: 90\u00a0EUR")).to_be_visible()
    expect(fold(page, "What comes on top").get_by_label("Freight, EUR")).to_have_value("25")
    page.get_by_role("button", name="Hold to see the ceiling").evaluate("(one) => one.click()")
    expect(page.locator(".held-ceiling")).to_have_text(whole(lot["ceiling"]["middle_minor"]))


def test_after_the_deal(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    visit = lens_on_its_deal_sheet(page, server)
    page.goto(f"{server.url}/#/visit/{visit}/check/lens.glass.haze")
    page.get_by_role("button", name="Claimed", exact=True).click()
    tap(page, "In order")
    sheet = page.get_by_role("dialog")
    sheet.get_by_role("button", name=re.compile("word", re.IGNORECASE)).first.click()
    sheet.get_by_role("button", name="Keep the claim").click()

    page.goto(f"{server.url}/#/visit/{visit}/after")
    tap(page, "I bought it")
    # What was asked is taken over where it can be read, and changed.
    sheet.get_by_role("button", name="What was asked").click()
    expect(sheet.get_by_label("Paid")).to_have_value("150")
    tomorrow, days_ago = date.today() + timedelta(days=1), lambda count: (date.today() - timedelta(days=count)).isoformat()
    type_in(sheet, "Paid", "140")
    type_in(sheet, "Day", tomorrow.isoformat())
    sheet.get_by_role("button", name="Keep it").click()
    expect(sheet.get_by_role("alert").filter(has_text="lies in the future")).to_be_visible()
    type_in(sheet, "Day", days_ago(60))
    sheet.get_by_role("button", name="Tax").click()
    sheet.get_by_role("button", name="Keep it").click()
    expect(page.get_by_text(re.compile("^Bought on .* for 140\u00a0EUR, with tax in it$"))).to_be_visible()

    tap(page, "Note a repair")
    sheet.get_by_label("Repair", exact=True).select_option("lens_clean")
    for label, day in (("Sent", days_ago(40)), ("Promised for", days_ago(12)), ("Back", days_ago(50))):
        type_in(sheet, label, day)
    sheet.get_by_role("button", name="Keep it").click()
    expect(sheet.get_by_role("alert").filter(has_text="cannot be back before it was sent")).to_be_visible()
    type_in(sheet, "Back", "")
    sheet.get_by_role("button", name="Keep it").click()
    row = page.get_by_role("button", name=re.compile("With the repairer for 40 days"))
    expect(row).to_contain_text("12 days late")
    row.click()
    type_in(sheet, "Back", days_ago(5))
    type_in(sheet, "What it cost", "85")
    sheet.get_by_role("button", name="Keep it").click()
    expect(page.get_by_text("after 35 days, 7 days later than promised")).to_be_visible()
    # What it really cost is offered for the person's own table, and only taken by a tap.
    tap(page, "My figure for it")
    expect(sheet).to_contain_text("Your one repair of this kind cost 85\u00a0EUR")
    tap(sheet.page, "Take that as my figure")
    expect(page.get_by_text(re.compile("^Your figure for .* is kept$"))).to_be_visible()

    tap(page, "Note a film test")
    sheet.get_by_role("button", name="Keep it").click()
    expect(sheet.get_by_role("alert").filter(has_text="Say first what showed")).to_be_visible()
    type_in(sheet, "Speed as marked", "1/50")
    type_in(sheet, "Stop", "f/16")
    sheet.get_by_role("button", name="A fault showed").click()
    sheet.get_by_label("Which check is it about").select_option("lens.glass.haze")
    sheet.get_by_role("button", name="Haze inside").click()
    type_in(sheet, "In words, for the report", "Veiled against the light")
    sheet.get_by_role("button", name="Keep it").click()
    film = page.locator("section", has=page.locator("#films"))
    expect(film).to_contain_text("Veiled against the light")
    expect(film).to_contain_text("1/50, f/16")
    expect(film).to_contain_text("The seller claimed: in order. By what was seen since, it did not hold.")
    expect(page.get_by_role("link", name="The seller's story")).to_be_visible()
    # The fault stands at its check, in a look of its own.
    page.get_by_role("button", name="Undo").click()
    expect(film).not_to_contain_text("Veiled against the light")
