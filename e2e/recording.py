"""Firing a shutter for the app to hear, with a fake microphone, and reading off the figure it shows."""

from __future__ import annotations

import re
from dataclasses import dataclass

from hands import tap
from playwright.sync_api import Page, expect

SECONDS = {"s": 1.0, "ms": 0.001}
FIGURE = re.compile(r"([\d.]+) (s|ms) \(([\d.]+) (s|ms) to ([\d.]+) (s|ms)\), (\d+) settled")
MOST_TAKES = 8


@dataclass(frozen=True)
class Figure:
    """What the table of speeds says of one mark, in seconds."""

    median_s: float
    low_s: float
    high_s: float
    settled: int
    words: str  # as shown, e.g. "150 ms"


def record(page: Page, mark: str) -> None:
    """One take, from a freshly opened recorder: the fake microphone plays its file once, from when it is opened."""
    page.get_by_role("link", name="Shutter by sound").click()
    page.get_by_role("button", name=f"{mark} of a second").click()
    tap(page, "Listen at")
    expect(page.get_by_text("Heard something loud enough")).to_be_visible()
    page.wait_for_timeout(900)  # the rest of the firing; nobody stops while it still ticks
    tap(page, "Fired: stop and measure")
    expect(page.get_by_text(re.compile("reads|No time could be read|Come closer|again")).first).to_be_visible()
    expect(page.get_by_role("button", name=re.compile("^Listen at"))).to_be_enabled()


def back_to_piece(page: Page) -> None:
    """Leaves the recorder, which lets the microphone go."""
    page.get_by_role("link", name="Back to the piece").click()
    expect(page.get_by_role("link", name="Shutter by sound")).to_be_visible()


def dropped_sound(page: Page) -> bool:
    """Whether the app says of the last take that the way from microphone to page lost or bent something."""
    shown = page.get_by_role("region", name="Take", exact=True)
    expect(shown).to_contain_text(re.compile(r" to .*\)|No time could be read"))  # it has been gone through
    return shown.get_by_text(re.compile("dropped about|What to do next|No time could be read")).first.is_visible()


def fire_until_settled(page: Page, mark: str, wanted: int) -> Figure:
    """A cold take, then settled ones until `wanted` came through whole; a take that the app doubts is taken again."""
    record(page, mark)
    back_to_piece(page)
    whole = 0
    for _ in range(MOST_TAKES):
        record(page, mark)
        whole += not dropped_sound(page)
        if whole == wanted:
            return shown_figure(page, wanted)
        back_to_piece(page)
    raise AssertionError(f"{MOST_TAKES} takes, {whole} of them whole")


def shown_figure(page: Page, least: int) -> Figure:
    """The settled figure in the table of speeds, once it stands on so many takes at least."""
    row = page.get_by_role("region", name="Speeds measured").get_by_text(re.compile(r"\d+ settled"))
    expect(row).to_have_text(re.compile("|".join(rf"\b{count} settled" for count in range(least, MOST_TAKES + 1))))
    found = FIGURE.search(row.inner_text())
    assert found
    median, one, low, two, high, three, settled = found.groups()
    return Figure(float(median) * SECONDS[one], float(low) * SECONDS[two], float(high) * SECONDS[three], int(settled), f"{median} {one}")
