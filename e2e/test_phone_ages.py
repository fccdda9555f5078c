"""Two tabs, a new version, an app older or newer than its server or the other phones: each is said in plain words and loses nothing."""

from __future__ import annotations

import gzip
import json
import re
import shutil
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from bench_phone import Phone
from bench_server import DIST, Server
from hands import (
    add_piece,
    ask_now,
    begin_session,
    fill,
    pair,
    tap,
    unfold,
    wait_until,
    wait_until_kept,
)
from playwright.sync_api import Request, expect


def pushed(asked: Request) -> list[str]:
    """The changes that a request offers to the server, by their ids."""
    if asked.method != "POST" or not asked.url.endswith("/api/changes"):
        return []
    body = asked.post_data_buffer or b""
    return [change["id"] for change in json.loads(gzip.decompress(body) if body[:2] == b"\x1f\x8b" else body)["changes"]]


def test_a_second_tab_shows_the_same_and_sends_nothing_twice(server: Server, phone: Callable[..., Phone]) -> None:
    first = phone().open(server.url)
    wait_until_kept(first)
    pair(first, server, "Barn phone")
    first.goto(server.url)
    begin_session(first)
    visit = add_piece(first, "Camera", "Reflex")
    second = first.context.new_page()
    second.goto(f"{server.url}/#/visit/{visit}")
    sent: list[str] = []
    for page in (first, second):
        page.on("request", lambda asked: sent.extend(pushed(asked)))
        unfold(page, "Name, type, format")
    for page, other, name in ((first, second, "Named in the first tab"), (second, first, "Named in the second")):
        fill(page, "Name", name)
        expect(other.get_by_role("heading", level=1)).to_contain_text(name)
        expect(other.get_by_label("Name", exact=True)).to_have_value(name)
    first.goto(f"{server.url}/#/device")
    ask_now(first)
    assert len(sent) == len(set(sent)) >= 2
    first.goto(f"{server.url}/#/visit/{visit}")
    expect(first.get_by_role("heading", level=1)).to_contain_text("Named in the second")
    expect(first.get_by_text("which holds?")).to_have_count(0)


def newer_build(folder: Path, without: str = "") -> None:
    """Makes the build in this folder a later one: its page says so, and its worker keeps it under a name of its own.

    `without`: the file of this name is no longer there, as every one whose content changed.
    """
    page, worker = folder / "index.html", folder / "sw.js"
    page.write_text(page.read_text().replace("</head>", '<meta name="made-by-the-test" content="later" /></head>'))
    text = worker.read_text()
    marked = re.sub(r"(version:\s*[`'\"])", r"\1later-", text)
    assert marked != text
    if without:
        [gone] = folder.glob(f"assets/{without}-????????.js")
        gone.unlink()
        marked, count = re.subn(f",/assets/{re.escape(gone.name)}", "", marked)
        assert count > 0
    worker.write_text(marked)


@pytest.fixture
def aging(tmp_path: Path) -> Iterator[Server]:
    """A server of a copy of the app, which can be made newer."""
    app = tmp_path / "app"
    shutil.copytree(DIST, app)
    server = Server(tmp_path / "server", demo=False, app=app)
    server.start()
    yield server
    server.kill()


