"""A backup made while the server writes is whole, damaged ones are refused, and after a restore devices bring back what it lacked."""

from __future__ import annotations

import json
import os
import secrets
import threading
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from phones import Phone, a_photo, sha256

from barnlight.app import create_app
from barnlight.backup import form
from barnlight.backup.writing import write_backup
from barnlight.cli import main
from barnlight.config import Config
from barnlight.errors import BarnlightError
from barnlight.exchange.exporting import export_zip
from barnlight.services import Services
from barnlight.store import changes, spaces, verify


@pytest.fixture
def phone(app: Flask) -> Phone:
    """A phone that has pushed a title and a photo."""
    phone, data = Phone(app).pair(), a_photo()
    assert phone.put_media(data).status_code == 200
    file = {"hash": sha256(data), "type": "image/jpeg", "bytes": len(data), "width": 64, "height": 48}
    phone.push(phone.edit("session", secrets.token_hex(16), "title", "Barn"), phone.edit("photo", secrets.token_hex(16), "file", file))
    return phone


@pytest.fixture
def reopen(tmp_path: Path) -> Iterator[Callable[[Path], Services]]:
    """Opens stores and closes them at the end."""
    opened: list[Services] = []

    def open_(folder: Path) -> Services:
        opened.append(Services.open(Config(data_dir=folder, rate_limits=False)))
        return opened[-1]

    yield open_
    for services in opened:
        services.database.close()


def history(services: Services, space: str) -> list[dict[str, Any]]:
    with services.database.read() as db:
        return changes.since(db, space, 0, 100_000)


def faults(services: Services) -> list[str]:
    with services.database.read() as db:
        return [fault for space in spaces.every(db) for fault in verify.faults(db, services.blobs, space)]


def moved(phone: Phone, services: Services) -> Phone:
    """The same phone, at the server that was put back: it still has its cookie."""
    there = Phone(create_app(services))
    there.device, there.space = phone.device, phone.space
    there.http.set_cookie("barnlight", phone.http.get_cookie("barnlight").value)
    return there


def test_a_backup_made_while_phones_write_is_one_moment(phone: Phone, tmp_path: Path, reopen: Callable) -> None:
    done, sent = threading.Event(), []

    def write() -> None:
        while not done.is_set():
            sent.append(phone.edit("session", secrets.token_hex(16), "title", "Busy"))
            assert phone.push(sent[-1])[0]["result"] == "ok"

    writer = threading.Thread(target=write)
    writer.start()
    try:
        made = [write_backup(phone.services, tmp_path / f"{count}.zip") for count in range(3)]
    finally:
        done.set()
        writer.join()
    assert len(sent) > 0
    whole = [change["id"] for change in history(phone.services, phone.space)]
    for count, written in enumerate(made):
        assert main(["restore", str(written.path), "--data", str(tmp_path / f"restored {count}")]) == 0
        back = reopen(tmp_path / f"restored {count}")
        assert faults(back) == []
        ids = [change["id"] for change in history(back, phone.space)]
        assert len(ids) >= 2 and ids == whole[: len(ids)]


@pytest.mark.skipif(os.name != "posix", reason="2026-11-25: other systems have no such bits; folders keep their own rules there")
def test_what_holds_everything_is_for_its_owner_alone(phone: Phone, tmp_path: Path) -> None:
    services = phone.services
    export_zip(services, phone.space, tmp_path / "export.zip")
    made = write_backup(services, tmp_path / "backup.zip").path
    assert main(["restore", str(made), "--data", str(tmp_path / "new")]) == 0
    open_to_others = {path.name for path in tmp_path.rglob("*") if path.is_file() and path.stat().st_mode & 0o077 and "derived" not in path.parts}
    assert open_to_others == set()


def test_nothing_is_lost_that_was_made_after_the_backup(phone: Phone, tmp_path: Path, reopen: Callable) -> None:
    before = history(phone.services, phone.space)
    epoch = phone.pull()["epoch"]
    backup = write_backup(phone.services, tmp_path / "copy.zip").path
    later, photo = phone.edit("session", before[0]["record"], "title", "Named after the backup", base=before[0]["id"]), a_photo()
    phone.push(later)
    phone.put_media(photo)
    assert main(["restore", str(backup), "--data", str(tmp_path / "new")]) == 0
    back = reopen(tmp_path / "new")
    there = moved(phone, back)
    page = there.pull()
    assert page["epoch"] != epoch and [change["id"] for change in page["changes"]] == [change["id"] for change in before]
    # The protocol, section Epoch: the device offers all it holds.
    held = [{name: part for name, part in change.items() if name != "number"} for change in history(phone.services, phone.space)]
    assert [result["result"] for result in there.push(*held)] == ["duplicate", "duplicate", "ok"]
    assert there.post("/api/media/known", {"hashes": [sha256(photo)]}).json["known"] == []
    assert there.put_media(photo).status_code == 200
    assert [change["id"] for change in history(back, phone.space)] == [change["id"] for change in history(phone.services, phone.space)]
    assert faults(back) == []


