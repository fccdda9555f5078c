"""A published report never changes: stores of earlier days, opened by the code of today, give out the very bytes they gave then."""

from __future__ import annotations

import hashlib
import json
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from phones import Phone

from barnlight import catalogue
from barnlight.app import create_app
from barnlight.config import Config
from barnlight.report import publishing, render
from barnlight.services import Services

DAYS = sorted(one.parent for one in (Path(__file__).parent / "files" / "reports").glob("*/served.json"))


@pytest.fixture(params=DAYS, ids=lambda day: day.name)
def old(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[Services, dict]]:
    """A store of that day, at its hour, and what it gave out."""
    known = json.loads((request.param / "served.json").read_text("utf-8"))
    with zipfile.ZipFile(request.param / "store.zip") as store:
        store.extractall(tmp_path / "store")
    services = Services.open(Config(data_dir=tmp_path / "store", rate_limits=False), lambda: known["now_ms"])
    yield services, known
    services.database.close()


def test_there_are_stores_of_earlier_days() -> None:
    assert DAYS
    assert all(len(json.loads((day / "served.json").read_text("utf-8"))["served"]) >= 16 for day in DAYS)


def changed(*_: object, **__: object) -> None:
    raise AssertionError("a published report was made anew")


def test_old_reports_are_given_out_as_they_were(old: tuple[Services, dict], monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither the template nor the catalogue of today has any part in it."""
    services, known = old
    buyer = create_app(services).test_client()
    for module, name in ((render, "page"), (render, "style"), (publishing, "page"), (publishing, "style"), (publishing, "report_view"), (catalogue, "load")):
        monkeypatch.setattr(module, name, changed)
    for path, sha256 in known["served"].items():
        answer = buyer.get(path)
        assert answer.status_code == 200, path
        assert hashlib.sha256(answer.data).hexdigest() == sha256, f"{path.split('/', 3)[3]} is not what was published"


def test_a_new_version_says_what_changed_since_an_old_one(old: tuple[Services, dict]) -> None:
    services, known = old
    phone = Phone(create_app(services)).pair()
    answer = phone.post("/api/reports", {"piece": known["piece"]})
    assert answer.status_code == 201, answer.text
    page = phone.get("/r/" + answer.json["link"].rstrip("/").rsplit("/", 1)[1] + "/page").text
    assert f"What changed since version {answer.json['version'] - 1}" in page
    assert "Traceback" not in page and page.count('id="since"') == 1
