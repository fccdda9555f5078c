"""The whole way through: inspect with no signal, lose the phone's power, come home, sync, report, hand it over, end the link."""

from __future__ import annotations

import io
import math
import re
from collections.abc import Callable
from pathlib import Path

from bench_phone import Phone, browser
from bench_server import Server
from hands import (add_piece, begin_session, fill, go_through_pass, heading, make_report, pair, say_faulty, say_not_checked, tap,
                   unfold, wait_until_kept)
from made_files import firing, photo_with_gps
from PIL import Image
from playwright.sync_api import BrowserContext, Page, Playwright, expect
from recording import Figure, fire_until_settled

# Typed into every private field; none may stand in the report.
SELLER, PLACE, SESSION_NOTE, VISIT_NOTE, CHECK_NOTE = "Quillfeather", "Marrowby Lane", "thimblewise", "grumblethorpe", "wexcombe"
LOT_PRICE, PIECE_PRICE = "61943", "58327"
PRIVATE = [SELLER, PLACE, SESSION_NOTE, VISIT_NOTE, CHECK_NOTE, *(form for price in (LOT_PRICE, PIECE_PRICE)
           for form in (price, f"{price[:2]},{price[2:]}", f"{price[:2]} {price[2:]}", f"{price[:2]}\u202f{price[2:]}"))]
REMARK = "A haze like breath on the rear group"

# Marked 1/8, really 0.150 s: a quarter of a stop slow, as gear trains are. Slow enough that one lost buffer of 10 ms
# stays below the bound; the interval alone is measured, because the fake microphone starts at any moment.
MARK, OPEN_TIME_S = "1/8", 0.150
BOUND_STOPS = 1 / 6


def test_the_whole_way(playwright: Playwright, server: Server, phone: Callable[[str], Phone], tmp_path: Path) -> None:
    photo = photo_with_gps(tmp_path / "lens.jpg")
    sound = firing(tmp_path / "firing.wav", OPEN_TIME_S)
    first = phone("first")

    page = first.open(server.url, microphone=sound)
    wait_until_kept(page)
    server.kill()

    session, visit = put_a_lens_on_the_table(page)
    looked_at = five_minutes(page, visit, photo)
    page.get_by_role("link", name="To the piece").click()
    figure = fire_until_settled(page, MARK, wanted=3)
    assert near(figure), figure

    first.kill()
    page = first.open(f"{server.url}/#/visit/{visit}/shutter")
    expect(page.get_by_role("region", name="Speeds measured")).to_contain_text(figure.words)
    find_everything(page, server, session, visit)

    server.start()
    pair(page, server, "Bench phone")
    link = make_report(page, f"{server.url}/#/visit/{visit}/report")
    with_no_cookie(playwright, lambda stranger: read_report(stranger, link, looked_at, figure))

    page.get_by_role("button", name="End link").click()
    expect(page.get_by_text("ended by you")).to_be_visible()
    with_no_cookie(playwright, lambda stranger: find_it_ended(stranger, link))

    other = phone("second").open(server.url)
    pair(other, server, "Second phone")
    find_everything(other, server, session, visit)
    assert first.complaints == []


def put_a_lens_on_the_table(page: Page) -> tuple[str, str]:
    """A new session and a lens in a shutter with its usual speeds, every private field filled."""
    session = begin_session(page, seller=SELLER, place=PLACE, price=LOT_PRICE)
    visit = add_piece(page, "Lens", "In a shutter")
    unfold(page, "Shutter and its speeds")
    tap(page, "Geared, set by a ring on the rim")
    expect(page.get_by_text(re.compile(r"1/8\s+1/15"))).to_be_visible()
    unfold(page, "Name, type, format")
    fill(page, "Name", "Bench lens 210")
    fill(page, "Asking price of this piece", PIECE_PRICE)
    unfold(page, "Who looked")
    fill(page, "Private note", VISIT_NOTE)
    page.get_by_role("link", name="Back to the session").click()
    unfold(page, "About this session")
    fill(page, "Private note", SESSION_NOTE)
    page.get_by_role("link", name=re.compile("Bench lens 210")).click()
    return session, visit


