"""Nothing is lost: two versions are shown and picked, a history is kept, room is freed safely, and what is erased is gone everywhere."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from bench_phone import Phone
from bench_server import Server
from hands import (
    add_piece,
    ask_now,
    begin_session,
    fill,
    make_report,
    pair,
    tap,
    unfold,
    wait_until,
    wait_until_kept,
)
from made_files import photo_with_gps
from playwright.sync_api import Locator, Page, expect

REMARK_CHECK = "camera.bellows.light"
# How many copies of reports the phone keeps.
READ_COPIES = """async () => {
  const opening = indexedDB.open("barnlight");
  const db = await new Promise((done) => { opening.onsuccess = () => done(opening.result); });
  const asked = db.transaction("meta").objectStore("meta").get("report_copies");
  const copies = await new Promise((done) => { asked.onsuccess = () => done(asked.result); });
  db.close();
  return (copies ?? []).length;
}"""


def ask_server(page: Page, server: Server) -> None:
    """Asks for a round of sync and waits until nothing waits; comes back to where the page was."""
    at = page.url
    page.goto(f"{server.url}/#/device")
    ask_now(page)
    page.goto(at)


def remark(page: Page, server: Server, visit: str, words: str) -> None:
    page.goto(f"{server.url}/#/visit/{visit}/check/{REMARK_CHECK}")
    page.get_by_role("button", name="Words").click()
    fill(page, "Remark for the report", words)
    page.get_by_role("button", name="Done").click()


def choice(page: Page, field: str) -> Locator:
    """The note that asks which version of a field holds."""
    return page.locator(".note", has_text=f"2 versions of “{field}”: which holds?")


@pytest.fixture
def shared(server: Server, phone: Callable[..., Phone]) -> tuple[Page, Page, str]:
    """Two phones of one book that know the same camera; its visit."""
    mine, other = phone("mine").open(server.url), phone("other").open(server.url)
    for page, name in ((mine, "Orla"), (other, "Tamsin")):
        wait_until_kept(page)
        pair(page, server, name)
    mine.goto(server.url)
    begin_session(mine, place="Upper barn")
    visit = add_piece(mine, "Camera", "Monorail")
    ask_server(mine, server)
    ask_server(other, server)
    return mine, other, visit


def test_two_versions_of_any_field_are_shown_where_it_is(server: Server, shared: tuple[Page, Page, str]) -> None:
    mine, other, visit = shared
    server.kill()
    for page, name, price, words in ((mine, "Tall monorail", "120", "Pinholes at one corner"), (other, "Blue monorail", "95", "Sound all over")):
        page.goto(f"{server.url}/#/visit/{visit}")
        unfold(page, "Name, type, format")
        fill(page, "Name", name)
        expect(page.get_by_role("heading", level=1)).to_contain_text(name)
        fill(page, "Asking price of this piece", price)
        expect(page.get_by_label("Worth it?")).to_contain_text(price)
        remark(page, server, visit, words)
    server.start()
    for page in (mine, other, mine):
        ask_server(page, server)
    for page in (mine, other):
        expect(choice(page, "Remark for the report")).to_contain_text("Tamsin")
    expect(choice(mine, "Remark for the report")).to_contain_text("Orla, on this phone")
    choice(mine, "Remark for the report").get_by_role("button", name=re.compile("Pinholes")).click()
    expect(choice(mine, "Remark for the report")).not_to_be_visible()
    mine.get_by_role("status").get_by_role("button", name="Undo").click()
    expect(choice(mine, "Remark for the report")).to_contain_text("Sound all over")
    expect(choice(mine, "Remark for the report")).to_contain_text("Tamsin")
    choice(mine, "Remark for the report").get_by_role("button", name=re.compile("Pinholes")).click()

    mine.goto(f"{server.url}/#/visit/{visit}")
    expect(choice(mine, "Asking price of this piece")).to_contain_text("95 EUR")
    choice(mine, "Asking price of this piece").get_by_role("button", name=re.compile("95")).click()
    choice(mine, "Name").get_by_role("button", name=re.compile("Blue")).click()
    expect(mine.get_by_role("heading", level=1)).to_contain_text("Blue monorail")
    ask_server(mine, server)
    ask_server(other, server)
    other.goto(f"{server.url}/#/visit/{visit}")
    expect(other.get_by_role("heading", level=1)).to_contain_text("Blue monorail")
    expect(other.get_by_text("which holds?")).to_have_count(0)

    other.get_by_role("link", name="History of this piece").click()
    expect(other.get_by_role("heading", level=1)).to_contain_text("History")
    history = other.get_by_role("main")
    expect(history).to_contain_text("“Tall monorail”")
    expect(history).to_contain_text("“Blue monorail” (picked from 2 versions)")
    expect(history).to_contain_text("Remark for the report")
    expect(history).to_contain_text("120 EUR")


def test_versions_that_are_other_records_are_told_by_their_names(server: Server, shared: tuple[Page, Page, str]) -> None:
    mine, other, _ = shared
    for name in ("Wendeline Ostrop", "W. Ostrop", "Ostrop and daughter"):
        mine.goto(server.url)
        begin_session(mine, seller=name)
    for page in (mine, other):
        ask_server(page, server)
    server.kill()
    for page, same in ((mine, "W. Ostrop"), (other, "Ostrop and daughter")):
        page.goto(f"{server.url}/#/sellers")
        page.get_by_role("link", name=re.compile("Wendeline Ostrop")).click()
        unfold(page, "Name, venue, place, note")
        tap(page, "The same person as another entry")
        page.get_by_role("button", name=f"The same as {same}", exact=True).click()
        expect(page.get_by_role("status").filter(has_text="Told together")).to_be_visible()
    server.start()
    for page in (mine, other, mine):
        ask_server(page, server)
    mine.goto(f"{server.url}/#/apart")
    for name, who in (("W. Ostrop", "Orla, on this phone"), ("Ostrop and daughter", "Tamsin")):
        expect(mine.locator(".version", has=mine.get_by_role("button", name=f"This one: {name}", exact=True))).to_contain_text(who)


def test_a_thing_of_the_kit_asks_too_and_its_fields_follow(server: Server, shared: tuple[Page, Page, str]) -> None:
    mine, other, _ = shared
    mine.goto(f"{server.url}/#/kit")
    tap(mine, "Add a thing of mine")
    mine.get_by_role("dialog").get_by_role("button", name="Lens", exact=True).click()
    mine.wait_for_url(re.compile("#/kit/[0-9a-f]{32}$"))
    at = mine.url
    for page in (mine, other):
        ask_server(page, server)
    server.kill()
    for page, name, focal in ((mine, "Long lens", "210"), (other, "Portrait lens", "240")):
        page.goto(at)
        fill(page, "What you call it", name)
        expect(page.get_by_role("heading", level=1)).to_contain_text(name)
        field = page.get_by_label(re.compile("^Focal length"))
        field.fill(focal)
        field.blur()
    server.start()
    for page in (mine, other, mine):
        ask_server(page, server)
    mine.goto(at)
    expect(mine.get_by_label("What you call it")).to_have_value("Portrait lens")
    choice(mine, "What you call it").get_by_role("button", name=re.compile("Long lens")).click()
    choice(mine, "Its figures").get_by_role("button", name="This one: Focal length 210 mm").click()
    expect(mine.get_by_label("What you call it")).to_have_value("Long lens")
    expect(mine.get_by_label(re.compile("^Focal length"))).to_have_value("210")


def test_a_long_history_comes_in_pages_and_without_a_server(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    server.kill()
    begin_session(page)
    visit = add_piece(page, "Camera", "Reflex")
    page.goto(f"{server.url}/#/visit/{visit}/pass/full")
    for _ in range(45):
        before = page.url
        page.get_by_role("group", name="What you found").get_by_role("button", name="In order").click()
        expect(page).not_to_have_url(before)
    page.goto(f"{server.url}/#/visit/{visit}/history")
    entries = page.locator(".history > li")
    expect(entries.first).to_be_visible()
    first = entries.count()
    tap(page, "Show older")
    expect(page.get_by_text("The piece put into the book")).to_be_visible()
    assert entries.count() > first
    expect(page.get_by_text(re.compile(r"^\d+ entries, newest first"))).to_contain_text(str(entries.count()))


# A thumb that lets go too soon, and a while in which nothing must come of it. By the page's own clock: on a busy machine a hand of
# the test's may come late, the order of what waits for one clock stays.
HALF_A_SECOND = """async (button) => {
  const touch = (kind) => button.dispatchEvent(new PointerEvent(kind, { bubbles: true }));
  touch("pointerdown");
  await new Promise((later) => setTimeout(later, 500));
  touch("pointerup");
  await new Promise((later) => setTimeout(later, 2500));
}"""


def camera_with_photo(page: Page, folder: Path, **where: str) -> tuple[str, str]:
    """A session with a camera and a photo of it; the ids of session and visit."""
    session = begin_session(page, **where)
    visit = add_piece(page, "Camera", "Monorail")
    page.get_by_label("From a file").set_input_files(photo_with_gps(folder / "bellows.jpg"))
    expect(page.get_by_role("group", name="Photos").get_by_role("img")).to_be_visible()
    return session, visit


def test_room_is_freed_only_of_what_the_server_has_and_comes_back(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    pair(page, server, "Orla")
    server.kill()
    page.goto(server.url)
    _, visit = camera_with_photo(page, tmp_path, place="Upper barn")
    page.goto(f"{server.url}/#/room")
    expect(page.get_by_text("1 photo or sound, ")).to_contain_text("is on this phone alone and stays")
    expect(page.get_by_role("button", name=re.compile("^Let go"))).to_have_count(0)

    server.start()
    ask_server(page, server)
    page.goto(f"{server.url}/#/device")
    tap(page, "Room on this phone")
    page.get_by_role("button", name=re.compile(r"^Let go: 0\.\d MB of .*Upper barn")).click()
    expect(page.get_by_role("status").filter(has_text="1 photo or sound let go")).to_be_visible()
    expect(page.get_by_text("0 photos and sounds, 0.0 MB")).to_be_visible()

    photo = page.get_by_role("group", name="Photos").get_by_role("img")
    page.goto(f"{server.url}/#/visit/{visit}")
    expect(photo).to_be_visible()  # from the server
    server.kill()
    page.reload()
    expect(page.get_by_text("On the server; shown when there is a signal")).to_be_visible()
    server.start()
    page.goto(f"{server.url}/#/room")
    page.get_by_role("button", name=re.compile("^Bring back")).click()
    expect(page.get_by_role("status").filter(has_text="1 photo or sound back on this phone")).to_be_visible()
    server.kill()
    page.goto(f"{server.url}/#/visit/{visit}")
    page.reload()
    expect(photo).to_be_visible()


def test_one_session_goes_by_file_to_a_phone_without_a_server(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    mine, other = phone("mine").open(server.url), phone("other").open(server.url)
    for page in (mine, other):
        wait_until_kept(page)
    server.kill()
    begin_session(mine, place="Another barn")
    mine.goto(server.url)
    session, visit = camera_with_photo(mine, tmp_path, place="Upper barn", seller="Wendeline Ostrop")
    mine.goto(f"{server.url}/#/session/{session}")
    unfold(mine, "About this session")
    with mine.expect_download() as saved:
        tap(mine, "Save this session to one file")
    assert re.fullmatch(r"barnlight-estate-sale-upper-barn-\d{4}-\d\d-\d\d\.zip", saved.value.suggested_filename)
    saved.value.save_as(tmp_path / "session.zip")
    other.goto(f"{server.url}/#/device")
    for words in (re.compile(r"^\d+ edits and 1 files? added; nothing was overwritten"), "Nothing in it was new"):
        other.get_by_label("Saved file to load").set_input_files(tmp_path / "session.zip")
        expect(other.get_by_role("status").filter(has_text=words)).to_be_visible()
    other.goto(server.url)
    expect(other.get_by_role("link", name=re.compile("Upper barn"))).to_have_count(1)
    expect(other.get_by_role("link", name=re.compile("Another barn"))).to_have_count(0)
    other.goto(f"{server.url}/#/visit/{visit}")
    expect(other.get_by_role("group", name="Photos").get_by_role("img")).to_have_count(1)


def test_a_photo_that_has_not_been_sent_yet_is_said_to_be_on_its_phone(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    mine, other = phone("mine").open(server.url), phone("other").open(server.url)
    for page, name in ((mine, "Orla"), (other, "Tamsin")):
        wait_until_kept(page)
        pair(page, server, name)
    mine.route(re.compile("/api/media/[0-9a-f]{64}"), lambda route: route.abort())
    mine.goto(server.url)
    _, visit = camera_with_photo(mine, tmp_path)
    expect(mine.get_by_label("Where your work is kept")).to_contain_text("1 file kept here")
    ask_server(other, server)
    other.goto(f"{server.url}/#/visit/{visit}")
    expect(other.get_by_text("Still on the phone of Orla")).to_be_visible()


def test_a_sale_is_erased_everywhere_after_a_list_of_what_goes(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    mine, other = phone("mine").open(server.url), phone("other").open(server.url)
    for page, name in ((mine, "Orla"), (other, "Tamsin")):
        wait_until_kept(page)
        pair(page, server, name)
    mine.goto(server.url)
    session, visit = camera_with_photo(mine, tmp_path, place="Upper barn")
    ask_server(mine, server)
    link = make_report(mine, f"{server.url}/#/visit/{visit}/report")
    wait_until(mine, f"async () => (await ({READ_COPIES})()) === 1")  # kept to be handed on without a signal
    for page in (mine, other):
        ask_server(page, server)
    other.goto(f"{server.url}/#/visit/{visit}")
    expect(other.get_by_role("heading", level=1)).to_contain_text("Monorail")

    mine.goto(f"{server.url}/#/session/{session}")
    unfold(mine, "About this session")
    tap(mine, "Erase it everywhere, for good")
    goes = mine.get_by_role("region", name="What would go")
    for words in ("1 sale", "1 piece", "1 photo", "Report “", "1 link to a report"):
        expect(goes).to_contain_text(words)
    expect(mine.get_by_role("region", name="What stays")).to_contain_text("Backups of the server")
    button = mine.get_by_role("button", name="Hold to erase for good")
    button.evaluate(HALF_A_SECOND)
    expect(mine.get_by_text("Letting go stops it.")).to_be_visible()
    expect(goes).to_be_visible()
    button.hover()
    mine.mouse.down()
    mine.wait_for_url(re.compile("#/$"))
    mine.mouse.up()
    expect(mine.get_by_text("erased for good")).to_be_visible()
    expect(mine.get_by_role("link", name=re.compile("Upper barn"))).to_have_count(0)
    ask_server(other, server)
    expect(other.get_by_text("This piece is not on this phone.")).to_be_visible()
    ask_server(mine, server)
    wait_until(mine, f"async () => (await ({READ_COPIES})()) === 0")
    assert mine.request.get(link).status in (404, 410)


def test_a_phone_without_a_server_erases_a_seller_by_two_presses_of_a_screen_reader(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    server.kill()
    camera_with_photo(page, tmp_path, seller="Wendeline Ostrop", place="Upper barn")
    page.goto(f"{server.url}/#/sellers")
    page.get_by_role("link", name=re.compile("Wendeline Ostrop")).click()
    unfold(page, "Name, venue, place, note")
    tap(page, "Erase them everywhere, for good")
    expect(page.get_by_role("region", name="What would go")).to_contain_text("1 seller")
    expect(page.get_by_role("region", name="What stays")).to_contain_text("without its seller")
    button = page.get_by_role("button", name="Hold to erase for good")
    button.dispatch_event("click")
    expect(page.get_by_text("Press once more within ten seconds")).to_be_visible()
    button.dispatch_event("click")
    page.wait_for_url(re.compile("#/$"))
    page.goto(f"{server.url}/#/sellers")
    expect(page.get_by_text("Wendeline Ostrop")).to_have_count(0)
    page.goto(server.url)
    expect(page.get_by_role("link", name=re.compile("Upper barn"))).to_be_visible()
