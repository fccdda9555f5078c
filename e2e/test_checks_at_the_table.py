"""At a check, with cold hands and large text: no word is in the way, back is under the thumb, and what was typed is kept."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from bench_phone import Phone
from bench_server import ROOT, Server
from demo_screens import screens, show, unfolded
from hands import add_piece, begin_session, fill, pair, starts, tap, title, to_a_photo_of_the_second_check, unfold, wait_until_kept, words_stay
from playwright.sync_api import Page, expect

PICTURE = ROOT / "webapp/public/icons/icon-512.png"
TWICE_AS_LARGE = "document.documentElement.style.fontSize = '200%'"
# Each line of text and each button of the page, once called up, against what stands at the bottom of the screen.
COVERED = """() => {
  const bars = [...document.querySelectorAll(".toast, section.foot")];
  return [...document.querySelectorAll("main :is(p, dd, li, a, button, summary)")].filter((one) => one.checkVisibility()).flatMap((one) => {
    one.scrollIntoView({ block: "end", behavior: "instant" });
    const { bottom } = one.getBoundingClientRect();
    return bars.some((bar) => bottom > bar.getBoundingClientRect().top + 1) ? [one.textContent] : [];
  });
}"""


# Words in two parts that would stand in one piece on a line of their own.
BROKEN = """() => {
  const walk = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT), broken = [];
  for (let text = walk.nextNode(); text; text = walk.nextNode()) {
    const around = text.parentElement;
    if (!around.checkVisibility() || around.clientWidth === 1 || around.closest("svg, option, .only-read")) continue;
    for (const word of text.data.matchAll(/[^\\s/–-]+/g)) {
      const range = document.createRange();
      range.setStart(text, word.index);
      range.setEnd(text, word.index + word[0].length);
      const parts = [...range.getClientRects()].filter(({ width }) => width > 0);
      const wide = parts.reduce((sum, { width }) => sum + width, 0);
      if (new Set(parts.map(({ top }) => Math.round(top))).size > 1 && wide <= around.closest("li, section").clientWidth) broken.push(word[0]);
    }
  }
  return broken;
}"""


@pytest.fixture
def session(server: Server, phone: Callable[..., Phone]) -> Page:
    """A session begun on a phone; the question what is on the table stands open."""
    page = phone().open(server.url)
    wait_until_kept(page)
    begin_session(page)
    return page


@pytest.fixture
def camera(session: Page) -> Page:
    """A folding camera on the table."""
    add_piece(session, "Camera", "Folding field camera")
    return session


def test_a_word_covers_nothing_in_large_text(camera: Page) -> None:
    """WCAG 2.2, 1.4.4 (text at 200 %) and 2.4.11 (what has the focus is not hidden)."""
    words_stay(camera)
    tap(camera, "Five-minute pass")
    camera.evaluate(TWICE_AS_LARGE)
    tap(camera, "In order")
    expect(title(camera)).to_contain_text("2 of 16")
    word = camera.locator(".toast")
    expect(word).to_be_visible()
    # The foot grew with the text; the word rises with it.
    camera.wait_for_function("() => document.querySelector('.toast').getBoundingClientRect().bottom <= document.querySelector('section.foot').getBoundingClientRect().top + 1")
    assert camera.evaluate(COVERED) == []
    tap(camera, "In order")
    expect(word).to_contain_text("Lens board there")
    expect(word).to_have_count(1)


def test_back_in_a_pass_keeps_what_was_said_and_comes_forward_again(camera: Page) -> None:
    tap(camera, "Five-minute pass")
    expect(title(camera)).to_contain_text("1 of 16")
    back = camera.get_by_role("button", name="Back to the look before")
    expect(back).to_have_count(0)
    tap(camera, "Worn")
    expect(title(camera)).to_contain_text("2 of 16")
    tap(camera, "In order")
    expect(title(camera)).to_contain_text("3 of 16")
    back.click()
    back.focus()
    camera.keyboard.press("Enter")
    expect(title(camera)).to_contain_text("1 of 16")
    expect(camera.get_by_role("button", name=starts("Worn"))).to_have_attribute("aria-pressed", "true")
    tap(camera, "Next")
    expect(title(camera)).to_contain_text("3 of 16")


def test_the_phones_own_way_back_leaves_the_pass(camera: Page) -> None:
    """Also after a check was picked from the list, or the next look was taken up."""
    tap(camera, "Five-minute pass")
    expect(title(camera)).to_contain_text("1 of 16")
    tap(camera, "In order")
    expect(title(camera)).to_contain_text("2 of 16")
    tap(camera, "All checks")
    camera.get_by_role("dialog").get_by_role("link", name=re.compile("Allowed to handle it")).click()
    expect(title(camera)).to_contain_text("1 of 16")
    tap(camera, "Next: ")
    expect(title(camera)).not_to_contain_text("1 of 16")
    camera.go_back()
    expect(camera.get_by_role("heading", name="All checks")).to_be_visible()


def test_the_phones_own_way_back_does_not_lead_into_a_photo_that_was_left(camera: Page) -> None:
    to_a_photo_of_the_second_check(camera, PICTURE)
    tap(camera, "Back")
    expect(title(camera)).to_contain_text("2 of 16")
    camera.go_back()
    expect(camera.get_by_role("heading", name="All checks")).to_be_visible()


def test_from_the_end_of_a_pass_back_to_its_last_look(camera: Page) -> None:
    visit = re.search("[0-9a-f]{32}", camera.url).group()
    camera.goto(camera.url.split("#")[0] + f"#/visit/{visit}/pass/short?at=done")
    tap(camera, "Back to the last look")
    expect(title(camera)).to_contain_text("16 of 16")


def test_a_reason_of_ones_own_is_typed_and_enter_keeps_it(camera: Page) -> None:
    tap(camera, "Five-minute pass")
    tap(camera, "Not checked")
    sheet = camera.get_by_role("dialog", name="Why not?")
    field = sheet.get_by_label("Other reason")
    field.press("Enter")
    expect(sheet).to_be_visible()  # nothing typed, nothing said
    field.fill("Nailed into its crate")
    field.press("Enter")
    expect(camera.get_by_text("Allowed to handle it: not checked")).to_be_visible()
    tap(camera, "Back to the look before")
    tap(camera, "Not checked")
    expect(sheet.get_by_label("Other reason")).to_have_value("Nailed into its crate")
    sheet.get_by_role("button", name="Close").click()
    visit = re.search("[0-9a-f]{32}", camera.url).group()
    camera.goto(camera.url.split("#")[0] + f"#/visit/{visit}/report")
    tap(camera, "Make one file on this phone")
    with camera.expect_download() as report:
        tap(camera, "Hand on")
    assert "Nailed into its crate" in Path(report.value.path()).read_text("utf-8")


def test_enter_in_a_sheet_takes_the_amount_that_was_typed(camera: Page) -> None:
    visit = re.search("[0-9a-f]{32}", camera.url).group()
    camera.goto(camera.url.split("#")[0] + f"#/visit/{visit}/after")
    tap(camera, "I bought it")
    sheet = camera.get_by_role("dialog", name="What did you pay?")
    sheet.get_by_label("Paid").fill("120")
    sheet.get_by_label("Paid").press("Enter")
    expect(sheet).to_have_count(0)
    expect(camera.get_by_text("120\u00a0EUR").first).to_be_visible()


def test_a_thing_typed_and_not_added_waits(camera: Page) -> None:
    address = camera.url
    unfold(camera, "What comes with it")
    camera.get_by_label("Thing", exact=True).fill("rail clamp")
    tap(camera, "Back to the session")
    expect(camera.get_by_role("link", name=re.compile("Folding field camera"))).to_be_visible()
    camera.goto("about:blank")  # and the app is closed
    camera.goto(address)
    unfold(camera, "What comes with it")
    expect(camera.get_by_text("1 not added yet")).to_be_visible()
    expect(camera.get_by_label("Thing", exact=True)).to_have_value("rail clamp")
    tap(camera, "It is missing")
    expect(camera.get_by_text("rail clamp (not with it)")).to_be_visible()
    camera.reload()
    unfold(camera, "What comes with it")
    expect(camera.get_by_label("Thing", exact=True)).to_have_value("")


def test_an_amount_follows_what_another_tab_saves_unless_it_is_being_typed(camera: Page) -> None:
    def price(page: Page):  # noqa: ANN202 - Playwright's Locator
        unfold(page, "Name, type, format")
        return page.get_by_label("Asking price of this piece")

    here, other = price(camera), camera.context.new_page()
    other.goto(camera.url)
    price(other)
    fill(other, "Asking price of this piece", "120")
    expect(here).to_have_value("120")
    here.focus()
    camera.keyboard.type("5")
    fill(other, "Asking price of this piece", "90")
    expect(other.get_by_text("90\u00a0EUR")).to_be_visible()
    expect(here).to_have_value(re.compile("5"))


def test_an_amount_stands_in_line_with_its_currency(camera: Page) -> None:
    """A hint below the amount, or a label of two lines above it, moves neither."""
    root = camera.url.split("#")[0]
    for address, amount in (("#/new", "Price for the whole lot"), (camera.url.removeprefix(root), "Asking price of this piece")):
        camera.goto(root + address)
        unfold(camera, "price")
        field = camera.get_by_label(amount)
        expect(field).to_be_visible()
        boxes = field.bounding_box(), camera.get_by_label("Currency").first.bounding_box()
        assert abs(boxes[0]["y"] - boxes[1]["y"]) < 1, boxes
        assert abs(boxes[0]["height"] - boxes[1]["height"]) < 1, boxes


def test_no_word_breaks_where_a_line_would_hold_it(demo_server: Server, phone: Callable[..., Phone]) -> None:
    """WCAG 2.2, 1.4.4: what stands beside words goes below them in large text, as in lists of prices, sums and questions."""
    page = phone().open(demo_server.url)
    wait_until_kept(page)
    pair(page, demo_server, "Bench phone")
    broken = []
    for screen in screens(page, demo_server):
        if screen.name in ("camera", "lens", "deal", "price-group", "inquiry"):
            show(page, demo_server, screen)
            unfolded(page)
            page.evaluate(TWICE_AS_LARGE)
            broken += [f"{screen.name}: {word}" for word in page.evaluate(BROKEN)]
    assert broken == []


def test_each_caution_stands_on_a_line_of_its_own(camera: Page) -> None:
    tap(camera, "Five-minute pass")
    cautions = camera.locator(".care summary .title")
    expect(cautions).to_have_count(4)
    tops = cautions.evaluate_all("(found) => found.map((one) => one.getBoundingClientRect().top)")
    assert tops == sorted(set(tops)), tops


def test_a_lens_in_a_shutter_is_shown_no_group_of_lenses_without(session: Page) -> None:
    add_piece(session, "Lens", "In a shutter")
    groups = session.get_by_role("region", name="All checks")
    expect(groups.get_by_text("Shutter", exact=True)).to_be_visible()
    expect(groups.get_by_text("Lens without a shutter")).to_have_count(0)
