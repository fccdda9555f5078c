"""The real server and a real browser at phone size, both of which a test may kill and start again."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, Playwright, sync_playwright

ROOT = Path(__file__).resolve().parent.parent
PHONE = {"width": 360, "height": 740}
QUIET = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", "--disable-sync"]


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


class Server:
    """`barnlight serve` as a process of its own on a store of its own."""

    def __init__(self, data: Path, demo: bool) -> None:
        self.data, self.demo, self.port = data, demo, free_port()
        self.url = f"http://localhost:{self.port}"
        self.log = data / "serve.log"
        self.process: subprocess.Popen | None = None

    def start(self) -> None:
        self.data.mkdir(parents=True, exist_ok=True)
        words = [sys.executable, "-m", "barnlight", "serve", "--port", str(self.port), "--data", str(self.data)]
        environment = os.environ | {"PYTHONPATH": str(ROOT / "backend"), "PYTHONUNBUFFERED": "1"}
        self.process = subprocess.Popen(words + (["--demo"] if self.demo else []), env=environment,
                                        stdout=self.log.open("ab"), stderr=subprocess.STDOUT)
        for _ in range(600):
            try:
                with urllib.request.urlopen(self.url + "/healthz", timeout=5):
                    return
            except (urllib.error.URLError, ConnectionError):
                if self.process.poll() is not None:
                    break
                time.sleep(0.1)
        raise RuntimeError("The server did not start:\n" + self.log.read_text())

    def kill(self) -> None:
        """As a power cut would: no word of warning."""
        if self.process and self.process.poll() is None:
            self.process.send_signal(signal.SIGKILL)
            self.process.wait()

    def pair_code(self) -> str:
        """A fresh pairing code, made by the command a person would use."""
        words = [sys.executable, "-m", "barnlight", "pair", "--data", str(self.data)]
        environment = os.environ | {"PYTHONPATH": str(ROOT / "backend"), "BARNLIGHT_PORT": str(self.port)}
        said = subprocess.run(words, env=environment, capture_output=True, text=True, check=True).stdout
        found = re.search(r"#/pair/([A-Z0-9]{4}-?[A-Z0-9]{4})", said)
        assert found, said
        return found.group(1)


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    """An empty server."""
    running = Server(tmp_path / "server", demo=False)
    running.start()
    yield running
    running.kill()


@pytest.fixture(scope="module")
def demo_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A server that holds the sample sessions."""
    running = Server(tmp_path_factory.mktemp("demo"), demo=True)
    running.start()
    yield running
    running.kill()


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    with sync_playwright() as running:
        yield running


class Phone:
    """A browser with a profile that outlives it, so that it can be killed and opened again."""

    def __init__(self, playwright: Playwright, profile: Path) -> None:
        self.playwright, self.profile = playwright, profile
        self.context: BrowserContext | None = None

    def open(self, url: str, *, dark: bool = False, fake_microphone: Path | None = None) -> Page:
        flags = list(QUIET)
        if fake_microphone:
            flags += ["--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream",
                      f"--use-file-for-fake-audio-capture={fake_microphone}%noloop"]
        self.context = self.playwright.chromium.launch_persistent_context(
            str(self.profile), executable_path=browser(), headless=True, args=flags, viewport=PHONE, has_touch=True,
            is_mobile=True, device_scale_factor=2, color_scheme="dark" if dark else "light", accept_downloads=True)
        self.context.set_default_timeout(15_000)
        page = self.context.pages[0] if self.context.pages else self.context.new_page()
        page.goto(url)
        return page

    def kill(self) -> None:
        """End every process of this browser at once, as a phone does when it runs out of memory or is dropped."""
        marker = f"--user-data-dir={self.profile}"
        for entry in Path("/proc").iterdir():
            if entry.name.isdigit():
                try:
                    if marker in (entry / "cmdline").read_bytes().decode(errors="replace"):
                        os.kill(int(entry.name), signal.SIGKILL)
                except (OSError, ProcessLookupError):
                    continue
        if self.context:
            try:
                self.context.close()
            except Exception:  # noqa: BLE001 - its other end has just been killed
                pass
        for lock in self.profile.glob("Singleton*"):
            lock.unlink(missing_ok=True)

    def close(self) -> None:
        if self.context:
            self.context.close()
            self.context = None


def browser() -> str | None:
    """The system's Chromium where there is one; None means the one Playwright keeps."""
    return next((str(path) for path in map(Path, ("/usr/bin/chromium", "/usr/bin/chromium-browser")) if path.exists()), None)


@pytest.fixture
def phone(playwright: Playwright, tmp_path: Path) -> Iterator[Callable[[str], Phone]]:
    """Makes phones by name: each has a profile of its own."""
    made: list[Phone] = []

    def make(name: str = "first") -> Phone:
        made.append(Phone(playwright, tmp_path / f"phone-{name}"))
        return made[-1]

    yield make
    for each in made:
        try:
            each.close()
        except Exception:  # noqa: BLE001 - a killed browser cannot be closed again
            pass
