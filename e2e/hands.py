"""What a person does with the app, told in the words on its screens. Holds no checks of its own beyond "it came up"."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from pathlib import Path

from bench_server import Server
from playwright.sync_api import Page, expect

ALL_SENT = "All of it is on the server"
# For what a slow machine needs long for: keeping the whole app, sending photos, drawing a PDF, looking through a photo.
LONG_MS = 180_000


def starts(words: str) -> re.Pattern[str]:
    """Matches a control whose words begin so; large choices carry a hint after their word."""
    # A bare "/" would end the pattern where Playwright hands it to the browser.
    return re.compile("^" + re.escape(words).replace("/", r"\/"))


def wait_until_kept(page: Page) -> None:
    """Until the phone has its own copy of the whole app: the worker takes over only once everything is stored."""
    page.wait_for_function("() => navigator.serviceWorker.controller !== null", timeout=LONG_MS)


def wait_until(page: Page, question: str, arg: object = None) -> None:
    """Until the page answers an async function with something true; `wait_for_function` would take its promise for the answer."""
    until = time.monotonic() + LONG_MS / 1000
    while not page.evaluate(question, arg):
        assert time.monotonic() < until, question
        page.wait_for_timeout(100)


def heading(page: Page) -> str:
    """What the screen calls itself, with the short line above it."""
    return page.get_by_role("heading", level=1).inner_text()


def tap(page: Page, words: str) -> None:
    """Taps the button or link that begins with these words."""
    page.get_by_role("button", name=starts(words)).or_(page.get_by_role("link", name=starts(words))).first.click()


def words_stay(page: Page) -> None:
    """From now on no word at the bottom goes by itself, as it does after some seconds: a slow machine may take as long to get to it."""
    page.evaluate("() => { const later = setTimeout; window.setTimeout = (then, ms, ...more) => later(then, ms > 4000 ? 600_000 : ms, ...more); }")


def unfold(page: Page, words: str) -> None:
    """Opens a folded part by its words, if it is not open."""
    fold = page.locator("details", has=page.locator("summary", has_text=words)).first
    if fold.get_attribute("open") is None:
        fold.locator("summary").click()
    expect(fold).to_have_attribute("open", "")


def fill(page: Page, label: str, text: str) -> None:
    """Types into the field of this exact label and leaves it."""
    field = page.get_by_label(label, exact=True)
    field.fill(text)
    field.blur()


def begin_session(page: Page, venue: str = "Estate sale", seller: str = "", place: str = "", price: str = "") -> str:
    """Starts a session from the first screen and returns its id; the question what is on the table stands open."""
    tap(page, "New session")
    tap(page, venue)
    if seller:
        page.get_by_label(re.compile("Who sells|Or a name")).last.fill(seller)
    if place or price:
        unfold(page, "Place, day, price")
        fill(page, "Place", place)
        fill(page, "Price for the whole lot", price)
    tap(page, "Start")
    page.wait_for_url(re.compile(r"#/session/[0-9a-f]{32}"))
    return id_after(page, "session")


def add_piece(page: Page, kind: str, type_: str, count: int | None = None) -> str:
    """Answers what is on the table and returns the id of the visit."""
    sheet = page.get_by_role("dialog")
    sheet.get_by_role("button", name=starts(kind)).click()
    if count is not None:
        shown = sheet.get_by_role("status")
        for now in range(int(shown.inner_text()), count):
            sheet.get_by_role("button", name="One more").click()
            expect(shown).to_have_text(str(now + 1))
    sheet.get_by_role("button", name=starts(type_)).click()
    page.wait_for_url(re.compile(r"#/visit/[0-9a-f]{32}$"))
    return id_after(page, "visit")


def title(page: Page):  # noqa: ANN201 - Playwright's Locator
    """The heading of the screen."""
    return page.get_by_role("heading", level=1)


def to_a_photo_of_the_second_check(camera: Page, picture: Path) -> None:
    """From the screen of a camera into its five-minute pass, past the first look, and on to the marking of a photo taken at the second."""
    tap(camera, "Five-minute pass")
    tap(camera, "In order")
    expect(title(camera)).to_contain_text("2 of 16")
    camera.get_by_label("From a file").set_input_files(picture)
    tap(camera, "Mark spots")
    expect(camera.get_by_text("Tap the picture to mark a spot.")).to_be_visible()


def id_after(page: Page, word: str) -> str:
    """The id in the address after `word`."""
    found = re.search(rf"#/{word}/([0-9a-f]{{32}})", page.url)
    assert found, page.url
    return found.group(1)


def go_through_pass(page: Page, at: dict[int, Callable[[Page], None]]) -> list[str]:
    """Answers "in order" at every check of an open pass, but does what `at` says at the numbered ones (from 0).
    Returns the headings met."""
    met: list[str] = []
    title = page.get_by_role("heading", level=1)
    expect(title).to_contain_text(re.compile(r"· \d+ of \d+"))  # not the screen that led here
    while "Through the pass" not in (now := title.inner_text()):
        assert len(met) < 40, f"a five-minute pass does not end: {met}"
        everywhere = page.get_by_role("button", name=starts("Next answer counts for all"))
        if everywhere.is_visible():
            everywhere.click()
        at.get(len(met), lambda shown: tap(shown, "In order"))(page)
        met.append(now.split("\n")[-1])
        expect(title).not_to_have_text(now, use_inner_text=True)
    return met


def say_faulty(page: Page) -> None:
    """Taps "faulty" at a check and names the first fault that is offered, if it asks."""
    expect(page.get_by_role("group", name="What you found")).to_be_visible()  # not the screen that led here
    before = heading(page)
    tap(page, "Faulty")
    sheet = page.get_by_role("dialog", name="What is wrong?")
    page.wait_for_function("before => document.querySelector('dialog[open]') || document.querySelector('h1')?.innerText !== before", arg=before)
    if sheet.is_visible():
        sheet.get_by_role("group").get_by_role("button").first.click()
        sheet.get_by_role("button", name="That is it").click()


def say_not_checked(page: Page, why: str) -> None:
    """Taps "not checked" and gives the reason."""
    tap(page, "Not checked")
    page.get_by_role("dialog", name="Why not?").get_by_role("button", name=why).click()


def pair(page: Page, server: Server, name: str) -> None:
    """Lets this phone into the server's book and waits until nothing is left to send."""
    page.goto(f"{server.url}/#/pair/{server.pair_code()}")
    fill(page, "Name of this phone or person", name)
    page.get_by_role("button", name="Pair", exact=True).click()
    page.wait_for_url(re.compile("#/device$"))
    wait_until_sent(page)


def make_report(page: Page, address: str) -> str:
    """Makes the first report at this report screen; returns its share link."""
    page.goto(address)
    tap(page, "Make the report")
    sheet = page.get_by_role("dialog", name="Version 1 is made")
    link = sheet.get_by_role("link").inner_text()
    assert re.match(r"http://localhost:\d+/r/", link), link
    sheet.get_by_role("button", name="Close").click()
    return link


def wait_until_sent(page: Page) -> None:
    """Until the line on every screen says that all is on the server."""
    expect(page.get_by_label("Where your work is kept")).to_contain_text(ALL_SENT, timeout=LONG_MS)


def ask_now(page: Page) -> None:
    """One round of sync, from the screen of the phone; done when nothing waits."""
    with page.expect_response(lambda answer: "/api/changes?after=" in answer.url):
        tap(page, "Ask the server now")
    wait_until_sent(page)
