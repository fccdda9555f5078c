"""A film test takes a photo, like a check: it stands with the film in the app and in the report, and goes and comes back with it."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from bench_phone import Phone
from bench_server import Server
from hands import add_piece, begin_session, fill, tap, wait_until_kept
from made_files import photo_with_gps
from playwright.sync_api import expect


def test_a_film_and_its_photo(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    begin_session(page)
    visit = add_piece(page, "Lens", "In a shutter")
    page.goto(f"{server.url}/#/visit/{visit}/check/lens.glass.haze")
    tap(page, "In order")
    page.goto(f"{server.url}/#/visit/{visit}/after")
    tap(page, "Note a film test")
    sheet = page.get_by_role("dialog", name="A film test")
    sheet.get_by_role("button", name="As it should be").click()
    sheet.get_by_label("In words, for the report").fill("Even to the corners")
    sheet.get_by_role("button", name="Keep it").click()

    film = page.locator("section", has=page.locator("#films"))
    film.get_by_label("From a file").set_input_files(photo_with_gps(tmp_path / "negative.jpg"))
    strip = film.get_by_role("group", name="Photos")
    expect(strip.get_by_role("img")).to_be_visible()
    expect(film.get_by_label("From a file")).to_have_count(0)
    strip.get_by_role("link").click()
    fill(page, "Caption", "The negative on a light table")
    tap(page, "Back")
    page.wait_for_url(re.compile("/after$"))

    film.get_by_role("button", name=re.compile("^Take off the film test")).click()
    expect(film).not_to_contain_text("Even to the corners")
    page.get_by_role("button", name="Undo").click()
    expect(strip.get_by_role("img", name="The negative on a light table")).to_be_visible()

    page.goto(f"{server.url}/#/visit/{visit}/report")
    tap(page, "Make one file on this phone")
    press = page.get_by_role("button", name=re.compile("^Hand on [0-9]+ kB$"))
    with page.expect_download() as saved:
        press.click()
    saved.value.save_as(tmp_path / "own.html")
    page.goto((tmp_path / "own.html").as_uri())
    section = page.locator("section", has=page.get_by_role("heading", name="Film made with it"))
    expect(section.get_by_role("img", name=re.compile("The negative on a light table$"))).to_be_visible()
    expect(page.get_by_text("The negative on a light table")).to_have_count(1)
