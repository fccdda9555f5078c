"""What is erased is gone from history, records, reports, disk and devices, stays gone, and nothing else goes with it."""

from __future__ import annotations

import json
import secrets
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from phones import Phone, a_photo, sha256

from barnlight.backup.schedule import Schedule
from barnlight.backup.writing import write_backup
from barnlight.cli import main
from barnlight.config import Config
from barnlight.exchange.exporting import export_session, export_zip
from barnlight.exchange.form import DOCUMENT
from barnlight.exchange.importing import import_folder
from barnlight.services import Services
from barnlight.store import changes, devices, erased_list, publications, records, shares, spaces, verify


class Sale:
    """Two sessions at one seller's: a piece met in both, a piece met only in the first, photos, dealings, a report of each."""

    def __init__(self, phone: Phone) -> None:
        self.phone = phone
        names = ("seller", "first", "second", "both", "only", "visit_both", "visit_only", "visit_again", "photo", "other_photo", "spot", "dealing", "later_dealing")
        self.ids = {name: secrets.token_hex(16) for name in names}
        ids, edit = self.ids, phone.edit
        self.photo, self.shared = a_photo(), a_photo()
        assert [phone.put_media(data).status_code for data in (self.photo, self.shared)] == [200, 200]
        self.edits = [
            edit("seller", ids["seller"], "name", "SecretSeller"),
            edit("session", ids["first"], "title", "SecretBarn"),
            edit("session", ids["first"], "seller", ids["seller"]),
            edit("session", ids["second"], "title", "Shop"),
            edit("session", ids["second"], "seller", ids["seller"]),
            edit("piece", ids["both"], "title", "Camera of both"),
            edit("piece", ids["only"], "title", "SecretLens"),
            *self.visit("visit_both", "first", "both"),
            *self.visit("visit_only", "first", "only"),
            *self.visit("visit_again", "second", "both"),
            edit("photo", ids["photo"], "visit", ids["visit_only"]),
            edit("photo", ids["photo"], "file", file_of(self.photo)),
            edit("spot", ids["spot"], "photo", ids["photo"]),
            edit("photo", ids["photo"], "caption", "SecretCaption"),
            edit("photo", ids["other_photo"], "visit", ids["visit_again"]),
            edit("photo", ids["other_photo"], "file", file_of(self.shared)),
            edit("dealing", ids["dealing"], "seller", ids["seller"]),
            edit("dealing", ids["dealing"], "session", ids["first"]),
            edit("dealing", ids["dealing"], "note", "SecretDealing"),
            edit("dealing", ids["later_dealing"], "seller", ids["seller"]),
            edit("dealing", ids["later_dealing"], "note", "SecretGrudge"),
        ]
        assert {result["result"] for result in phone.push(*self.edits)} == {"ok"}
        self.reports = {name: self.report(kind, name) for kind, name in (("session", "first"), ("piece", "both"), ("session", "second"))}

    def visit(self, visit: str, session: str, piece: str) -> list[dict[str, Any]]:
        named = (("session", self.ids[session]), ("piece", self.ids[piece]))
        return [self.phone.edit("visit", self.ids[visit], field, value) for field, value in named]

    def report(self, kind: str, about: str) -> str:
        """The secret of a link to a frozen report; how one is made is not this file's matter."""
        services, view = self.phone.services, {"words": "SecretReport" if about != "second" else "Fine"}
        with services.database.write() as db:
            made = publications.add(
                db, self.phone.space, about=self.ids[about], about_kind=kind, version=1, title=f"Report {about}", view=view, html=view["words"], css="",
                media=[sha256(self.shared)] if about == "second" else [], now_ms=services.now_ms(),
            )
            return shares.make(db, made, "A buyer", services.now_ms() + 10**9, services.now_ms())[0]

    def erase(self, kind: str, name: str, dry_run: bool = False) -> dict[str, Any]:
        answer = self.phone.post("/api/erase", {"kind": kind, "id": self.ids[name], "dry_run": dry_run})
        assert answer.status_code == 200, answer.text
        return answer.json

    def there(self) -> set[str]:
        """Which of the names are still records."""
        with self.phone.services.database.read() as db:
            found = {record["id"] for record in records.load(db, self.phone.space)}
        return {name for name, record in self.ids.items() if record in found}


