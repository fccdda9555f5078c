"""Exports as one zip: phone and server read each other's, commands say what happened, hostile zips are refused."""

from __future__ import annotations

import json
import secrets
import struct
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from phones import Phone, a_photo, sha256

from barnlight.cli import main
from barnlight.errors import BarnlightError
from barnlight.exchange import sources
from barnlight.exchange.exporting import document_of, export_zip
from barnlight.exchange.form import DOCUMENT
from barnlight.exchange.importing import import_zip
from barnlight.services import Services
from barnlight.store import changes, records
from barnlight.sync import own

PHONE_BOOK = Path(__file__).parent / "files" / "books" / "phone_book.zip"
GOOD: dict[str, Any] = {"format": "barnlight-export", "version": 1, "changes": [], "media": []}


@pytest.fixture
def phone(app: Flask) -> Phone:
    return Phone(app).pair()


def as_sent(change: dict[str, Any]) -> dict[str, Any]:
    return {name: part for name, part in change.items() if name not in ("number", "space")}


def history(services: Services, space: str) -> list[dict[str, Any]]:
    with services.database.read() as db:
        return [as_sent(change) for change in changes.every(db, space)]


def test_a_book_saved_by_a_phone_is_read_whole(services: Services) -> None:
    space = services.space()
    done = import_zip(services, space, PHONE_BOOK)
    assert (done.changes, done.media, done.media_missing, done.refused) == ({"ok": 11, "deferred": 1}, 1, [], [])
    with zipfile.ZipFile(PHONE_BOOK) as archive:
        written = json.loads(archive.read(DOCUMENT))
    assert history(services, space) == [as_sent(change) for change in written["changes"]]
    with services.database.read() as db:
        [session] = records.load(db, space, "session")
    assert records.plain(session)["title"] == "Barn on the hill"
    assert import_zip(services, space, PHONE_BOOK).changes == {"duplicate": 12}
    # What the server writes of it has the same parts as what the phone wrote.
    ours = document_of(services, space, None)
    assert ours.keys() == written.keys()
    assert [change.keys() for change in ours["changes"]] == [change.keys() for change in written["changes"]]
    assert ours["media"] == [{**entry, "made_by_code": True} for entry in written["media"]]


