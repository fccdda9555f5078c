"""Taps and figures that follow each other faster than the screen is drawn: each of them counts."""

from __future__ import annotations

from collections.abc import Callable

from bench_phone import Phone
from bench_server import Server
from hands import add_piece, begin_session, fill, unfold, wait_until_kept
from playwright.sync_api import Locator, Page, expect

SLOWER = 6  # a processor six times slower than this one


def tap_at_once(button: Locator, times: int) -> None:
    """Taps without waiting for the screen, as a hurried thumb does; all within one turn of the page."""
    button.evaluate("(button, times) => { for (let tap = 0; tap < times; tap += 1) button.click(); }", times)


def slow(page: Page) -> None:
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})


def test_every_tap_on_a_counter_counts(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(f"{server.url}")
    wait_until_kept(page)
    begin_session(page)
    add_piece(page, "Holders", "Sheet-film holders", count=10)
    slow(page)
    unfold(page, "The set")
    tap_at_once(page.get_by_role("button", name="One more"), 5)
    expect(page.get_by_role("group", name="How many holders").get_by_role("status")).to_have_text("15")


def test_every_tap_on_a_counted_thing_counts(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(f"{server.url}")
    wait_until_kept(page)
    begin_session(page)
    add_piece(page, "Lens", "In a shutter")
    slow(page)
    unfold(page, "What comes with it")
    for thing in ("Front cap", "Shims"):
        fill(page, "Thing", thing)
        page.get_by_role("button", name="It is there").click()
    tap_at_once(page.get_by_role("button", name="One Shims more"), 5)
    expect(page.get_by_label("Shims: 6")).to_be_visible()


def test_every_tap_on_the_benchs_own_counter_counts(server: Server, phone: Callable[..., Phone]) -> None:
    page = phone().open(f"{server.url}/#/bench/holder_depth")
    wait_until_kept(page)
    unfold(page, "Tool, format, which point")
    slow(page)
    more = page.get_by_role("button", name="One more")
    tap_at_once(more, 5)
    expect(page.get_by_role("group", name="Holders in the set").get_by_role("status")).to_have_text("15")
    expect(more).to_be_visible()  # the part it stands in did not fold up
