"""The real server and real phones (browsers at phone size), all of which a test may kill and start again."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from bench_phone import PATIENCE_MS, WEST_OF_UTC_H, Phone
from bench_server import Server
from playwright.sync_api import Playwright, expect, sync_playwright

expect.set_options(timeout=PATIENCE_MS)
if hasattr(time, "tzset"):  # not on Windows
    os.environ["TZ"] = f"NOON{WEST_OF_UTC_H:+d}"
    time.tzset()


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
    running = Server(tmp_path_factory.mktemp("demo") / "server", demo=True)
    running.start()
    yield running
    running.kill()


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """What drives the browsers."""
    with sync_playwright() as running:
        yield running


FAILED = pytest.StashKey[bool]()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item) -> Iterator[None]:
    """Remembers a failure, so that the phones can say what stood on them."""
    outcome = yield
    item.stash[FAILED] = item.stash.get(FAILED, False) or outcome.failed
    return outcome


@pytest.fixture
def phone(playwright: Playwright, tmp_path: Path, request: pytest.FixtureRequest) -> Iterator[Callable[..., Phone]]:
    """Makes phones by name: each has a profile of its own. After a failure the words on each are printed."""
    made: list[Phone] = []

    def make(name: str = "first") -> Phone:
        made.append(Phone(playwright, tmp_path / f"phone-{name}"))
        return made[-1]

    yield make
    for each in made:
        if request.node.stash.get(FAILED, False):
            print(f"\n{each.profile.name}: {each.words()}")
        each.close()
