"""What most Python tests stand on: a store in a folder of its own, and a server over it."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from hypothesis import settings
from phones import Phone
from report_bundle import Book, plant_everything

from barnlight.app import create_app
from barnlight.config import Config
from barnlight.services import Services

# The same examples every time and no deadline: nothing fails by chance or for a busy machine. New ones: --hypothesis-profile=default.
settings.load_profile("ci")


@pytest.fixture
def data_dir(tmp_path: Path) -> Path:
    """An empty folder for the store."""
    return tmp_path / "store"


@pytest.fixture
def config(data_dir: Path) -> Config:
    """Settings of a test server; limits on guessing are off, tests that look at them turn them on."""
    return Config(data_dir=data_dir, rate_limits=False)


@pytest.fixture
def services(config: Config) -> Iterator[Services]:
    """The opened store."""
    opened = Services.open(config)
    yield opened
    opened.database.close()


@pytest.fixture
def app(services: Services) -> Flask:
    """The whole server."""
    built = create_app(services)
    built.testing = True
    return built


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    """A caller that is not paired."""
    return app.test_client()


@pytest.fixture
def book(app: Flask) -> Book:
    """A book on a phone that is paired."""
    return Book(Phone(app).pair())


@pytest.fixture
def made(book: Book) -> dict[str, Any]:
    """That book with everything in it."""
    return plant_everything(book)
