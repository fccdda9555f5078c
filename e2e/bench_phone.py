"""A phone: Chromium at phone size with a profile that outlives it, so that it can be killed and opened again.

BARNLIGHT_SLOWER=4 makes the pages of all phones four times slower, to find tests that hold by luck.
"""

from __future__ import annotations

import os
import re
import signal
import time
from datetime import UTC, datetime
from pathlib import Path

from playwright.sync_api import BrowserContext, ConsoleMessage, Error, Page, Playwright

SLOWER = os.environ.get("BARNLIGHT_SLOWER")
SCREEN = {"width": 360, "height": 740}
QUIET = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", "--disable-sync"]
# A shared machine may be slow to draw: whoever waits for a sign waits this long. It costs time only where something is broken.
PATIENCE_MS = 45_000
# It is noon at the sale whenever the tests run: no midnight falls between a day that a test names and the same day named by the app.
WEST_OF_UTC_H = datetime.now(UTC).hour - 12 if hasattr(time, "tzset") else None
# The browser itself says this of every request to a server that is gone, or went while it answered; the app has no part in it.
UNREACHABLE = re.compile(r"net::ERR_(CONNECTION_(REFUSED|RESET|CLOSED|ABORTED)|EMPTY_RESPONSE|SOCKET_NOT_CONNECTED)")


def browser() -> str | None:
    """The system's Chromium where there is one; None means the one Playwright keeps."""
    return next((str(path) for path in map(Path, ("/usr/bin/chromium", "/usr/bin/chromium-browser")) if path.exists()), None)


class Phone:
    """One person's phone."""

    def __init__(self, playwright: Playwright, profile: Path) -> None:
        self.playwright, self.profile = playwright, profile
        self.context: BrowserContext | None = None
        self.is_struck = False  # killed, and not opened again since
        self.complaints: list[str] = []  # errors of the console and of the page's scripts

    def open(self, url: str, *, dark: bool = False, microphone: Path | None = None,
             refuse_microphone: bool = False, before: str = "") -> Page:
        """Opens the browser at `url`. `microphone`: a WAV heard once, from its start, each time the app begins to listen.
        `refuse_microphone`: there is one, and its owner says no. `before`: script that runs ahead of every page."""
        flags = list(QUIET)
        if microphone:
            flags += ["--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream",
                      f"--use-file-for-fake-audio-capture={microphone}%noloop"]
        if refuse_microphone:
            flags += ["--use-fake-device-for-media-stream", "--deny-permission-prompts"]
        self.context = self.playwright.chromium.launch_persistent_context(
            str(self.profile), executable_path=browser(), headless=True, args=flags, viewport=SCREEN, has_touch=True,
            is_mobile=True, device_scale_factor=2, color_scheme="dark" if dark else "light", locale="en-GB",
            timezone_id=None if WEST_OF_UTC_H is None else f"Etc/GMT{WEST_OF_UTC_H:+d}")
        self.is_struck = False
        self.context.set_default_timeout(PATIENCE_MS)
        if before:
            self.context.add_init_script(before)
        page = self.context.pages[0] if self.context.pages else self.context.new_page()
        page.on("console", self._listen)
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        if SLOWER:
            self.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": float(SLOWER)})
        page.goto(url)
        return page

    def kill(self) -> None:
        """Ends every process of this browser at once, as when a phone runs out of memory or is dropped."""
        self.strike()
        self.close()
        for lock in self.profile.glob("Singleton*"):
            lock.unlink(missing_ok=True)

    def strike(self) -> None:
        """The blow alone, which may come from any thread; `kill` clears up behind it."""
        self.is_struck = True
        marker = f"--user-data-dir={self.profile}"
        for entry in Path("/proc").iterdir():
            if entry.name.isdigit():
                try:
                    if marker in (entry / "cmdline").read_bytes().decode(errors="replace"):
                        os.kill(int(entry.name), signal.SIGKILL)
                except OSError:
                    continue  # it ended by itself meanwhile

    def close(self) -> None:
        """Puts the phone away; one that was killed is put away already."""
        if self.context:
            try:
                self.context.close()
            except Error:
                pass
            self.context = None

    def words(self) -> str:
        """Address and words of every open page, and what went wrong on it."""
        pages = [f"{page.url}\n{page.locator('body').inner_text()}" for page in self.context.pages] if self.context and not self.is_struck else []
        return "\n".join([*pages, *self.complaints])

    def _listen(self, message: ConsoleMessage) -> None:
        if message.type == "error" and not UNREACHABLE.search(message.text):
            self.complaints.append(f"{message.text} ({message.location['url']})")