def test_what_is_in_the_way_is_kept_beside(phone: Phone, tmp_path: Path, capsys: pytest.CaptureFixture, reopen: Callable) -> None:
    place = phone.services.config.data_dir
    backup = write_backup(phone.services, tmp_path).path
    phone.push(phone.edit("session", secrets.token_hex(16), "title", "Later"))
    assert main(["restore", str(backup), "--data", str(place)]) == 1
    assert "is not empty" in capsys.readouterr().err
    assert main(["restore", str(backup), "--data", str(place), "--replace"]) == 1
    assert "The server is running" in capsys.readouterr().err
    phone.services.database.close()
    key = phone.services.config.tls_dir / "authority.key"
    key.parent.mkdir(mode=0o700)
    key.touch(mode=0o600)
    assert main(["restore", str(backup), "--data", str(place), "--replace"]) == 0
    assert oct(key.stat().st_mode & 0o777) == "0o600", "phones go on trusting this computer"
    [before] = place.parent.glob(f"{place.name}-before-*")
    assert len(history(reopen(place), phone.space)) == 2
    assert len(history(reopen(before), phone.space)) == 3


def test_a_store_put_back_by_hand_lets_devices_offer_again(phone: Phone) -> None:
    epoch = phone.pull()["epoch"]
    assert main(["restore", "--by-hand", "--data", str(phone.services.config.data_dir)]) == 0
    assert phone.pull()["epoch"] != epoch


def test_a_lost_photo_is_named_and_does_not_hold_up_the_rest(phone: Phone, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    [path] = (path for path in phone.services.config.media_dir.rglob("*") if path.is_file())
    path.write_bytes(b"spoilt")
    assert main(["backup", str(tmp_path / "copy.zip"), "--data", str(phone.services.config.data_dir)]) == 1
    assert path.name in capsys.readouterr().out
    assert form.check(tmp_path / "copy.zip")["missing"] == [path.name]


def test_a_backup_never_overwrites_and_leaves_nothing_half_done(phone: Phone, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "copies"
    folder.mkdir()
    there = write_backup(phone.services, folder / "copy.zip").path
    data = there.read_bytes()
    with pytest.raises(BarnlightError, match="is there already"):
        write_backup(phone.services, there)
    monkeypatch.setattr(form, "check", lambda path: (_ for _ in ()).throw(form.damaged("a bad disk")))
    with pytest.raises(BarnlightError, match="a bad disk"):
        write_backup(phone.services, folder / "other.zip")
    assert (there.read_bytes(), list(folder.iterdir())) == (data, [there])


def test_postgresql_is_sent_to_its_own_tool(tmp_path: Path, services: Services) -> None:
    elsewhere = Services(Config(data_dir=tmp_path, database_url="postgresql+psycopg://localhost/x"), services.database, services.blobs)
    with pytest.raises(BarnlightError) as refused:
        write_backup(elsewhere, tmp_path / "copy.zip")
    assert "pg_dump" in refused.value.hint


def rewritten(source: Path, target: Path, change: Callable[[dict[str, bytes]], None]) -> Path:
    """The backup with other contents."""
    with zipfile.ZipFile(source) as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    change(files)
    with zipfile.ZipFile(target, "w") as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return target


def in_manifest(**values: Any) -> Callable[[dict[str, bytes]], None]:
    return lambda files: files.update({form.MANIFEST: json.dumps({**json.loads(files[form.MANIFEST]), **values}).encode()})


def climbing(files: dict[str, bytes]) -> None:
    manifest = json.loads(files[form.MANIFEST])
    manifest["files"]["media/../../out"] = sha256(b"out")
    files.update({form.MANIFEST: json.dumps(manifest).encode(), "media/../../out": b"out"})


def first_photo(data: bytes | None) -> Callable[[dict[str, bytes]], None]:
    def change(files: dict[str, bytes]) -> None:
        name = next(name for name in files if form.media_of(name))
        files.pop(name) if data is None else files.update({name: data})

    return change


DAMAGED: dict[str, tuple[Callable[[dict[str, bytes]], None], str]] = {
    "no manifest": (lambda files: files.pop(form.MANIFEST), "list of files is missing"),
    "a manifest that is no JSON": (lambda files: files.update({form.MANIFEST: b"{"}), "list of files is missing"),
    "another format": (in_manifest(format="else"), "not a backup"),
    "a newer version": (in_manifest(version=2), "newer version"),
    "no list": (in_manifest(files=None), "list of files is missing"),
    "a path out of the folder": (climbing, "a file that no backup holds"),
    "another database": (lambda files: files.update({form.DATABASE: b"SQLite format 3\0"}), "database is not what was written"),
    "no database": (lambda files: files.pop(form.DATABASE), "is missing or cannot be read"),
    "another photo": (first_photo(b"else"), "is not what was written"),
    "a photo missing": (first_photo(None), "is missing or cannot be read"),
}


@pytest.mark.parametrize("case", DAMAGED)
def test_a_damaged_backup_is_refused_and_nothing_changes(phone: Phone, tmp_path: Path, case: str, capsys: pytest.CaptureFixture) -> None:
    change, words = DAMAGED[case]
    backup = rewritten(write_backup(phone.services, tmp_path).path, tmp_path / "damaged.zip", change)
    there = sorted(tmp_path.iterdir())
    assert main(["restore", str(backup), "--data", str(tmp_path / "new")]) == 1
    assert words in capsys.readouterr().err
    assert sorted(tmp_path.iterdir()) == there


def test_a_backup_cut_short_anywhere_is_refused(phone: Phone, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    whole = write_backup(phone.services, tmp_path).path.read_bytes()
    for part in range(0, 10):
        (tmp_path / "cut.zip").write_bytes(whole[: len(whole) * part // 10])
        assert main(["backup", "--check", str(tmp_path / "cut.zip"), "--data", str(tmp_path / "unused")]) == 1
        assert "damaged" in capsys.readouterr().err
