"""One phone lets another in by the code on its screen, names it, and shuts it out; what the other one did meanwhile is not lost."""

from __future__ import annotations

import re
from collections.abc import Callable
from io import BytesIO

import zxingcpp
from bench_phone import Phone
from bench_server import Server
from hands import ALL_SENT, begin_session, fill, pair, tap, wait_until_kept
from PIL import Image
from playwright.sync_api import expect


def test_the_code_on_the_screen_lets_another_phone_in(server: Server, phone: Callable[..., Phone]) -> None:
    owner, guest = phone("owner").open(server.url), phone("guest").open(server.url)
    pair(owner, server, "Orla")
    owner.goto(f"{server.url}/#/")
    begin_session(owner, place="Lower barn")
    owner.goto(f"{server.url}/#/device")
    tap(owner, "Let another phone in")
    picture = owner.get_by_role("img", name=re.compile("QR code"))
    expect(picture).to_be_visible()
    # A reader of others (zxing-cpp) sees what a phone's camera would.
    [code] = zxingcpp.read_barcodes(Image.open(BytesIO(picture.screenshot())))
    assert code.text == owner.locator(".wrap-anywhere").inner_text()
    typed = owner.locator(".pair-code").inner_text()
    assert code.text == f"{server.url}/#/pair/{typed}"

    guest.goto(code.text)
    expect(guest.get_by_label("Code", exact=True)).to_have_value(typed)
    fill(guest, "Name of this phone or person", "Guest of the barn")
    guest.get_by_role("button", name="Pair", exact=True).click()
    guest.wait_for_url(re.compile("#/device$"))
    expect(owner.get_by_text("Guest of the barn is in")).to_be_visible()
    tap(guest, "Ask the server now")
    guest.goto(f"{server.url}/#/")
    expect(guest.get_by_text("Lower barn").first).to_be_visible()

    # The code is spent.
    late = phone("late").open(code.text)
    fill(late, "Name of this phone or person", "Late")
    late.get_by_role("button", name="Pair", exact=True).click()
    expect(late.get_by_role("alert").filter(has_text="used already")).to_be_visible()
    # The link of a new one, followed where the spent one still stands.
    fresh = server.pair_code()
    late.goto(f"{server.url}/#/pair/{fresh}")
    expect(late.get_by_label("Code", exact=True)).to_have_value(fresh)
    expect(late.get_by_role("alert").filter(has_text="used already")).to_have_count(0)
    late.get_by_role("button", name="Pair", exact=True).click()
    late.wait_for_url(re.compile("#/device$"))


def test_a_phone_that_was_shut_out_stops_sending_and_loses_nothing(server: Server, phone: Callable[..., Phone]) -> None:
    owner, lost = phone("owner").open(server.url), phone("lost").open(server.url)
    pair(owner, server, "Orla")
    pair(lost, server, "Second phone")
    wait_until_kept(lost)
    owner.reload()
    tap(owner, "Rename Second phone")
    fill(owner, "Another name for Second phone", "Phone left in the van")
    tap(owner, "Shut out Phone left in the van")
    expect(owner.get_by_text("Phone left in the van", exact=True)).to_have_count(0)

    lost.goto(f"{server.url}/#/")
    begin_session(lost, place="Field behind the mill")
    state = lost.get_by_label("Where your work is kept")
    expect(state).to_contain_text("Must be paired again")
    lost.reload()
    lost.goto(f"{server.url}/#/")
    expect(lost.get_by_text("Field behind the mill").first).to_be_visible()
    pair(lost, server, "Second phone")
    expect(state).to_contain_text(ALL_SENT)
    owner.goto(f"{server.url}/#/device")
    tap(owner, "Ask the server now")
    owner.goto(f"{server.url}/#/")
    expect(owner.get_by_text("Field behind the mill").first).to_be_visible()
