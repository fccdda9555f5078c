"""At the table with one thumb: a slip is taken back where it happened, nothing that was tapped throws out of the pass, and what is typed stays."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from bench_phone import Phone
from bench_server import ROOT, Server
from hands import (
    add_piece, begin_session, fill, heading, say_faulty, starts, tap, title, to_a_photo_of_the_second_check, unfold, wait_until_kept, words_stay,
)  # fmt: skip
from made_files import firings
from playwright.sync_api import Page, expect

BELLOWS = "camera.bellows.light"
PICTURE = ROOT / "webapp/public/icons/icon-512.png"


@pytest.fixture
def camera(server: Server, phone: Callable[..., Phone]) -> Page:
    """A folding camera on the table of a phone without a server in reach."""
    mine = phone()
    page = mine.open(server.url)
    wait_until_kept(page)
    server.kill()
    begin_session(page)
    add_piece(page, "Camera", "Folding field camera")
    expect(title(page)).to_contain_text("Folding field camera")
    return page


def lens_heard(server: Server, phone: Callable[..., Phone], sound: Path) -> Page:
    """A lens in a shutter with its usual speeds on the table of a phone whose microphone hears this."""
    page = phone().open(server.url, microphone=sound)
    wait_until_kept(page)
    begin_session(page)
    add_piece(page, "Lens", "In a shutter")
    tap(page, "Geared, set by a ring on the rim")
    return page


def test_undo_leads_back_to_the_check_it_took_back(camera: Page) -> None:
    tap(camera, "Five-minute pass")
    expect(title(camera)).to_contain_text("Allowed to handle it")
    tap(camera, "Worn")
    expect(title(camera)).to_contain_text("2 of 16")
    tap(camera, "Undo")
    expect(title(camera)).to_contain_text("Allowed to handle it")
    expect(camera.get_by_role("button", name=starts("Worn"))).to_have_attribute("aria-pressed", "false")


def test_the_word_after_an_answer_names_its_place_and_undo_returns_there(camera: Page) -> None:
    visit = re.search("[0-9a-f]{32}", camera.url).group()
    camera.goto(camera.url.split("#")[0] + f"#/visit/{visit}/pass/short?at={BELLOWS}&place=extension%3Dmiddle")
    tap(camera, "Worn")
    expect(camera.get_by_text("Bellows in the dark, middle extension: worn")).to_be_visible()
    here = camera.locator(".place[aria-current=true]")
    expect(here).not_to_contain_text("middle")
    tap(camera, "Undo")
    expect(here).to_contain_text("middle")
    # From the piece, undo takes back and leaves the person where they are.
    camera.get_by_role("group", name="What you found").get_by_role("button", name="Worn").click()
    expect(here).not_to_contain_text("middle")
    tap(camera, "Back to the piece")
    expect(camera.get_by_role("heading", name="All checks")).to_be_visible()
    tap(camera, "Undo")
    expect(camera.get_by_text("Full pass: 0 of 45")).to_be_visible()


def test_a_piece_taken_off_by_a_slip_comes_back(camera: Page) -> None:
    tap(camera, "Take this piece off")
    expect(camera.get_by_text("Nothing on the table yet")).to_be_visible()
    expect(camera.get_by_text("Piece A taken off")).to_be_visible()
    tap(camera, "Undo")
    expect(camera.get_by_role("link", name=re.compile("Folding field camera"))).to_be_visible()


def test_the_asking_price_is_one_tap_from_the_line_that_misses_it(camera: Page) -> None:
    price = camera.get_by_label("Asking price of this piece")
    expect(price).not_to_be_visible()
    for _ in range(2):  # the second time, too, though the address is the same
        tap(camera, "no asking price yet")
        expect(price).to_be_focused()
        title(camera).focus()
    visit = re.search("[0-9a-f]{32}", camera.url).group()
    camera.goto(camera.url.split("#")[0] + f"#/visit/{visit}/pass/short?at=done")
    expect(title(camera)).to_contain_text("Through the pass")
    tap(camera, "no asking price yet")
    expect(price).to_be_focused()
    fill(camera, "Asking price of this piece", "120")
    expect(camera.get_by_text("120\u00a0EUR")).to_be_visible()


def test_what_it_says_is_kept_without_a_tap_on_add(camera: Page) -> None:
    address = camera.url
    unfold(camera, "What it says on it")
    camera.get_by_label("Where", exact=True).fill("base")
    camera.get_by_label("What it says", exact=True).fill("No. 4711")
    tap(camera, "Back to the session")
    camera.get_by_role("link", name=re.compile("Folding field camera")).click()
    unfold(camera, "What it says on it")
    expect(camera.get_by_text("base: “No. 4711”")).to_be_visible()
    camera.get_by_label("What it says", exact=True).fill("Patent")
    camera.get_by_role("link", name="Condition report").focus()
    expect(camera.get_by_text("somewhere: “Patent”")).to_be_visible()
    # Added by the button it stands there once.
    camera.get_by_label("What it says", exact=True).fill("Once")
    camera.get_by_role("button", name="Add", exact=True).click()
    camera.goto(address)
    unfold(camera, "What it says on it")
    expect(camera.get_by_text("“Once”")).to_have_count(1)


def test_the_phones_own_way_back_does_not_ask_again_what_lies_there(camera: Page) -> None:
    camera.go_back()
    expect(camera.get_by_role("link", name=re.compile("Folding field camera"))).to_be_visible()
    expect(camera.get_by_role("dialog")).to_have_count(0)


def test_a_photo_taken_in_a_pass_leads_back_into_it(camera: Page) -> None:
    to_a_photo_of_the_second_check(camera, PICTURE)
    tap(camera, "Paint over or cut")
    expect(title(camera)).to_contain_text("Paint over or cut")
    tap(camera, "Back")
    expect(camera.get_by_text("Tap the picture to mark a spot.")).to_be_visible()
    tap(camera, "Back")
    expect(title(camera)).to_contain_text("2 of 16")


def test_the_list_of_checks_stays_in_the_pass(camera: Page) -> None:
    tap(camera, "Five-minute pass")
    tap(camera, "In order")
    expect(title(camera)).to_contain_text("2 of 16")
    tap(camera, "All checks")
    camera.get_by_role("dialog").get_by_role("link", name=re.compile("Allowed to handle it")).click()
    expect(title(camera)).to_contain_text("Five minutes · 1 of 16", use_inner_text=True)
    tap(camera, "All checks")
    camera.get_by_role("dialog").get_by_role("link", name=re.compile("Focus holds pointing down")).click()
    expect(title(camera)).to_contain_text("one look beside it")
    tap(camera, "In order")
    expect(title(camera)).to_contain_text("2 of 16")


def test_a_claim_between_two_looks_does_not_make_a_claim_of_the_next(camera: Page) -> None:
    tap(camera, "Five-minute pass")
    expect(title(camera)).to_contain_text("1 of 16")
    before = heading(camera)
    tap(camera, "Claimed")
    tap(camera, "In order")
    sheet = camera.get_by_role("dialog", name="Claimed: in order")
    sheet.get_by_role("button", name=starts("Words")).click()
    sheet.get_by_role("button", name="Keep the claim").click()
    expect(title(camera)).not_to_have_text(before, use_inner_text=True)
    expect(camera.get_by_role("button", name="Seen by me")).to_have_attribute("aria-pressed", "true")


def test_the_last_button_can_be_scrolled_clear_of_the_word_at_the_bottom(camera: Page) -> None:
    words_stay(camera)
    camera.get_by_label("From a file").set_input_files(PICTURE)
    expect(camera.get_by_text("Photo kept")).to_be_visible()
    last = camera.get_by_role("link", name="Take this piece off the session").element_handle()
    camera.wait_for_function("""(last) => {
      scrollTo(0, document.documentElement.scrollHeight);  // as often as a picture makes the page longer
      return last.getBoundingClientRect().bottom <= document.querySelector(".toast").getBoundingClientRect().top;
    }""", arg=last)


def test_the_button_that_ends_a_take_is_in_sight_while_it_listens(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    page = lens_heard(server, phone, firings(tmp_path / "run.wav", [0.150], rest_s=4, before_s=1))
    page.evaluate("scrollTo(0, 0)")
    tap(page, "Shutter by sound")
    expect(page.get_by_role("button", name="Listen at 1\u00a0s")).to_be_visible()
    page.get_by_role("button", name="Listen at").evaluate("(one) => one.click()")  # without Playwright's own scrolling
    end = page.get_by_role("button", name="Fired: stop and measure")
    expect(end).to_be_in_viewport(ratio=1)


def test_a_fault_found_in_a_pass_is_undone_where_it_was_found(camera: Page) -> None:
    tap(camera, "Five-minute pass")
    tap(camera, "In order")
    expect(title(camera)).to_contain_text("2 of 16")
    before = heading(camera)
    say_faulty(camera)
    expect(title(camera)).not_to_have_text(before, use_inner_text=True)
    expect(camera.get_by_text("Lens board there: faulty")).to_be_visible()  # until then the word is that of the answer before
    tap(camera, "Undo")
    expect(title(camera)).to_have_text(before, use_inner_text=True)


def test_a_line_taken_off_by_a_slip_comes_back(camera: Page) -> None:
    unfold(camera, "What it says on it")
    camera.get_by_label("What it says", exact=True).fill("No. 4711")
    camera.get_by_role("button", name="Add", exact=True).click()
    tap(camera, "Take off what the piece says")
    expect(camera.get_by_text("somewhere: “No. 4711”")).to_have_count(0)
    tap(camera, "Undo")
    expect(camera.get_by_text("somewhere: “No. 4711”")).to_be_visible()
    unfold(camera, "What comes with it")
    camera.get_by_label("Thing", exact=True).fill("rail clamp")
    tap(camera, "It is there")
    tap(camera, "Take rail clamp off the list")
    expect(camera.get_by_label("rail clamp: 1")).to_have_count(0)
    tap(camera, "Undo")
    expect(camera.get_by_label("rail clamp: 1")).to_be_visible()


def test_a_word_does_not_lie_over_a_screen_two_taps_away(camera: Page) -> None:
    words_stay(camera)
    tap(camera, "Five-minute pass")
    tap(camera, "In order")
    word = camera.get_by_text("Allowed to handle it: in order")
    expect(word).to_be_visible()
    tap(camera, "Back to the piece")
    expect(camera.get_by_role("heading", name="All checks")).to_be_visible()
    expect(word).to_be_visible()
    tap(camera, "Deal sheet")
    expect(title(camera)).to_contain_text("Deal sheet")
    expect(word).to_have_count(0)


def test_a_take_by_a_slip_does_not_stand_for_the_cold_firing(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    page = lens_heard(server, phone, firings(tmp_path / "late.wav", [0.150], rest_s=4, before_s=50))  # whatever the machine is busy with, the slip comes before the firing
    tap(page, "Shutter by sound")
    tap(page, "Listen at")
    page.get_by_role("button", name="Fired: stop and measure").click()
    take = page.get_by_role("region", name="Take", exact=True)
    expect(take).to_be_visible()
    expect(page.get_by_role("button", name="Cold, first of the day")).to_have_count(0)
    tap(page, "Undo")
    expect(take).to_have_count(0)
    expect(page.get_by_role("button", name="Cold, first of the day")).to_have_attribute("aria-pressed", "true")
