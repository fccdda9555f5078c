"""What goes wrong on a phone is said in plain words with what to do, and nothing that was typed is lost."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from bench_phone import Phone
from bench_server import Server
from hands import (
    ALL_SENT,
    add_piece,
    ask_now,
    begin_session,
    fill,
    pair,
    tap,
    unfold,
    wait_until_kept,
    wait_until_sent,
)
from made_files import photo_with_gps
from phone_book import wait_until_held
from playwright.sync_api import Page, expect

DEPTH_CHECK = "holders.depth.sides"

# Storage that is full the moment a switch is thrown: the error a browser gives then (Indexed Database API, QuotaExceededError).
FULL_ON_SWITCH = """
(() => {
  const put = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = function (...given) {
    if (window.storageIsFull) throw new DOMException("made by the test", "QuotaExceededError");
    return put.apply(this, given);
  };
})();
"""


@pytest.fixture
def table(server: Server, phone: Callable[..., Phone]) -> Page:
    """A phone with a session begun; the question what is on the table stands open."""
    page = phone().open(server.url)
    wait_until_kept(page)
    begin_session(page)
    return page


def test_a_file_that_is_no_photo(table: Page, tmp_path: Path) -> None:
    add_piece(table, "Camera", "Monorail")
    wrong = tmp_path / "shopping-list.jpg"
    wrong.write_text("not a picture, whatever its name says")
    table.get_by_label("From a file").set_input_files(wrong)
    alert = table.get_by_role("alert")
    expect(alert).to_contain_text("not a picture the phone can read")
    expect(alert).to_contain_text("choose a JPEG, PNG or WebP file")
    expect(table.get_by_role("group", name="Photos")).not_to_be_visible()


def test_a_file_that_is_no_sound(table: Page, tmp_path: Path) -> None:
    open_recorder(table)
    cut_short, letter = tmp_path / "cut-short.wav", tmp_path / "letter.wav"
    cut_short.write_bytes(b"RIFF\x10\x00\x00\x00WAVEfmt ")
    letter.write_text("Dear shutter")
    alert = table.get_by_role("alert").filter(has_text="This file was not taken.")
    for wrong, what_to_do in ((cut_short, "Copy it again"), (letter, "Load a WAV, or what the phone's own recorder makes")):
        table.get_by_label("Recording to load").set_input_files(wrong)
        expect(alert).to_contain_text(what_to_do)
    expect(table.get_by_role("region", name="Speeds measured")).not_to_be_visible()


def test_the_microphone_refused(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url, refuse_microphone=True)
    begin_session(page)
    open_recorder(page)
    tap(page, "Listen at")
    alert = page.get_by_role("alert").filter(has_text="The microphone was refused.")
    expect(alert).to_contain_text("Allow it for this page in the browser's settings, or load a recording")
    expect(page.get_by_role("button", name="Load a recording instead")).to_be_enabled()


def test_an_impossible_reading_is_asked_back(table: Page) -> None:
    """0.197 typed as millimetres is the depth of a 4x5 holder in inches (standards.json: 0.197 in, 5.004 mm)."""
    visit = add_piece(table, "Holders", "Sheet-film holders", count=6)
    table.goto(f"{table.url.split('#')[0]}#/visit/{visit}/check/{DEPTH_CHECK}")
    middle = table.get_by_label(re.compile("^Seating face to divider, point middle")).first
    middle.fill("0.197")
    middle.blur()
    expect(table.get_by_role("alert").filter(has_text="usual is 2 to 15 mm")).to_be_visible()
    expect(middle).to_have_value("0.197")
    table.get_by_role("button", name="It was inches").click()
    expect(table.get_by_text("Seating face to divider: 0.197 in")).to_be_visible()

    corner = table.get_by_label(re.compile("^Seating face to divider, point")).last
    corner.fill("five")
    corner.blur()
    expect(table.get_by_role("alert").filter(has_text="Type a length, as in 5.0 or 1 1/4.")).to_be_visible()
    expect(corner).to_have_value("five")


def test_no_server_in_reach(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    pair(page, server, "Barn phone")
    server.kill()
    page.goto(server.url)
    line = page.get_by_label("Where your work is kept")
    expect(line).to_contain_text("No server in reach; nothing waits")
    begin_session(page)
    visit = add_piece(page, "Camera", "Press-type")
    expect(line).to_contain_text(re.compile(r"No server in reach; \d+ edits? kept here"))
    page.goto(f"{server.url}/#/visit/{visit}/report")
    tap(page, "Make the report")
    expect(page.get_by_role("alert").filter(has_text="The server cannot be reached.")).to_contain_text("come back when there is a signal")
    server.start()
    page.goto(f"{server.url}/#/device")
    tap(page, "Ask the server now")
    wait_until_sent(page)


def test_a_pairing_that_was_ended_loses_nothing(server: Server, phone: Callable[..., Phone]) -> None:
    mine, other = phone("mine").open(server.url), phone("other").open(server.url)
    pair(mine, server, "Lost and found")
    pair(other, server, "Shop computer")
    other.get_by_role("button", name="Shut out Lost and found").click()
    expect(other.get_by_text("is shut out")).to_be_visible()

    mine.goto(server.url)
    line = mine.get_by_label("Where your work is kept")
    expect(line).to_contain_text("Must be paired again: see Device")
    begin_session(mine, place="After the pairing ended")
    visit = add_piece(mine, "Camera", "Reflex")
    expect(line).to_contain_text("Must be paired again: see Device")
    mine.goto(f"{server.url}/#/visit/{visit}")
    expect(mine.get_by_role("heading", level=1)).to_contain_text("Reflex")
    mine.goto(f"{server.url}/#/device")
    told = mine.locator(".note").filter(has_text="The server does not know this phone any more.")
    expect(told).to_contain_text("All that is on this phone stays")
    told.get_by_role("link", name="Pair again").click()
    expect(mine.get_by_role("heading", level=1, name="Pair this phone")).to_be_visible()
    pair(mine, server, "Lost and found")
    other.reload()
    expect(other.get_by_label("Where your work is kept")).to_contain_text(ALL_SENT)
    other.goto(server.url)
    expect(other.get_by_role("link", name=re.compile("After the pairing ended"))).to_be_visible()


def test_full_storage_keeps_the_words_in_the_form(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url, before=FULL_ON_SWITCH)
    begin_session(page)
    add_piece(page, "Camera", "Studio camera")
    unfold(page, "Name, type, format")
    page.evaluate("window.storageIsFull = true")
    fill(page, "Name", "The tall one by the door")
    alert = page.get_by_role("alert").filter(has_text="Not saved: the phone's storage is full.")
    expect(alert).to_contain_text("Free some room")
    expect(page.get_by_label("Name", exact=True)).to_have_value("The tall one by the door")
    page.evaluate("window.storageIsFull = false")
    tap(page, "Try again")
    expect(page.get_by_role("heading", level=1)).to_contain_text("The tall one by the door")
    page.reload()
    expect(page.get_by_role("heading", level=1)).to_contain_text("The tall one by the door")


def test_full_storage_keeps_no_half_a_photo_and_tries_again(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    page = phone().open(server.url, before=FULL_ON_SWITCH)
    begin_session(page)
    add_piece(page, "Camera", "Studio camera")
    page.evaluate("window.storageIsFull = true")
    page.get_by_label("From a file").set_input_files(photo_with_gps(tmp_path / "back.jpg"))
    alert = page.get_by_role("alert").filter(has_text="Not saved: the phone's storage is full.")
    expect(alert.get_by_role("button", name="Make room")).to_be_visible()
    page.evaluate("window.storageIsFull = false")
    tap(page, "Try again")
    expect(page.get_by_role("group", name="Photos").get_by_role("img")).to_have_count(1)


def test_full_storage_while_others_edits_come_in(server: Server, phone: Callable[..., Phone]) -> None:
    mine, other = phone("mine").open(server.url, before=FULL_ON_SWITCH), phone("other").open(server.url)
    for page, name in ((mine, "Barn phone"), (other, "Shop computer")):
        pair(page, server, name)
    mine.evaluate("window.storageIsFull = true")  # before there is anything that it might fetch by itself
    other.goto(server.url)
    begin_session(other, place="From the shop")
    other.goto(f"{server.url}/#/device")
    ask_now(other)
    tap(mine, "Ask the server now")
    expect(mine.get_by_label("Where your work is kept")).to_have_text("The phone's storage is full: see Device")
    mine.evaluate("window.storageIsFull = false")
    ask_now(mine)
    mine.goto(server.url)
    expect(mine.get_by_role("link", name=re.compile("From the shop"))).to_be_visible()


def test_what_the_server_will_not_take_is_said_with_its_reason(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    """The server's own words for a full disk (exchange/intake.py): they say what to do, so they must be read somewhere."""
    page = phone().open(server.url)
    wait_until_kept(page)
    pair(page, server, "Barn phone")
    refusal = {"error": {"code": "store_full", "message": "The server's disk is full; this file was not stored.", "hint": "Make room there; the phone keeps its copy."}}
    page.route("**/api/media/*", lambda route: route.fulfill(status=507, json=refusal) if route.request.method == "PUT" else route.continue_())
    page.goto(server.url)
    begin_session(page)
    add_piece(page, "Camera", "Studio camera")
    page.get_by_label("From a file").set_input_files(photo_with_gps(tmp_path / "back.jpg"))
    expect(page.get_by_label("Where your work is kept")).to_have_text("Server trouble; 1 file kept here: see Device")
    page.goto(f"{server.url}/#/device")
    said = page.locator(".note").filter(has_text="What the server said")
    expect(said).to_contain_text("The server's disk is full; this file was not stored. Make room there; the phone keeps its copy.")
    page.unroute("**/api/media/*")
    ask_now(page)
    wait_until_sent(page)
    expect(said).to_have_count(0)