def file_of(data: bytes) -> dict[str, Any]:
    return {"hash": sha256(data), "type": "image/jpeg", "bytes": len(data), "width": 64, "height": 48}


@pytest.fixture
def sale(app: Flask) -> Sale:
    return Sale(Phone(app).pair())


def on_disk(folder: Path, word: str) -> list[str]:
    """Files of the store in which the word stands."""
    return [path.name for path in folder.rglob("*") if path.is_file() and word.encode() in path.read_bytes()]


def faults(services: Services) -> list[str]:
    with services.database.read() as db:
        return [fault for space in spaces.every(db) for fault in verify.faults(db, services.blobs, space)]


def test_a_session_goes_with_all_that_belongs_to_it_and_nothing_else(sale: Sale) -> None:
    folder = sale.phone.services.config.data_dir
    assert on_disk(folder, "SecretCaption")
    told = sale.erase("session", "first")
    assert sale.there() == {"seller", "second", "both", "visit_again", "other_photo", "later_dealing"}
    assert told["records"] == {"dealing": 1, "photo": 1, "piece": 1, "publication": 2, "session": 1, "spot": 1, "visit": 2}
    assert {report["title"] for report in told["reports"]} == {"Report first", "Report both"}
    assert (told["links"], told["media"], told["media_bytes"], told["stays"]) == (2, 1, len(sale.photo), [])
    assert [sale.phone.get(f"/r/{sale.reports[name]}/").status_code for name in ("first", "both", "second")] == [404, 404, 200]
    assert not sale.phone.services.blobs.has(sale.phone.space, sha256(sale.photo))
    assert sale.phone.get(f"/api/media/{sha256(sale.photo)}").status_code == 404
    assert sale.phone.services.blobs.has(sale.phone.space, sha256(sale.shared))
    # Not in the database file, its journal or anywhere else: deleted rows are written over.
    assert {word: on_disk(folder, word) for word in ("SecretBarn", "SecretLens", "SecretCaption", "SecretDealing", "SecretReport")} == dict.fromkeys(
        ("SecretBarn", "SecretLens", "SecretCaption", "SecretDealing", "SecretReport"), []
    )
    assert on_disk(folder, "SecretSeller")
    assert faults(sale.phone.services) == []


def test_a_seller_goes_with_the_dealings_and_the_sales_stay(sale: Sale) -> None:
    alias = secrets.token_hex(16)
    sale.phone.push(sale.phone.edit("seller", alias, "name", "SecretAlias"), sale.phone.edit("seller", alias, "same_as", sale.ids["seller"]))
    told = sale.erase("seller", "seller")
    assert told["records"] == {"dealing": 2, "seller": 2}
    assert {stays["title"] for stays in told["stays"]} == {"SecretBarn", "Shop"}
    assert sale.ids.keys() - sale.there() == {"seller", "dealing", "later_dealing"}
    with sale.phone.services.database.read() as db:
        [session] = records.load(db, sale.phone.space, ids=[sale.ids["second"]])
        assert records.load(db, sale.phone.space, ids=[alias]) == []
    assert records.plain(session)["seller"] is None
    folder = sale.phone.services.config.data_dir
    assert [on_disk(folder, word) for word in ("SecretSeller", "SecretAlias", "SecretGrudge")] == [[], [], []]
    assert faults(sale.phone.services) == []


