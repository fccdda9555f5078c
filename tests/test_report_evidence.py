"""A file of a report is known again by its hash, and one that was changed is not."""

from __future__ import annotations

import hashlib
import io
import json
import re

import pytest
from flask import Flask
from hand_clock import Hand, hand, services  # noqa: F401 - fixtures
from report_bundle import Book, ordered, path_of

from barnlight.cli import main
from barnlight.report.pdf import is_available
from barnlight.services import Services
from barnlight.store import publications


@pytest.fixture
def files(app: Flask, book: Book, made: dict) -> dict[str, bytes]:
    """What a buyer can take from a link: page, one file, photo, PDF."""
    path, buyer = path_of(ordered(book, piece=made["piece"])), app.test_client()
    page = buyer.get(path).text
    parts = {"page": "", "one file": "report.html", "photo": re.search(r"photo/[0-9a-f]{64}\.jpg", page)[0]} | ({"pdf": "report.pdf"} if is_available() else {})
    return {name: buyer.get(path + part).data for name, part in parts.items()} | {"stored photo": made["photo"], "recording": made["sound"]}


def asked(app: Flask, data: bytes) -> str:
    answer = app.test_client().post("/evidence/", data={"file": (io.BytesIO(data), "any name")}, content_type="multipart/form-data")
    assert answer.status_code == 200
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", answer.text))


def test_each_file_that_a_link_gave_out_is_known_again(app: Flask, files: dict[str, bytes]) -> None:
    for name, data in files.items():
        said = asked(app, data)
        assert "Yes, as published" in said and re.search(r"of version 1 of report [0-9A-Z]{4}-[0-9A-Z]{4}, published 15 January 2027", said), name


def test_a_file_with_one_byte_changed_is_not(app: Flask, files: dict[str, bytes]) -> None:
    for name, data in files.items():
        middle = len(data) // 2
        said = asked(app, data[:middle] + bytes([data[middle] ^ 1]) + data[middle + 1 :])
        assert "Yes" not in said and "is not one that this server published" in said, name


def test_a_page_with_a_word_changed_names_its_version_and_is_told_apart(app: Flask, files: dict[str, bytes]) -> None:
    said = asked(app, files["one file"].replace(b"Haze", b"Dust"))
    assert "No" in said and re.search(r"It names version 1 of report [0-9A-Z-]{9}, but it is not that file", said)


def test_no_file_and_a_strange_one_get_an_answer(app: Flask, files: dict[str, bytes]) -> None:
    assert "is not one that this server published" in asked(app, b"something else")
    empty = app.test_client().post("/evidence/", data={}, content_type="multipart/form-data")
    assert empty.status_code == 200 and "No file came" in empty.text
    assert app.test_client().get("/evidence/").status_code == 200


def test_the_snapshot_is_the_hash_of_the_plain_data_as_documented(services: Services, files: dict[str, bytes]) -> None:  # noqa: F811
    """Source: FIPS 180-4 by hashlib over JSON as RFC 8259 writes it, names sorted, no spaces."""
    stated = re.search(rb"plain data</b><code>([0-9a-f]{64})<", files["page"])[1].decode()
    with services.database.read() as db:
        [made] = [one for one in publications.about(db, services.space(), _about(db))]
        plain = json.dumps({**made.view, "snapshot": ""}, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    assert hashlib.sha256(plain.encode()).hexdigest() == stated


def _about(db) -> str:
    from sqlalchemy import select

    from barnlight.store.models import Publication

    return db.scalar(select(Publication.about))


def test_one_file_needs_nothing_beside_it(files: dict[str, bytes]) -> None:
    text = files["one file"].decode()
    assert "data:image/jpeg;base64," in text and "<style>" in text
    assert not re.search(r'(src|href)="(?!#|data:image/jpeg;base64,)', text), "nothing is fetched and no link leads out"
    assert "<script" not in text


def test_the_command_says_the_same(services: Services, files: dict[str, bytes], tmp_path, capsys: pytest.CaptureFixture[str]) -> None:  # noqa: F811
    same, other = tmp_path / "same.html", tmp_path / "other.html"
    same.write_bytes(files["one file"])
    other.write_bytes(files["one file"].replace(b"Haze", b"Dust"))
    data = ["--data", str(services.config.data_dir)]
    assert main(["evidence", str(same), *data]) == 0
    assert "the one-file copy of version 1 of report" in capsys.readouterr().out
    assert main(["evidence", str(same), str(other), *data]) == 1
    assert "NOT as published. It names version 1" in capsys.readouterr().out
    assert main(["evidence", str(tmp_path / "nothing"), *data]) == 1
    assert "cannot be read" in capsys.readouterr().err