def clear_storage(page: Page, server: Server, kinds: str) -> None:
    """What a browser does that is short of room, or has not seen the page for a while."""
    page.context.new_cdp_session(page).send("Storage.clearDataForOrigin", {"origin": server.url, "storageTypes": kinds})


def test_a_cleared_book_comes_back_from_the_server(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    pair(page, server, "Barn phone")
    page.goto(server.url)
    begin_session(page, place="Before it was cleared")
    page.goto(f"{server.url}/#/device")
    ask_now(page)
    page.goto(server.url + "/healthz")
    clear_storage(page, server, "indexeddb")
    page.goto(server.url)
    alert = page.get_by_role("alert").filter(has_text="The browser cleared the book that was on this phone.")
    expect(alert).to_contain_text("All of it was on your server. Pair this phone again, and it comes back.")
    page.reload()
    expect(alert).to_be_visible()
    alert.get_by_role("link", name="Pair again").click()
    page.wait_for_url(re.compile("#/pair$"))
    pair(page, server, "Barn phone")
    page.goto(server.url)
    expect(page.get_by_role("link", name=re.compile("Before it was cleared"))).to_be_visible()
    expect(alert).to_have_count(0)


def test_a_cleared_book_that_was_on_the_phone_alone(table: Page, server: Server) -> None:
    expect(table.get_by_label("Where your work is kept")).to_have_text("Only on this phone")
    table.goto(server.url + "/healthz")
    clear_storage(table, server, "indexeddb,local_storage")
    table.goto(server.url)
    alert = table.get_by_role("alert").filter(has_text="The browser cleared the book that was on this phone.")
    expect(alert).to_contain_text("It was on this phone alone. If you saved it to a file, load that file under Device")
    alert.get_by_role("button", name="Begin anew").click()
    expect(alert).to_have_count(0)
    table.reload()
    expect(table.get_by_role("heading", name="Look before you buy")).to_be_visible()
    expect(alert).to_have_count(0)


def test_storage_taken_away_under_the_hand(table: Page, server: Server) -> None:
    add_piece(table, "Camera", "Studio camera")
    unfold(table, "Name, type, format")
    clear_storage(table, server, "indexeddb")
    expect(table.get_by_role("alert").filter(has_text="The phone took the storage back.")).to_contain_text("Close Barnlight and open it again before you go on.")
    fill(table, "Name", "The tall one by the door")
    expect(table.get_by_role("alert").filter(has_text="Not saved: the phone took its storage back.")).to_be_visible()
    expect(table.get_by_label("Name", exact=True)).to_have_value("The tall one by the door")


def test_a_private_window(server: Server, phone: Callable[..., Phone]) -> None:
    """Browsers that own up refuse a page files of its own there (from memory of Firefox and Safari; Chromium gives no sign)."""
    refused = "StorageManager.prototype.getDirectory = async () => { throw new DOMException('made by the test', 'SecurityError'); };"
    page = phone().open(server.url, before=refused)
    note = page.locator(".note").filter(has_text="This looks like a private window.")
    expect(note).to_contain_text("Nothing is kept once it is closed. Open Barnlight in an ordinary window")
    begin_session(page, place="In private")
    page.reload()
    expect(note).to_be_visible()
    page.goto(server.url)
    expect(page.get_by_role("link", name=re.compile("In private"))).to_be_visible()


def test_a_browser_that_keeps_nothing(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url, before="IDBFactory.prototype.open = () => { throw new DOMException('made by the test', 'SecurityError'); };")
    alert = page.get_by_role("alert").filter(has_text="The phone's storage does not open.")
    expect(alert).to_contain_text("Leave private browsing, or open Barnlight in another browser.")


def test_letters_typed_just_before_the_phone_dies(server: Server, phone: Callable[..., Phone]) -> None:
    mine = phone()
    page = mine.open(server.url)
    wait_until_kept(page)
    begin_session(page)
    visit = add_piece(page, "Camera", "Reflex")
    unfold(page, "Who looked")
    page.get_by_label("Private note").press_sequentially("The back is from another camera")
    expect(page.get_by_label("Private note")).to_be_focused()  # nobody leaves the field
    wait_until_held(page, "The back is from another camera")
    mine.kill()
    page = mine.open(f"{server.url}/#/visit/{visit}")
    unfold(page, "Who looked")
    expect(page.get_by_label("Private note")).to_have_value("The back is from another camera")


def test_the_line_about_pairing_fits_a_small_phone(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    pair(page, server, "Barn phone")
    page.route("**/api/changes*", lambda route: route.fulfill(status=401, json={"error": {"code": "not_paired", "message": "Not paired."}}))
    page.goto(server.url)
    begin_session(page)
    line = page.get_by_label("Where your work is kept")
    expect(line).to_have_text("Must be paired again: see Device")
    height = line.evaluate("(one) => { const range = document.createRange(); range.selectNodeContents(one.querySelector('span')); return range.getClientRects().length; }")
    assert height == 1


def open_recorder(page: Page) -> None:
    """A lens with its speeds, and the recorder opened."""
    add_piece(page, "Lens", "In a shutter")
    unfold(page, "Shutter and its speeds")
    tap(page, "Press shutter, cocks itself")
    tap(page, "Shutter by sound")
    expect(page.get_by_role("button", name="Load a recording instead")).to_be_visible()
