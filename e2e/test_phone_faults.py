"""What goes wrong on a phone is said in plain words with what to do, and nothing that was typed is lost."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from bench_phone import Phone
from bench_server import Server
from hands import ALL_SENT, add_piece, begin_session, fill, pair, tap, unfold, wait_until_kept, wait_until_sent
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
    expect(line).to_contain_text("This phone must be paired again: see Device")
    begin_session(mine, place="After the pairing ended")
    visit = add_piece(mine, "Camera", "Reflex")
    expect(line).to_contain_text("This phone must be paired again: see Device")
    mine.goto(f"{server.url}/#/visit/{visit}")
    expect(mine.get_by_role("heading", level=1)).to_contain_text("Reflex")
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


def open_recorder(page: Page) -> None:
    """A lens with its speeds, and the recorder opened."""
    add_piece(page, "Lens", "In a shutter")
    unfold(page, "Shutter and its speeds")
    tap(page, "Press shutter, cocks itself")
    tap(page, "Shutter by sound")
    expect(page.get_by_role("button", name="Load a recording instead")).to_be_visible()