def test_what_a_newer_app_hung_on_it_goes_too(sale: Sale) -> None:
    edit, later, further, other = sale.phone.edit, *(secrets.token_hex(16) for _ in range(3))
    sale.phone.push(
        edit("grudge", later, "words", "SecretLater"), edit("grudge", later, "against", sale.ids["seller"]),
        edit("grudge_reply", further, "of", later), edit("grudge_reply", further, "words", "SecretReply"), edit("grudge", other, "against", secrets.token_hex(16)),
    )
    assert sale.erase("seller", "seller")["records"] == {"dealing": 2, "grudge": 1, "grudge_reply": 1, "seller": 1}
    assert on_disk(sale.phone.services.config.data_dir, "SecretLater") == on_disk(sale.phone.services.config.data_dir, "SecretReply") == []
    assert other in {change["record"] for change in sale.phone.pull()["changes"]}
    assert faults(sale.phone.services) == []


def test_a_preview_tells_the_same_and_changes_nothing(sale: Sale) -> None:
    before = sale.phone.pull()
    told = sale.erase("session", "first", dry_run=True)
    assert sale.phone.pull()["changes"] == before["changes"]
    assert sale.there() == sale.ids.keys()
    assert sale.erase("session", "first") == told
    again = sale.phone.post("/api/erase", {"kind": "session", "id": sale.ids["first"], "dry_run": True})
    assert again.status_code == 404


@pytest.mark.parametrize("body", [{"kind": "piece", "id": "0" * 32, "dry_run": True}, {"kind": "session", "id": "x", "dry_run": True}, {"kind": "session", "id": "0" * 32}])
def test_only_what_is_meant_is_erased(sale: Sale, body: dict[str, Any]) -> None:
    assert sale.phone.post("/api/erase", body).status_code == 422


def test_another_book_cannot_be_reached(sale: Sale) -> None:
    with sale.phone.services.database.write() as db:
        other = spaces.make(db, "Other", sale.phone.services.now_ms()).id
        code, _ = devices.make_code(db, other, sale.phone.services.now_ms())
    stranger = Phone(sale.phone.app).pair(code)
    assert stranger.post("/api/erase", {"kind": "session", "id": sale.ids["first"], "dry_run": False}).status_code == 404
    assert sale.there() == sale.ids.keys()


def test_devices_are_told_once_and_their_cursor_goes_on(sale: Sale) -> None:
    cursor = sale.phone.pull()["next"]
    sale.erase("session", "first")
    page = sale.phone.pull(cursor)
    [notice] = page["changes"]
    assert (notice["kind"], notice["field"]) == ("erasure", "records")
    gone = {sale.ids[name] for name in sale.ids.keys() - sale.there()}
    assert gone <= set(notice["value"])
    assert sale.phone.pull(page["next"])["changes"] == []
    # A new device hears nothing of it but the ids.
    assert not gone & {change["record"] for change in sale.phone.pull()["changes"]}
    # Numbers go on, and those of what is gone are not given again.
    sale.phone.push(sale.phone.edit("session", sale.ids["second"], "title", "Shop again"))
    assert sale.phone.pull(page["next"])["changes"][0]["number"] == notice["number"] + 1


def test_nobody_brings_it_back(sale: Sale) -> None:
    sale.erase("session", "first")
    edit, ids = sale.phone.edit, sale.ids
    answer, photo = secrets.token_hex(16), secrets.token_hex(16)
    late = [
        *sale.edits[1:3],  # the same changes again, as after a lost answer or from an old file
        edit("session", ids["first"], "title", "SecretBarn again"),
        edit("answer", answer, "remark", "SecretRemark"),
        edit("answer", answer, "visit", ids["visit_only"]),
        edit("spot", secrets.token_hex(16), "photo", photo),
        edit("photo", photo, "visit", ids["visit_only"]),
    ]
    assert {result["reason"] for result in sale.phone.push(*late)} == {"erased"}
    # Once known as part of it, it stays out, whatever comes of it later.
    assert sale.phone.push(edit("answer", answer, "remark", "SecretRemark"))[0]["reason"] == "erased"
    assert on_disk(sale.phone.services.config.data_dir, "SecretRemark") == []
    assert faults(sale.phone.services) == []