def five_minutes(page: Page, visit: str, photo: Path) -> list[str]:
    """The five-minute pass: one fault with photo and words, one check not made; the rest in order."""
    page.get_by_role("link", name=re.compile("^Five-minute pass")).click()

    def a_fault(shown: Page) -> None:
        shown.get_by_label("From a file").set_input_files(photo)
        expect(shown.get_by_role("group", name="Photos").get_by_role("img")).to_be_visible()
        tap(shown, "Words")
        fill(shown, "Remark for the report", REMARK)
        fill(shown, "Private note", CHECK_NOTE)
        tap(shown, "Done")
        say_faulty(shown)

    return go_through_pass(page, {1: a_fault, 2: lambda shown: say_not_checked(shown, "Too dark")})


def near(figure: Figure) -> bool:
    """Within what the app itself says it may be off, or a sixth of a stop."""
    return figure.low_s <= OPEN_TIME_S <= figure.high_s or abs(math.log2(figure.median_s / OPEN_TIME_S)) <= BOUND_STOPS


def find_everything(page: Page, server: Server, session: str, visit: str) -> None:
    """What was entered is on this phone: the session, the lens, its answers, its photo."""
    page.goto(f"{server.url}/#/session/{session}")
    expect(page.get_by_role("heading", level=1)).to_contain_text(PLACE)
    expect(page.get_by_text(f"First time with {SELLER}")).to_be_visible()
    page.get_by_role("link", name=re.compile("Bench lens 210")).click()
    expect(page.get_by_role("link", name="Five-minute pass: done")).to_be_visible()
    picture = page.get_by_role("group", name="Photos").get_by_role("img")
    expect(picture).to_be_visible()
    expect(picture).not_to_have_js_property("naturalWidth", 0)  # on another phone its bytes come from the server after its words
    picture.evaluate("(shown) => shown.decode()")  # says so itself if it is cut short
    assert visit in page.url and "Bench lens 210" in heading(page)


def with_no_cookie(playwright: Playwright, then: Callable[[BrowserContext], None]) -> None:
    """Somebody else's browser, which knows nothing of this server."""
    clean = playwright.chromium.launch(executable_path=browser(), args=["--no-sandbox", "--disable-gpu"])
    try:
        then(clean.new_context())
    finally:
        clean.close()


def read_report(stranger: BrowserContext, link: str, looked_at: list[str], figure: Figure) -> None:
    """The next buyer finds the figure, the fault, the photo and what was not checked, and nothing private."""
    page = stranger.new_page()
    answer = page.goto(link)
    assert answer and answer.status == 200
    text = " ".join(page.locator("body").inner_text().split())  # figures hold on to their units by hard spaces
    assert figure.words in text, text
    assert REMARK in text
    not_checked = page.get_by_role("heading", name=re.compile("not checked", re.IGNORECASE)).locator("xpath=ancestor::section[1]")
    expect(not_checked).to_contain_text(looked_at[2])
    expect(not_checked).to_contain_text(re.compile("too dark", re.IGNORECASE))
    leaked = [word for word in PRIVATE if word.lower() in answer.text().lower()]
    assert leaked == []
    photos = page.locator("img").evaluate_all("found => found.map((one) => one.src)")
    assert photos
    for address in photos:
        bytes_ = stranger.request.get(address).body()
        kept = Image.open(io.BytesIO(bytes_))
        assert dict(kept.getexif()) == {} and b"Exif" not in bytes_ and b"Invented camera works" not in bytes_
        assert kept.width >= 400
    assert stranger.cookies() == []


def find_it_ended(stranger: BrowserContext, link: str) -> None:
    """A link that was ended says so, as HTTP does: 410 Gone (RFC 9110, 15.5.11)."""
    answer = stranger.new_page().goto(link)
    assert answer and answer.status == 410
