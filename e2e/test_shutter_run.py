"""The recorder with a microphone that plays made-up firings: hands free through the speeds, sound lost on the way, a long file, marks moved."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import groupby
from pathlib import Path

import pytest
from bench_phone import Phone
from bench_server import Server
from hands import LONG_MS, add_piece, begin_session, tap, unfold, wait_until_kept
from made_files import firing, firings, quiet_hour
from playwright.sync_api import Page, expect

# Marked speed and true open time of each firing, in seconds: gear trains run slow. The first is the cold one.
FIRINGS = [("1/8", 0.150), ("1/8", 0.142), ("1/15", 0.074), ("1/30", 0.036)]
BOUND_STOPS = 1 / 6

# Hands the test the audio context the app listens with, so that it can take sound away as a busy phone does.
KEEP_CONTEXTS = """
window.contexts = [];
window.AudioContext = class extends window.AudioContext {
  constructor(...given) { super(...given); window.contexts.push(this); }
};
"""


@pytest.fixture
def recorder(server: Server, phone: Callable[..., Phone]) -> Callable[..., Page]:
    """Opens the recorder of a new lens with its usual speeds."""

    def open_it(sound: Path | None = None, before: str = "") -> Page:
        page = phone().open(server.url, microphone=sound, before=before)
        wait_until_kept(page)
        begin_session(page)
        add_piece(page, "Lens", "In a shutter")
        unfold(page, "Shutter and its speeds")
        tap(page, "Geared, set by a ring on the rim")
        tap(page, "Shutter by sound")
        expect(page.get_by_role("button", name="Load a recording instead")).to_be_visible()
        return page

    return open_it


# Every word the run says of what to set, as it comes: one that stands for a few seconds only must not be missed.
NOTE_WORDS = """(word) => {
  window.said = [word.textContent];
  new MutationObserver(() => { window.said.push(word.textContent); }).observe(word, { childList: true, characterData: true, subtree: true });
}"""

# Takes the sound away for a while, then waits as long as was listened before. Returns the least and the most that may have been lost, ms.
LOSE_SOUND = """async (begunMs) => {
  const pause = (ms) => new Promise((later) => setTimeout(later, ms));
  const [context] = window.contexts;
  await pause(2000);
  const asked = performance.now();
  await context.suspend();
  const still = performance.now();
  await pause(400);
  const waking = performance.now();
  await context.resume();
  const back = performance.now();
  await pause(asked - begunMs);
  return [waking - still, back - asked];
}"""


def ask_for(page: Page, count: int) -> None:
    """How many firings a speed the person wants."""
    unfold(page, "Firings a speed")
    page.get_by_label("Firings a speed").select_option(str(count))


def test_the_run_goes_through_the_speeds_without_a_touch(recorder: Callable[..., Page], tmp_path: Path) -> None:
    page = recorder(firings(tmp_path / "run.wav", [time_s for _, time_s in FIRINGS], rest_s=6, before_s=5))
    ask_for(page, 1)
    page.get_by_role("button", name=re.compile(r"^1\/8 of a second")).click()
    tap(page, "Run through the speeds, hands free")
    run = page.get_by_role("region", name="Run", exact=True)
    word = run.get_by_role("status").first
    word.evaluate(NOTE_WORDS)
    expect(word).to_contain_text("Set 1/60", timeout=LONG_MS)  # nobody touches the phone from here on
    said = page.evaluate("window.said")
    assert "the cold one" in said[0], said
    assert [mark for mark, _ in groupby(re.search(r"Set (\S+)Cock", words).group(1) for words in said)] == ["1/8", "1/15", "1/30", "1/60"], said
    tap(page, "Stop the run")

    table = page.get_by_role("region", name="Speeds measured")
    for mark in ("1/8", "1/15", "1/30"):
        row = table.get_by_role("listitem").filter(has=page.get_by_text(mark, exact=True))
        expect(row).to_contain_text(re.compile(r"1 settled"))
        expect(row).to_contain_text(re.compile(r"Fine for film|Usable"))
    unfold(page, "All takes (4)")
    expect(page.get_by_role("button", name="1/8, cold")).to_have_count(1)


def test_sound_that_was_lost_is_said(recorder: Callable[..., Page], tmp_path: Path) -> None:
    page = recorder(firing(tmp_path / "one.wav", 0.150), KEEP_CONTEXTS)
    page.get_by_role("button", name=re.compile(r"^1\/8 of a second")).click()
    tap(page, "Listen at")
    begun_ms = page.evaluate("performance.now()")
    expect(page.get_by_text("Heard something loud enough")).to_be_visible()
    least_ms, most_ms = page.evaluate(LOSE_SOUND, begun_ms)
    tap(page, "Fired: stop and measure")
    said = page.get_by_role("region", name="Take", exact=True).get_by_text(re.compile(r"dropped about \d+ ms of sound"))
    expect(said).to_be_visible()
    lost_ms = int(re.search(r"about (\d+) ms", said.inner_text()).group(1))
    assert least_ms - 100 <= lost_ms <= most_ms + 300, (lost_ms, least_ms, most_ms)


def test_a_long_recording_is_gone_through_and_can_be_stopped(recorder: Callable[..., Page], tmp_path: Path) -> None:
    page = recorder()
    page.get_by_role("button", name=re.compile(r"^1\/8 of a second")).click()
    page.get_by_label("Recording to load").set_input_files(quiet_hour(tmp_path / "hour.wav"))
    expect(page.get_by_role("progressbar")).to_be_visible()
    tap(page, "Stop; keep nothing")
    expect(page.get_by_role("progressbar")).not_to_be_visible()
    expect(page.get_by_role("button", name="Listen at 1/8")).to_be_enabled()
    expect(page.get_by_role("alert")).to_have_count(0)
    expect(page.get_by_role("region", name="Take", exact=True)).not_to_be_visible()

    times_s = [0.150, 0.146, 0.152]
    page.get_by_label("Recording to load").set_input_files(firings(tmp_path / "long.wav", times_s, rest_s=3, before_s=200))
    take = page.get_by_role("region", name="Take", exact=True)
    expect(page.get_by_text(re.compile(r"Taken from 3:\d\d of the recording"))).to_be_visible(timeout=LONG_MS)
    expect(take.get_by_text("Clear", exact=True)).to_be_visible()
    expect(page.get_by_text("All takes (3)")).to_be_visible()
    expect(page.get_by_role("region", name="Speeds measured")).to_contain_text(re.compile(r"14\d ms .* 2 settled|15\d ms .* 2 settled"))


def test_marks_and_view_move_by_keys_and_fingers(recorder: Callable[..., Page], tmp_path: Path) -> None:
    page = recorder()
    page.get_by_role("button", name=re.compile(r"^1\/8 of a second")).click()
    page.get_by_label("Recording to load").set_input_files(firing(tmp_path / "one.wav", 0.150))
    take = page.get_by_role("region", name="Take", exact=True)
    shown = take.get_by_text(re.compile("from mark to mark"))
    expect(shown).to_contain_text("150 ms from mark to mark")
    before = shown.inner_text()

    tap(page, "Zoom in")
    expect(shown).not_to_have_text(before)
    tap(page, "Zoom out")
    expect(shown).to_have_text(before)
    page.get_by_role("group", name=re.compile("^Waveform")).press("+")
    expect(shown).not_to_have_text(before)
    page.get_by_role("group", name=re.compile("^Waveform")).press("Home")
    tap(page, "Firing")
    expect(shown).to_have_text(before)

    slider = take.get_by_role("slider", name=re.compile("^Closing mark"))
    slider.focus()
    for _ in range(20):  # without a rest between them, which would make two edits of it
        page.keyboard.press("ArrowRight")
    expect(shown).to_contain_text("152 ms from mark to mark")
    expect(take.get_by_text("Your marks", exact=True)).to_be_visible()
    expect(take.get_by_text(re.compile("^The machine reads 150 ms"))).to_be_visible()
    tap(page, "Undo")
    expect(take.get_by_text("Your marks", exact=True)).not_to_be_visible()
    expect(shown).to_contain_text("150 ms from mark to mark")

    pinch(page, apart_px=(60, 180))
    expect(shown).not_to_have_text(before)
    nearer = shown.inner_text()
    drag(page, 0.5, 0.3)  # no mark is near: the view goes along
    expect(shown).to_have_text(nearer)
    expect(take.get_by_text("Your marks", exact=True)).not_to_be_visible()

    tap(page, "Opening")
    drag(page, 0.5, 0.2)  # the opening mark stands in the middle now
    expect(take.get_by_text("Your marks", exact=True)).to_be_visible()
    expect(shown).to_contain_text(re.compile(r"15[5-9] ms from mark to mark"))


class Fingers:
    """Touches on the page, as the browser gets them from a glass."""

    def __init__(self, page: Page) -> None:
        self._page, self._session = page, page.context.new_cdp_session(page)

    def go(self, ways: list[tuple[tuple[float, float], tuple[float, float]]]) -> None:
        """Each finger goes down where its way begins, along it in six steps, and up; what came of it is drawn."""
        def points(share: float) -> list[dict[str, float]]:
            return [{"x": x0 + (x1 - x0) * share, "y": y0 + (y1 - y0) * share, "id": index} for index, ((x0, y0), (x1, y1)) in enumerate(ways)]

        self._send("touchStart", points(0))
        for step in range(1, 7):
            self._send("touchMove", points(step / 6))
        self._send("touchEnd", [])
        self._page.evaluate("() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)))")

    def _send(self, kind: str, points: list[dict[str, float]]) -> None:
        self._session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


def wave_box(page: Page) -> dict:
    wave = page.get_by_role("img", name="Sound of the take with its two marks")
    wave.scroll_into_view_if_needed()
    box = wave.bounding_box()
    assert box
    return box


def pinch(page: Page, apart_px: tuple[float, float]) -> None:
    """Two fingers on the waveform go apart."""
    box = wave_box(page)
    middle, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    near, far = apart_px
    Fingers(page).go([((middle - near / 2, y), (middle - far / 2, y)), ((middle + near / 2, y), (middle + far / 2, y))])


def drag(page: Page, from_share: float, to_share: float) -> None:
    """One finger goes along the waveform."""
    box = wave_box(page)
    y = box["y"] + box["height"] / 2
    Fingers(page).go([((box["x"] + from_share * box["width"], y), (box["x"] + to_share * box["width"], y))])
