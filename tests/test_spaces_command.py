"""Several books on one server by command: begin one, list them, let phones into the right one, move and erase within it."""

from __future__ import annotations

import re
import secrets
from pathlib import Path

import pytest
from flask import Flask
from phones import Phone

from barnlight.cli import main
from barnlight.services import Services
from barnlight.store import spaces


@pytest.fixture
def store(services: Services) -> list[str]:
    """The options that name the test's store."""
    return ["--data", str(services.config.data_dir)]


def code_for(name: str, store: list[str], capsys: pytest.CaptureFixture) -> str:
    assert main(["pair", "--space", name, *store]) == 0
    return re.search(r"#/pair/(\S+)", capsys.readouterr().out).group(1)


def test_a_code_belongs_to_its_book_and_people_of_one_shop_share_it(app: Flask, store: list[str], capsys: pytest.CaptureFixture) -> None:
    assert main(["space", "add", " The  shop ", *store]) == 0
    assert "'The shop'" in capsys.readouterr().out
    one, two = (Phone(app, name).pair(code_for("the shop", store, capsys)) for name in ("Counter", "Workshop"))
    home = Phone(app, "Kitchen").pair()
    assert one.space == two.space != home.space
    one.push(one.edit("session", secrets.token_hex(16), "title", "For the shop"))
    assert [change["value"] for change in two.pull()["changes"]] == ["For the shop"]
    assert home.pull()["changes"] == []
    assert {each["name"] for each in two.get("/api/devices").json} == {"Counter", "Workshop"}
    # Who is in lets the next one in, into the same book.
    assert Phone(app).pair(two.post("/api/pair/codes").json["code"]).space == one.space
    assert main(["space", "list", *store]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [re.sub(r"^[0-9a-f]{8}  ", "", line) for line in lines] == ["Home  1 devices, 0 changes", "The shop  3 devices, 1 changes"]


def test_a_phone_can_move_from_one_book_to_another(app: Flask, store: list[str], capsys: pytest.CaptureFixture) -> None:
    main(["space", "add", "Second", *store])
    phone = Phone(app).pair()
    first = phone.space
    phone.pair(code_for("Second", store, capsys))
    assert phone.get("/api/me").json["space_name"] == "Second" and phone.space != first


def test_books_are_named_clearly(services: Services, store: list[str], capsys: pytest.CaptureFixture) -> None:
    assert main(["space", "add", "Shop", *store]) == 0
    for name, words in (("SHOP", "already"), ("  ", "1 to 120"), ("x" * 121, "1 to 120"), ("a\x1b[2Jb", "1 to 120")):
        assert main(["space", "add", name, *store]) == 1
        assert words in capsys.readouterr().err
    assert main(["pair", "--space", "Stall", *store]) == 1
    said = capsys.readouterr().err
    assert "no book called 'Stall'" in said and "Home" in said and "Shop" in said
    with services.database.write() as db:
        shop = spaces.find(db, "shop")
        assert spaces.find(db, shop.id[:4]).id == shop.id
        spaces.make(db, "shop", services.now_ms())  # as a restored backup may bring it
    assert main(["pair", "--space", "shop", *store]) == 1
    assert "More than one book" in capsys.readouterr().err
    assert main(["pair", "--space", shop.id[:8], *store]) == 0


def test_export_import_and_erase_work_within_one_book(app: Flask, store: list[str], tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    for name in ("Shop", "Copy"):
        main(["space", "add", name, *store])
    phone, home = Phone(app).pair(code_for("Shop", store, capsys)), Phone(app).pair()
    for each in (phone, home):
        each.push(each.edit("session", secrets.token_hex(16), "title", "Barn"))
    out = str(tmp_path / "shop.zip")
    assert main(["export", out, "--space", "Shop", *store]) == 0
    assert main(["import", out, "--space", "Copy", *store]) == 0
    assert "1 changes are new" in capsys.readouterr().out
    assert main(["erase", "session", "Barn", "--space", "Shop", "--yes", *store]) == 0
    assert [each.get("/api/changes").json["changes"][0]["kind"] for each in (phone, home)] == ["erasure", "session"]
