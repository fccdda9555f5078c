"""What the screens of the phone itself say where there is no server."""

from __future__ import annotations

from collections.abc import Callable

from bench_phone import Phone
from bench_server import Server
from hands import tap, wait_until_kept
from playwright.sync_api import expect


def test_a_phone_without_a_server_is_told_of_none(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(f"{server.url}/#/device")
    wait_until_kept(page)
    # Elsewhere the way here is called Device: the screen says so, too.
    expect(page.get_by_role("banner").or_(page.locator("header"))).to_contain_text("Device and settings")
    tap(page, "Room on this phone")
    room = page.get_by_role("region", name="How much there is")
    expect(room).to_contain_text("This phone has no server")
    expect(room).not_to_contain_text("The server has confirmed")