def test_a_whole_book_goes_out_and_comes_back(phone: Phone, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    import_zip(phone.services, phone.space, PHONE_BOOK)
    report = secrets.token_hex(16)
    with phone.services.database.write() as db:
        own.write(db, phone.space, "publication", report, {"title": "Stays with its server"}, phone.services.now_ms())
    store, out = str(phone.services.config.data_dir), tmp_path / "out" / "book.zip"
    assert main(["export", str(out), "--data", store]) == 0
    assert main(["export", str(out), "--data", store]) == 1
    assert "is there already" in capsys.readouterr().err
    assert [path.name for path in out.parent.iterdir()] == ["book.zip"]
    assert main(["import", str(out), "--data", str(tmp_path / "other")]) == 0
    said = capsys.readouterr().out
    assert "12 changes are new" in said and "1 changes speak of reports" in said
    assert main(["import", str(out), "--data", store]) == 0
    assert "0 changes are new, 12 were here already" in capsys.readouterr().out


def test_one_session_goes_out_by_its_title_or_id(phone: Phone, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    first, second = "a" * 32, "b" * 32
    phone.push(phone.edit("session", first, "title", "Barn"), phone.edit("session", second, "title", "Shop"))
    store = str(phone.services.config.data_dir)
    for name, typed in (("title.zip", "barn"), ("begin.zip", "aaaa")):
        assert main(["export", str(tmp_path / name), "--session", typed, "--data", store]) == 0
        with zipfile.ZipFile(tmp_path / name) as archive:
            assert {change["record"] for change in json.loads(archive.read(DOCUMENT))["changes"]} == {first}
    capsys.readouterr()
    assert main(["export", str(tmp_path / "none.zip"), "--session", "Attic", "--data", store]) == 1
    assert "aaaaaaaa Barn; bbbbbbbb Shop" in capsys.readouterr().err
    phone.push(phone.edit("session", second, "title", "Barn"))
    assert main(["export", str(tmp_path / "two.zip"), "--session", "Barn", "--data", store]) == 1
    assert "More than one session" in capsys.readouterr().err


def test_a_session_without_a_title_goes_out_by_its_place_and_is_listed_with_its_day(phone: Phone, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    edit, session = phone.edit, "c" * 32
    phone.push(edit("session", session, "place", "Upper barn"), edit("session", session, "day", "2026-11-20"))
    store = str(phone.services.config.data_dir)
    assert main(["export", str(tmp_path / "none.zip"), "--session", "Attic", "--data", store]) == 1
    assert "There are: cccccccc Upper barn 2026-11-20." in capsys.readouterr().err
    assert main(["export", str(tmp_path / "place.zip"), "--session", "upper barn", "--data", store]) == 0
    seller = "d" * 32
    phone.push(edit("seller", seller, "name", "Wendeline Ostrop"), edit("session", session, "seller", seller))
    assert main(["erase", "seller", "Wendeline Ostrop", "--data", store]) == 0
    assert "the session 'Upper barn' stays" in capsys.readouterr().out


def zip_of(path: Path, files: dict[str, bytes], packing: int = zipfile.ZIP_DEFLATED) -> Path:
    with zipfile.ZipFile(path, "w", packing) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return path


def a_book(**more: Any) -> bytes:
    return json.dumps({**GOOD, **more}).encode()


def listed(data: bytes) -> list[dict[str, Any]]:
    return [{"hash": sha256(data), "type": "image/jpeg", "bytes": len(data)}]


def bomb(path: Path) -> Path:
    """A book of 60 MiB of spaces in 60 kB."""
    return zip_of(path, {DOCUMENT: a_book() + b" " * (60 * 1024 * 1024)})


def lying_bomb(path: Path) -> Path:
    """The same, but every header says that it is 100 bytes long."""
    zip_of(path, {DOCUMENT: a_book() + b" " * (60 * 1024 * 1024)})
    data = bytearray(path.read_bytes())
    for mark, size_at in ((b"PK\x03\x04", 22), (b"PK\x01\x02", 24)):
        struct.pack_into("<I", data, data.index(mark) + size_at, 100)
    path.write_bytes(bytes(data))
    return path


def crowded(path: Path) -> Path:
    return zip_of(path, {f"{count}.txt": b"" for count in range(sources.MOST_ENTRIES + 1)})


def long_directory(path: Path) -> Path:
    """Says that it has two files, in a directory of 3 GB."""
    zip_of(path, {DOCUMENT: a_book()})
    data = bytearray(path.read_bytes())
    struct.pack_into("<I", data, data.rindex(sources.END_MARK) + 12, 3_000_000_000)
    path.write_bytes(bytes(data))
    return path


def locked(path: Path) -> Path:
    """Marked as encrypted."""
    zip_of(path, {DOCUMENT: a_book()})
    data = bytearray(path.read_bytes())
    for mark, flags_at in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        struct.pack_into("<H", data, data.index(mark) + flags_at, 1)
    path.write_bytes(bytes(data))
    return path


def spoilt(path: Path) -> Path:
    data = a_photo()
    zip_of(path, {DOCUMENT: a_book(media=listed(data)), f"media/{sha256(data)}.jpg": data}, zipfile.ZIP_STORED)
    whole = path.read_bytes()
    path.write_bytes(whole.replace(data[30:60], bytes(30)))
    return path


def a_page(path: Path) -> Path:
    """A web page that says it is a photo."""
    data = b"<script>alert(1)</script>"
    return zip_of(path, {DOCUMENT: a_book(media=listed(data)), f"media/{sha256(data)}.jpg": data})


def climbing(path: Path) -> Path:
    data = a_photo()
    entry = {"hash": "../../" + "0" * 58, "type": "image/jpeg", "bytes": len(data)}
    return zip_of(path, {DOCUMENT: a_book(media=[entry]), "media/../../" + "0" * 58 + ".jpg": data})


HOSTILE: dict[str, tuple[Callable[[Path], Path], str]] = {
    "a bomb": (bomb, "far more than"),
    "a bomb that lies": (lying_bomb, "damaged|not JSON"),
    "too many files": (crowded, "more than 10000 files"),
    "a directory that never ends": (long_directory, "more than 10000 files"),
    "a locked zip": (locked, "damaged"),
    "a spoilt photo": (spoilt, "damaged"),
    "a page as photo": (a_page, "not a JPEG"),
    "a path out of the folder": (climbing, "without a hash"),
    "something else": (lambda path: zip_of(path, {"holiday.txt": b"sun"}), "not an export"),
    "no zip": (lambda path: path.write_bytes(b"GIF89a, surely") and path, "not a zip"),
    "an empty file": (lambda path: path.write_bytes(b"") or path, "not a zip"),
    "only an end": (lambda path: path.write_bytes(sources.END_MARK) and path, "not a zip"),
}


@pytest.mark.parametrize("case", HOSTILE)
def test_a_hostile_zip_is_refused_in_words_and_leaves_nothing(services: Services, tmp_path: Path, case: str) -> None:
    make, words = HOSTILE[case]
    with pytest.raises(BarnlightError, match=words) as refused:
        import_zip(services, services.space(), make(tmp_path / "hostile.zip"))
    assert refused.value.message.endswith(".")
    assert history(services, services.space()) == []
    assert [path for path in services.config.media_dir.rglob("*") if path.is_file()] == []
    assert {path.name for path in tmp_path.iterdir()} == {"hostile.zip", "store"}


def test_strange_names_in_a_zip_are_ignored(services: Services, tmp_path: Path) -> None:
    path = zip_of(tmp_path / "odd.zip", {DOCUMENT: a_book(), "../outside": b"x", "/etc/outside": b"x", "media/a.html": b"x"})
    assert import_zip(services, services.space(), path).changes == {}
    assert {path.name for path in tmp_path.iterdir()} == {"odd.zip", "store"}


def test_a_photo_still_on_a_phone_is_listed_and_reported(phone: Phone, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    data = a_photo()
    phone.push(phone.edit("photo", secrets.token_hex(16), "file", {**listed(data)[0], "width": 64, "height": 48}))
    out = tmp_path / "book.zip"
    assert [entry["hash"] for entry in export_zip(phone.services, phone.space, out)["media"]] == [sha256(data)]
    assert import_zip(phone.services, phone.space, out).media_missing == [sha256(data)]