def test_an_old_export_brings_neither_words_nor_photos_back(sale: Sale, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    services, space = sale.phone.services, sale.phone.space
    export_zip(services, space, tmp_path / "old.zip")
    sale.erase("session", "first")
    assert main(["import", str(tmp_path / "old.zip"), "--data", str(services.config.data_dir)]) == 1
    assert "1 photos and sounds are here" in capsys.readouterr().out  # that of the session which stays
    assert not services.blobs.has(space, sha256(sale.photo))
    assert services.blobs.has(space, sha256(sale.shared))
    assert on_disk(services.config.data_dir, "SecretBarn") == []
    assert faults(services) == []


@pytest.mark.parametrize("more", [{"id": []}, {"id": {}}, {"id": "an erased one"}, {"id": "an erased one", "value": None}, 1, None])
def test_an_old_export_that_somebody_spoilt_is_told_of_and_taken_as_far_as_it_goes(sale: Sale, tmp_path: Path, more: Any) -> None:
    """Changes that are none, some of which call themselves as an erased one does."""
    services, space = sale.phone.services, sale.phone.space
    export_session(services, space, sale.ids["first"], tmp_path)
    sale.erase("session", "first")
    document = json.loads((tmp_path / DOCUMENT).read_text("utf-8"))
    erased = next(change["id"] for change in document["changes"] if change["record"] == sale.ids["first"])
    spoilt = {**more, "id": erased} if isinstance(more, dict) and more["id"] == "an erased one" else more
    (tmp_path / DOCUMENT).write_text(json.dumps({**document, "changes": [*document["changes"], spoilt]}), "utf-8")
    done = import_folder(services, space, tmp_path)
    assert {result["reason"] for result in done.refused} == {"erased", "bad_change"}
    assert not services.blobs.has(space, sha256(sale.photo))


def test_the_bytes_of_a_photo_begun_before_its_parent_was_named_go_too(sale: Sale) -> None:
    """And what was sent of another, and its smaller picture: nothing of what was erased stays on the disk."""
    phone, (photo, other), (data, half) = sale.phone, (secrets.token_hex(16), secrets.token_hex(16)), (a_photo(), a_photo())
    phone.push(phone.edit("photo", photo, "file", file_of(data)), phone.edit("photo", other, "file", file_of(half)))
    phone.put_media(data)
    phone.services.blobs.derived(phone.space, sha256(data), "small", lambda _: b"small")
    phone.services.partials.add(phone.space, sha256(half), BytesIO(half[:100]), 0, len(half))
    sale.erase("session", "first")
    late = [phone.edit("photo", each, "visit", sale.ids["visit_only"]) for each in (photo, other)]
    assert {result["reason"] for result in phone.push(*late)} == {"erased"}
    assert [path for each in (data, half) for path in phone.services.config.media_dir.rglob(f"{sha256(each)}*")] == []
    assert faults(phone.services) == []


def test_a_record_begun_before_its_parent_was_named_goes_too(sale: Sale) -> None:
    answer = secrets.token_hex(16)
    sale.phone.push(sale.phone.edit("answer", answer, "remark", "SecretRemark"))
    sale.erase("session", "first")
    assert sale.phone.push(sale.phone.edit("answer", answer, "visit", sale.ids["visit_only"]))[0]["reason"] == "erased"
    with sale.phone.services.database.read() as db:
        assert records.load(db, sale.phone.space, ids=[answer]) == []
    assert faults(sale.phone.services) == []


def test_what_has_its_place_is_not_drawn_in(sale: Sale) -> None:
    sale.erase("session", "first")
    move = sale.phone.edit("photo", sale.ids["other_photo"], "visit", sale.ids["visit_only"])
    assert sale.phone.push(move)[0]["reason"] == "parent_erased"
    assert "other_photo" in sale.there()


def test_the_sent_part_of_a_photo_goes_too(sale: Sale) -> None:
    phone, photo, half = sale.phone, secrets.token_hex(16), a_photo()
    phone.push(phone.edit("photo", photo, "visit", sale.ids["visit_only"]), phone.edit("photo", photo, "file", file_of(half)))
    partials, space = phone.services.partials, phone.space
    for data in (half, a_photo()):
        partials.add(space, sha256(data), BytesIO(data[:100]), 0, len(data))
    sale.erase("session", "first")
    assert [partials.received(space, sha256(half)), partials.received(space, sha256(data))] == [0, 100]


def test_a_photo_that_another_record_names_stays(sale: Sale) -> None:
    sale.phone.push(sale.phone.edit("photo", sale.ids["other_photo"], "file", file_of(sale.photo)))
    assert sale.erase("session", "first")["media"] == 0
    assert sale.phone.services.blobs.has(sale.phone.space, sha256(sale.photo))


def test_a_backup_made_before_does_not_bring_it_back(sale: Sale, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    services = sale.phone.services
    copies = tmp_path / "copies"
    copies.mkdir()
    old = write_backup(services, copies / "old.zip").path
    sale.erase("session", "first")
    assert not (copies / erased_list.NAME).exists()
    write_backup(services, copies / "new.zip")  # leaves the list beside every copy in the folder
    assert main(["restore", str(old), "--data", str(tmp_path / "new")]) == 0
    assert "erased since: 7 records" in capsys.readouterr().out
    back = Services.open(Config(data_dir=tmp_path / "new"))
    with back.database.read() as db:
        held = changes.every(db, sale.phone.space)
        assert {name for name, record in sale.ids.items() if record in {change["record"] for change in held}} == sale.there()
    assert on_disk(tmp_path / "new", "SecretBarn") == []
    assert faults(back) == []
    assert erased_list.read(tmp_path / "new" / erased_list.NAME) == erased_list.read(copies / erased_list.NAME)
    back.database.close()


def test_a_damaged_list_stops_the_restore(sale: Sale, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    write_backup(sale.phone.services, tmp_path / "old.zip")
    for words in ("{", "[]", '{"format": "barnlight-erased", "version": 1, "spaces": {"a": {"x": 1}}}'):
        (tmp_path / erased_list.NAME).write_text(words)
        assert main(["restore", str(tmp_path / "old.zip"), "--data", str(tmp_path / "new")]) == 1
        assert "is damaged" in capsys.readouterr().err
        assert not (tmp_path / "new").exists()


def test_the_command_says_first_and_erases_only_on_yes(sale: Sale, capsys: pytest.CaptureFixture) -> None:
    folder = sale.phone.services.config.data_dir
    words = ["erase", "session", "SecretBarn", "--data", str(folder)]
    assert main(words) == 0
    assert "1 session" in capsys.readouterr().out
    assert sale.there() == sale.ids.keys()
    aside = folder.with_name(f"{folder.name}-before-20261101-120000")  # as `restore --replace` leaves one
    aside.mkdir()
    assert main([*words, "--yes"]) == 0
    said = capsys.readouterr().out
    assert f"{aside} was put aside by a restore" in said
    assert "1 photos and sounds" in said and "report 'Report first', version 1" in said
    listed = erased_list.read(folder / erased_list.NAME)[sale.phone.space]
    assert {sale.ids[name] for name in sale.ids.keys() - sale.there()} <= listed.keys()


def test_a_folder_of_copies_that_is_not_there_is_told_and_the_erasure_stands(sale: Sale, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture) -> None:
    config = sale.phone.services.config
    blocked = tmp_path / "copies"
    blocked.write_text("where the disk should be")
    monkeypatch.setenv("BARNLIGHT_BACKUP_DIR", str(blocked))
    assert main(["erase", "seller", "SecretSeller", "--yes", "--data", str(config.data_dir)]) == 0
    assert f"could not be written into {blocked}" in capsys.readouterr().out
    assert sale.ids["seller"] in erased_list.read(config.data_dir / erased_list.NAME)[sale.phone.space]
    blocked.unlink()
    copies = Services.open(replace(config, backup_dir=str(blocked)))
    assert Schedule(copies).copy_if_due() is not None
    assert sale.ids["seller"] in erased_list.read(blocked / erased_list.NAME)[sale.phone.space]
