"""What screens say where there is no server, and that the way to it is a link."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from bench_phone import Phone
from bench_server import Server
from hands import add_piece, begin_session, tap, wait_until_kept
from playwright.sync_api import expect


def test_a_phone_without_a_server_is_told_of_none(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(f"{server.url}/#/device")
    wait_until_kept(page)
    # Elsewhere the way here is called Device: the screen says so, too.
    expect(page.get_by_role("heading", level=1)).to_have_text(re.compile("Device$"))
    tap(page, "Room on this phone")
    room = page.get_by_role("region", name="How much there is")
    expect(room).to_contain_text("This phone has no server")
    expect(room).not_to_contain_text("The server has confirmed")
    room.get_by_role("link", name="Pair with a server").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Pair this phone")


def test_a_book_saved_to_a_file_is_not_said_to_be_on_the_phone_alone(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    begin_session(page)
    page.goto(f"{server.url}/#/device")
    book = page.get_by_role("region", name="The book")
    expect(book).to_contain_text("Only on this phone.")
    with page.expect_download() as saved:
        tap(page, "Save everything to one file")
    saved.value.save_as(tmp_path / "book.zip")
    expect(book).to_contain_text("On this phone, and in the file saved on ")
    expect(book).not_to_contain_text("Only on this phone")
    other = phone("other").open(f"{server.url}/#/device")
    wait_until_kept(other)
    other.get_by_label("Saved file to load").set_input_files(tmp_path / "book.zip")
    expect(other.get_by_text(re.compile(r"^\d+ edits added; nothing was overwritten$"))).to_be_visible()


def test_where_words_send_a_person_a_link_leads(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    begin_session(page)
    visit = add_piece(page, "Lens", "In a shutter")
    page.goto(f"{server.url}/#/visit/{visit}/report")
    page.get_by_role("region", name="Versions and links").get_by_role("link", name="Pair with a server").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Pair this phone")
    page.goto(f"{server.url}/#/visit/{'0' * 32}")
    tap(page, "Device")
    expect(page.get_by_role("heading", level=1)).to_have_text(re.compile("Device$"))
