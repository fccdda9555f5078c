"""HTTPS without a domain in a real browser: not trusted it refuses, trusted it gives all a phone needs; and the page that leads to trust.

The trust is real: the certificate that the page hands out goes into the browser's own list (NSS), as a person would put it there.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from bench_phone import QUIET, SCREEN, browser
from bench_server import ROOT
from hands import fill, wait_until_kept
from playwright.sync_api import BrowserContext, Error, Page, Playwright, expect
from test_screens import AXE, RULES, SIDEWAYS, TARGET_PX, take_picture

sys.path.append(str(ROOT / "tests"))

from https_house import Serving  # noqa: E402  (found by the line above)

NAME = "barn.local"

pytestmark = pytest.mark.skipif(
    not sys.platform.startswith("linux") or shutil.which("certutil") is None or browser() is None,
    reason="2026-11-25: needs a Chromium of the system, whose list of authorities certutil (libnss3-tools) can write; Linux only",
)


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    """A server with HTTPS for `barn.local`."""
    running = Serving(tmp_path_factory.mktemp("house") / "store", "--https", "--name", NAME)
    yield running
    running.stop()


class Visitor:
    """A browser with a home folder, and so a list of trusted authorities, of its own."""

    def __init__(self, playwright: Playwright, home: Path) -> None:
        self.playwright, self.home = playwright, home
        self.list = home / ".pki" / "nssdb"
        self.list.mkdir(parents=True)
        self._certutil("-N", "--empty-password")

    def trust(self, certificate: Path) -> None:
        """Puts the authority into the list, as one for web sites."""
        self._certutil("-A", "-n", "Barnlight", "-t", "C,,", "-i", str(certificate))

    def distrust(self) -> None:
        """Takes it out again."""
        self._certutil("-D", "-n", "Barnlight")

    def open(self, profile: str = "profile") -> BrowserContext:
        """The browser, for which the name of the house is this machine."""
        return self.playwright.chromium.launch_persistent_context(
            str(self.home / profile), executable_path=browser(), headless=True, args=[*QUIET, f"--host-resolver-rules=MAP {NAME} 127.0.0.1"],
            viewport=SCREEN, has_touch=True, is_mobile=True, device_scale_factor=2, locale="en-GB", env={**os.environ, "HOME": str(self.home)})

    def _certutil(self, *words: str) -> None:
        subprocess.run(["certutil", "-d", f"sql:{self.list}", *words], check=True, capture_output=True)


@pytest.fixture(scope="module")
def visitor(playwright: Playwright, tmp_path_factory: pytest.TempPathFactory) -> Visitor:
    return Visitor(playwright, tmp_path_factory.mktemp("home"))


def test_trusted_it_gives_all_a_phone_needs_and_only_then(house: Serving, visitor: Visitor, tmp_path: Path) -> None:
    address = f"https://{NAME}:{house.port}"
    with visitor.open() as context:
        page = context.pages[0]
        with pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
            page.goto(address)
        certificate = context.request.get(f"http://localhost:{house.trust_port}/barnlight-authority.crt").body()
    (tmp_path / "got.crt").write_bytes(certificate)
    visitor.trust(tmp_path / "got.crt")
    with visitor.open() as context:
        page = context.pages[0]
        page.goto(f"{address}/#/pair/{house.code}")
        assert page.evaluate("isSecureContext") is True
        assert page.evaluate("'serviceWorker' in navigator && 'mediaDevices' in navigator && 'subtle' in crypto") is True
        wait_until_kept(page)
        fill(page, "Name of this phone or person", "Trusting phone")
        page.get_by_role("button", name="Pair", exact=True).click()
        page.wait_for_url(re.compile("#/device$"))
        cookie = next(each for each in context.cookies() if each["httpOnly"])
        assert (cookie["name"], cookie["secure"], cookie["httpOnly"], cookie["sameSite"]) == ("__Host-barnlight", True, True, "Strict")
        assert cookie["value"] not in page.evaluate("document.cookie")
        context.set_offline(True)
        page.reload()
        expect(page.get_by_role("heading", level=1)).to_be_visible()  # it was kept for use without signal
    visitor.distrust()
    # A profile without the kept app: with it Chromium sometimes waits for its worker instead of saying what is wrong.
    with visitor.open("another") as context, pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
        context.pages[0].goto(f"{address}/api/me")


@pytest.fixture(scope="module")
def trust_page(house: Serving, visitor: Visitor) -> Iterator[Page]:
    with visitor.open() as context:
        page = context.pages[0]
        page.goto(f"http://localhost:{house.trust_port}/trust")
        yield page


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", ["100%", "200%"])
def test_the_trust_page_keeps_the_rules(trust_page: Page, scheme: str, size: str) -> None:
    """WCAG 2.2 A and AA as axe-core checks them, text twice as large (1.4.4), targets of 44 px, nothing off sideways at 360 px."""
    trust_page.emulate_media(color_scheme=scheme)
    trust_page.evaluate("size => { document.documentElement.style.fontSize = size; }", size)
    take_picture(trust_page, f"trust-{scheme}-{size.removesuffix('%')}")
    assert trust_page.evaluate(SIDEWAYS) == []
    trust_page.evaluate(AXE.read_text("utf-8"))
    found = trust_page.evaluate("rules => axe.run(document, { runOnly: rules }).then(({ violations }) => violations.map(one => `${one.id}: ${one.nodes[0].html}`))", RULES)
    assert found == []
    heights = trust_page.locator("a.button:visible").evaluate_all("all => all.map(one => one.getBoundingClientRect().height)")
    assert len(heights) >= 7 and min(heights) >= TARGET_PX


def test_the_fingerprint_on_the_page_is_the_one_on_the_terminal(trust_page: Page, house: Serving) -> None:
    parts = trust_page.locator(".print span").all_inner_texts()
    assert len(parts) == 8 and "".join(f"    {left}  {right}\n" for left, right in zip(parts[::2], parts[1::2], strict=True)) in house.words
