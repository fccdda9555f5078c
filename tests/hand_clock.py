"""A server whose clock a test turns by hand: import `hand` and `services` to stand on it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from barnlight.config import Config
from barnlight.services import Services


class Hand:
    """A clock that a test turns."""

    def __init__(self) -> None:
        self.ms = 1_800_000_000_000

    def __call__(self) -> int:
        return self.ms


@pytest.fixture
def hand() -> Hand:
    return Hand()


@pytest.fixture
def services(config: Config, hand: Hand) -> Iterator[Services]:
    """The opened store, in place of the usual one."""
    opened = Services.open(config, hand)
    yield opened
    opened.database.close()
