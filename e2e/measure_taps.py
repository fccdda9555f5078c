"""Prints how long a tap takes to show on a slow phone (4x CPU throttle) and what the first screen weighs; asserts nothing.

Run it as `python e2e/measure_taps.py` where the test requirements and the built web app are.
"""

from __future__ import annotations

import statistics
import tempfile
from collections.abc import Callable
from pathlib import Path

from bench_phone import Phone
from bench_server import Server
from demo_screens import known_records
from hands import pair, wait_until_kept
from playwright.sync_api import Page, sync_playwright

SLOWER = 4
TAPS = 20
# From the finger leaving the glass to the first frame that shows another check, place or piece.
WATCH = """() => {
  const shown = () => document.querySelector("h1")?.textContent + "|" + document.querySelector(".place[aria-current]")?.textContent;
  if (window.taps) { window.taps.length = 0; return; }
  window.taps = [];
  addEventListener("click", (event) => {
    const before = shown();
    const look = () => requestAnimationFrame(() => {
      if (shown() === before) { look(); return; }
      const drawn = new MessageChannel();
      drawn.port1.onmessage = () => window.taps.push(performance.now() - event.timeStamp);
      drawn.port2.postMessage(null);
    });
    look();
  }, true);
}"""

FIRST_SHOWN = """
const watch = () => { if (document.querySelector("h1")) window.firstShown = performance.now(); else requestAnimationFrame(watch); };
watch();
"""


def time_taps(page: Page, tap: Callable[[int], None]) -> list[float]:
    """Milliseconds of each of TAPS taps; each is waited for before the next."""
    page.evaluate(WATCH)
    for turn in range(TAPS):
        tap(turn)
        page.evaluate("""async (wanted) => { while (window.taps.length < wanted) await new Promise((later) => setTimeout(later, 20)); }""", turn + 1)
    return page.evaluate("window.taps")


def first_screen_bytes(page: Page) -> int:
    """Bytes of scripts and style, squeezed as they came, that the page had asked for when its heading first stood there."""
    return page.evaluate("""() => performance.getEntriesByType("resource").filter((one) => /\\.(js|css)$/.test(one.name) && one.startTime < window.firstShown)
        .reduce((sum, one) => sum + one.encodedBodySize, 0)""")


def report(what: str, times_ms: list[float]) -> None:
    """One line of figures."""
    print(f"{what}: median {statistics.median(times_ms):.0f} ms, slowest {max(times_ms):.0f} ms of {len(times_ms)} taps at {SLOWER}x throttle")


def main() -> None:
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        server = Server(Path(folder) / "server", demo=True)
        server.start()
        mine = Phone(playwright, Path(folder) / "phone")
        try:
            page = mine.open(server.url, before=FIRST_SHOWN)
            wait_until_kept(page)
            print(f"first screen: {first_screen_bytes(page) / 1000:.1f} kB of scripts and style, gzipped")
            pair(page, server, "Slow phone")
            records = known_records(page, server)
            lens = next(id_ for id_, visit in records["visit"].items() if "210 mm" in records["piece"][visit["piece"]]["title"])
            page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})

            page.goto(f"{server.url}/#/visit/{lens}/pass/full")
            in_order = page.get_by_role("button", name="In order", exact=True)
            report("answer a check", time_taps(page, lambda turn: in_order.tap()))

            tabs = page.get_by_role("navigation", name="Pieces on the table").get_by_role("link")
            report("switch tags", time_taps(page, lambda turn: tabs.nth(turn % 2).tap()))
        finally:
            mine.close()
            server.kill()


if __name__ == "__main__":
    main()