def test_an_update_waits_for_the_end_of_a_pass_and_for_a_yes(aging: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(aging.url)
    wait_until_kept(page)
    begin_session(page)
    visit = add_piece(page, "Camera", "Reflex")
    tap(page, "Five-minute pass")
    later = page.locator('meta[name="made-by-the-test"]')
    newer_build(aging.app)
    aging.kill()
    aging.start()
    page.evaluate("async () => { await (await navigator.serviceWorker.getRegistration()).update(); }")
    wait_until(page, "async () => Boolean((await navigator.serviceWorker.getRegistration()).waiting)")
    page.get_by_role("group", name="What you found").get_by_role("button", name="In order").click()
    offer = page.get_by_role("button", name="Change to it now")
    expect(offer).to_have_count(0)
    page.goto(f"{aging.url}/#/visit/{visit}")
    expect(offer).to_be_visible()
    expect(later).to_have_count(0)
    unfold(page, "Name, type, format")
    page.get_by_label("Name", exact=True).fill("Typed as it changed")
    offer.click()
    expect(later).to_have_count(1)
    expect(page.get_by_role("heading", level=1)).to_contain_text("Typed as it changed")
    expect(page.get_by_role("link", name=re.compile("Five-minute pass: .* left"))).to_be_visible()


def test_a_tab_in_a_pass_goes_on_with_its_version_after_another_changed(aging: Server, phone: Callable[..., Phone]) -> None:
    """What it has not read yet is still there without a signal, and it is asked when the pass is over."""
    passing = phone().open(aging.url)
    wait_until_kept(passing)
    begin_session(passing)
    visit = add_piece(passing, "Camera", "Reflex")
    tap(passing, "Five-minute pass")
    found = passing.get_by_role("group", name="What you found")
    expect(found).to_be_visible()
    other = passing.context.new_page()
    other.goto(aging.url)
    newer_build(aging.app, without="kit")
    aging.kill()
    aging.start()
    other.evaluate("async () => { await (await navigator.serviceWorker.getRegistration()).update(); }")
    other.get_by_role("button", name="Change to it now").click()
    later = 'meta[name="made-by-the-test"]'
    expect(other.locator(later)).to_have_count(1)
    aging.kill()
    found.get_by_role("button", name="In order").click()
    offer = passing.get_by_role("button", name="Change to it now")
    expect(offer).to_have_count(0)
    passing.goto(f"{aging.url}/#/kit")
    expect(passing.get_by_role("heading", level=1, name="My kit")).to_be_visible()
    passing.goto(f"{aging.url}/#/visit/{visit}")
    offer.click()
    expect(passing.locator(later)).to_have_count(1)
    expect(passing.get_by_role("link", name=re.compile("Five-minute pass: .* left"))).to_be_visible()


def test_what_a_newer_app_wrote_is_kept_and_passed_on(server: Server, phone: Callable[..., Phone], tmp_path: Path) -> None:
    page = phone().open(server.url)
    wait_until_kept(page)
    pair(page, server, "Barn phone")
    page.goto(server.url)
    begin_session(page)
    visit = add_piece(page, "Camera", "Reflex")
    page.goto(f"{server.url}/#/device")
    ask_now(page)
    pulled = page.request.get(f"{server.url}/api/changes?after=0").json()["changes"]
    known = next(change for change in pulled if change["kind"] == "piece" and change["field"] == "kind")
    stamp = max(change["stamp"] for change in pulled)
    after = {key: known[key] for key in ("space", "kind", "record", "device", "author")} | {"stamp": stamp[:15] + ".999999." + known["device"], "base": None, "settles": [], "schema": 1}
    newer = [
        after | {"id": "1" * 32, "field": "lens_map", "value": {"of": ["a", "later", "app"]}},
        after | {"id": "2" * 32, "field": "title", "value": {"words": "Said in a later way"}, "schema": 2},
        after | {"id": "3" * 32, "field": "colour", "kind": "finish", "record": "4" * 32, "value": "black", "weight": 7},
    ]
    said = page.request.post(f"{server.url}/api/changes", headers={"X-Barnlight": "1"}, data={"epoch": None, "changes": newer}).json()
    assert [one["result"] for one in said["results"]] == ["deferred"] * 3, said
    ask_now(page)
    note = page.locator(".note").filter(has_text="This Barnlight is older than another phone's.")
    expect(note).to_contain_text("1 edit made there cannot be shown here yet; kept and passed on all the same.")
    page.goto(f"{server.url}/#/visit/{visit}")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Reflex")
    page.goto(f"{server.url}/#/device")
    with page.expect_download() as saved:
        tap(page, "Save everything to one file")
    saved.value.save_as(tmp_path / "book.zip")
    held = {change["id"]: change for change in json.loads(zipfile.ZipFile(tmp_path / "book.zip").read("barnlight-export.json"))["changes"]}
    for change in newer:
        assert held[change["id"]] | change == held[change["id"]] | {"stamp": change["stamp"]}, held[change["id"]]


def test_a_server_older_than_the_app(server: Server, phone: Callable[..., Phone]) -> None:
    """What an older server says of an address it does not have (error_handlers.py) is put into words, and nothing is lost."""
    page = phone().open(server.url)
    wait_until_kept(page)
    pair(page, server, "Barn phone")
    page.goto(server.url)
    session = begin_session(page, place="Upper barn")
    page.goto(f"{server.url}/#/device")
    ask_now(page)
    unknown = {"error": {"code": "not_found", "message": page.request.get(f"{server.url}/api/nowhere").json()["error"]["message"], "hint": None}}
    page.route("**/api/erase", lambda route: route.fulfill(status=404, json=unknown))
    page.goto(f"{server.url}/#/session/{session}/erase")
    alert = page.get_by_role("alert").filter(has_text="The server's Barnlight is older than this phone's, and cannot do that yet.")
    expect(alert).to_contain_text("Update Barnlight on the server. Until then everything stays as it is")
    page.unroute("**/api/erase")
    alert.get_by_role("button", name="Ask again").click()
    expect(page.get_by_role("region", name="What would go")).to_contain_text("1 sale")
