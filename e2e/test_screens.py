"""Every screen at 360 x 740: nothing runs off sideways, light and dark keep the rules of axe, and text may be twice as large.

BARNLIGHT_PICTURES names a folder for a picture of each; without it none is written.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from bench_phone import SCREEN, Phone
from bench_server import ROOT, Server
from demo_screens import Screen, screens, show
from hands import pair, wait_until_kept
from playwright.sync_api import Page, Playwright, expect

# WCAG 2.2 level A and AA as axe-core (deque.com, MPL-2.0) checks them.
AXE = ROOT / "webapp/node_modules/axe-core/axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
GRAVE = ("serious", "critical")
# WCAG 2.2, 2.5.5 (AAA): 44 px by 44 px.
TARGET_PX = 44
PICTURES = os.environ.get("BARNLIGHT_PICTURES")

SIDEWAYS = """() => {
  const wide = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= wide) return [];
  return [...document.querySelectorAll("body *")].filter((one) => one.getBoundingClientRect().right > wide + 1)
    .map((one) => `${one.tagName} ${one.className} ${one.textContent.slice(0, 40)}`);
}"""

# The page's whole length, once nothing has made it longer for half a second: cards fill in one by one.
SETTLED_HEIGHT = """async () => {
  const tall = () => document.documentElement.scrollHeight;
  for (let last = -1; last !== tall();) { last = tall(); await new Promise((later) => setTimeout(later, 500)); }
  return tall();
}"""

# Words of a button, or of a line with a button beside them, that fall apart over two lines, as a speed "1/1" over "25".
BROKEN = """() => [...document.querySelectorAll("button, a.button, summary, li.line:has(> button) :is(.name, .mark)")].flatMap((one) => {
  const walk = document.createTreeWalker(one, NodeFilter.SHOW_TEXT), broken = [];
  for (let text = walk.nextNode(); text; text = walk.nextNode()) {
    for (const word of text.data.matchAll(/\\S+/g)) {
      const range = document.createRange();
      range.setStart(text, word.index);
      range.setEnd(text, word.index + word[0].length);
      if (new Set([...range.getClientRects()].map((line) => line.top)).size > 1) broken.push(word[0]);
    }
  }
  return broken;
})"""


@pytest.fixture(scope="module")
def shown(playwright: Playwright, demo_server: Server, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Page, list[Screen]]]:
    """A phone with the sample sessions on it, and the list of screens."""
    mine = Phone(playwright, tmp_path_factory.mktemp("phone"))
    page = mine.open(demo_server.url)
    wait_until_kept(page)
    pair(page, demo_server, "Bench phone")
    yield page, screens(page, demo_server)
    mine.close()


SCHEMES = ("light", "dark")


def test_every_screen(shown: tuple[Page, list[Screen]], demo_server: Server) -> None:
    """Each is drawn once: whether it is light or dark is a matter of style alone (look.ts)."""
    page, every = shown
    page.emulate_media(color_scheme="light", reduced_motion="reduce")  # sheets stand still at once
    wrong = []
    for screen in every:
        show(page, demo_server, screen)
        wrong += [f"{screen.name} runs off sideways: {one}" for one in page.evaluate(SIDEWAYS)]
        for scheme in SCHEMES:
            wear(page, scheme)
            take_picture(page, f"{screen.name}-{scheme}")
        wrong += [f"{screen.name}, {one}" for one in against_the_rules(page)]
    assert wrong == [], "\n".join(wrong)


def test_text_twice_as_large(shown: tuple[Page, list[Screen]], demo_server: Server) -> None:
    """WCAG 2.2, 1.4.4: text at 200 % without loss; what is pinned to the bottom must leave room to read."""
    page, every = shown
    page.emulate_media(color_scheme="light", reduced_motion="reduce")
    wrong = []
    for screen in every:
        show(page, demo_server, screen)
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        wrong += [f"{screen.name} runs off sideways: {one}" for one in page.evaluate(SIDEWAYS)]
        wrong += [f"{screen.name}: {one!r} is broken in two" for one in page.evaluate(BROKEN)]
        foot = page.locator("section.foot")
        if foot.count() and (box := foot.bounding_box()) and foot.evaluate("(one) => getComputedStyle(one).position") in ("sticky", "fixed"):
            if box["height"] > SCREEN["height"] / 2:
                wrong.append(f"{screen.name}: the foot takes {box['height']:.0f} of {SCREEN['height']} px")
        take_picture(page, f"{screen.name}-200")
    assert wrong == [], "\n".join(wrong)


def test_a_thumb_hits_every_button_of_a_check(shown: tuple[Page, list[Screen]], demo_server: Server) -> None:
    page, every = shown
    for name in ("check", "pass", "readings", "check-claimed"):
        show(page, demo_server, next(screen for screen in every if screen.name == name))
        targets = page.locator("button:visible, a.button:visible, label.tool:visible, a.tool:visible, summary:visible, a.tag-tab:visible")
        expect(targets.nth(8)).to_be_visible()
        sizes = targets.evaluate_all(
            "found => found.map((one) => { const { width, height } = one.getBoundingClientRect();"
            " return [one.textContent.trim() || one.ariaLabel, Math.round(width * 10) / 10, Math.round(height * 10) / 10]; })")
        small = [size for size in sizes if min(size[1:]) < TARGET_PX]
        assert len(sizes) > 8 and small == [], f"{name}: {small}"


def wear(page: Page, scheme: str) -> None:
    """Makes it day or night for the phone; the app has put on its colours (a report has them from its style alone)."""
    page.emulate_media(color_scheme=scheme)
    page.wait_for_function("(scheme) => [scheme, undefined].includes(document.documentElement.dataset.theme)", arg=scheme)


def take_picture(page: Page, name: str) -> None:
    """Writes what stands on the phone's screen, where a folder for pictures was named."""
    if PICTURES:
        page.screenshot(path=Path(PICTURES) / f"{name}.png")


def against_the_rules(page: Page) -> list[str]:
    """What axe finds serious or critical by day and by night, with the element it is about. The page is drawn at its whole length
    meanwhile: what merely lies under the pinned foot until it is scrolled is no fault."""
    page.set_viewport_size(SCREEN | {"height": max(SCREEN["height"], page.evaluate(SETTLED_HEIGHT))})
    page.evaluate(AXE.read_text())
    grave = []
    for scheme in SCHEMES:
        wear(page, scheme)
        found = page.evaluate("(tags) => axe.run(document, { runOnly: { type: 'tag', values: tags }, resultTypes: ['violations'] })", RULES)
        grave += [f"{scheme}: {one['id']} ({one['impact']}): {node['html'][:160]}" for one in found["violations"] if one["impact"] in GRAVE for node in one["nodes"]]
    wear(page, SCHEMES[0])
    page.set_viewport_size(SCREEN)
    return grave
