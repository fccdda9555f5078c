"""After one visit the app needs no server: reload, deep links, new work and a second start all hold with the server killed."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from pathlib import Path

from bench_phone import Phone
from bench_server import ROOT, Server
from hands import add_piece, begin_session, fill, id_after, say_faulty, tap, unfold, wait_until_kept
from made_files import photo_with_gps
from phone_book import of_phone
from playwright.sync_api import Page, expect

LENS_CHECK = "lens.glass.haze"


def patterns() -> set[str]:
    """Every address the app knows, read from its own list, so that a new screen cannot be forgotten here."""
    source = (ROOT / "webapp/src/app/routes.ts").read_text()
    return set(re.findall(r'pattern: "([^"]+)"', source))


def some_work(page: Page, photo: Path) -> dict[str, str]:
    """A session with a seller, a lens, an answer and a photo; returns their ids by the names the addresses use."""
    session = begin_session(page, seller="Orla Fenwhistle", place="Lower barn")
    visit = add_piece(page, "Lens", "In a shutter")
    page.get_by_label("From a file").set_input_files(photo)
    tap(page, "Mark spots")
    page.wait_for_url(re.compile("/photo/"))
    found = re.search("/photo/([0-9a-f]{32})", page.url)
    assert found
    page.goto(page.url.split("#")[0] + f"#/visit/{visit}/check/{LENS_CHECK}")
    say_faulty(page)
    home = page.url.split("#")[0]
    page.goto(f"{home}#/kit")
    tap(page, "Add a thing of mine")
    page.get_by_role("dialog").get_by_role("button", name="Lens", exact=True).click()
    page.wait_for_url(re.compile("#/kit/"))
    item = id_after(page, "kit")
    page.goto(f"{home}#/wants")
    tap(page, "Want something")
    fill(page, "What it is", "300 mm")
    tap(page, "Put it on the list")
    page.wait_for_url(re.compile("#/want/"))
    want = id_after(page, "want")
    page.goto(f"{home}#/prices/add")
    fill(page, "What was it?", "210 mm in a shutter")
    fill(page, "Price", "240")
    tap(page, "Save this price")
    expect(page.get_by_text("Noted: 210 mm in a shutter")).to_be_visible()
    note = next(record for record, fields in of_phone(page).records.items() if "price" in fields)
    page.goto(f"{home}#/sellers")
    page.get_by_role("link", name=re.compile("Orla Fenwhistle")).click()
    page.wait_for_url(re.compile("#/seller/"))
    return {"session": session, "visit": visit, "photo": found.group(1), "seller": id_after(page, "seller"),
            "pass": "short", "check": LENS_CHECK, "code": "ABCD-EFGH", "item": item, "want": want, "note": note}


def test_every_screen_opens_with_the_server_dead(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    mine = phone()
    page = mine.open(server.url)
    wait_until_kept(page)
    server.kill()
    ids = some_work(page, photo_with_gps(tmp_path / "haze.jpg"))
    met = set()
    for pattern in sorted(patterns()):
        address = re.sub(r":(\w+)", lambda part: ids[part.group(1)], pattern)
        page.goto("about:blank")
        page.goto(f"{server.url}/#{address}")
        heading = page.get_by_role("heading", level=1)
        expect(heading).to_be_visible()
        expect(page.get_by_text("One moment…")).to_have_count(0)
        expect(heading).not_to_contain_text(re.compile("Nothing lives here|Not on this phone|stopped|not on this phone"))
        expect(page.get_by_text("is not on this phone")).not_to_be_visible()
        met.add(pattern)
    assert met == patterns()
    assert mine.complaints == []


def test_work_goes_on_and_a_second_start_finds_it(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    mine = phone()
    page = mine.open(server.url)
    wait_until_kept(page)
    server.kill()
    page.reload()
    expect(page.get_by_role("heading", name="Look before you buy")).to_be_visible()
    begin_session(page, venue="Fair", place="Hall of a fair")
    visit = add_piece(page, "Camera", "Folding field camera")
    unfold(page, "Name, type, format")
    fill(page, "Name", "Walnut folder")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Walnut folder")  # shown once it is on the disk
    page.reload()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Walnut folder")

    mine.close()
    page = mine.open(f"{server.url}/#/visit/{visit}")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Walnut folder")
    page.goto(server.url)
    expect(page.get_by_role("link", name=re.compile("Fair, Hall of a fair"))).to_be_visible()
    expect(page.get_by_role("link", name=re.compile("^Go on where you were: A, Walnut folder"))).to_be_visible()
    kept = page.get_by_label("Where your work is kept")
    expect(kept).to_have_text("Only on this phone")
    page.clock.set_fixed_time(time.time() + 86_400)
    page.reload()
    expect(kept).to_have_text(re.compile(r"^Only on this phone · no backup since \d+ \w+$"))
    assert mine.complaints == []
