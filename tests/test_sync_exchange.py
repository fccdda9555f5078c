"""Exports read back, merge instead of overwriting, and a hostile one is refused in words."""

from __future__ import annotations

import json
import secrets
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from phones import Phone, a_photo, sha256

from barnlight.config import Config
from barnlight.errors import BarnlightError
from barnlight.exchange import form
from barnlight.exchange.exporting import export_session
from barnlight.exchange.importing import import_folder, is_imported
from barnlight.services import Services
from barnlight.store import changes, records


@pytest.fixture
def phone(app: Flask) -> Phone:
    return Phone(app).pair()


@pytest.fixture
def elsewhere(tmp_path: Path) -> Services:
    """Another, empty server."""
    opened = Services.open(Config(data_dir=tmp_path / "elsewhere"))
    yield opened
    opened.database.close()


def a_session(phone: Phone) -> dict[str, Any]:
    """A session with a seller, a piece looked at, a photo here and one still on the phone."""
    seller, session, piece, visit = (secrets.token_hex(16) for _ in range(4))
    here, missing = a_photo(), a_photo()
    assert phone.put_media(here).status_code == 200
    edits = [
        phone.edit("seller", seller, "name", "Invented Seller"),
        phone.edit("session", session, "title", "Barn"),
        phone.edit("session", session, "seller", seller),
        phone.edit("piece", piece, "title", "Folding camera"),
        phone.edit("visit", visit, "session", session),
        phone.edit("visit", visit, "piece", piece),
        phone.edit("session", session, "weather", "unknown to this version"),
        phone.edit("dealing", secrets.token_hex(16), "seller", seller),
    ]
    edits.append(phone.edit("dealing", edits[-1]["record"], "session", session))
    edits.append(phone.edit("session", session, "title", "Barn on the hill", base=edits[1]["id"]))
    for data in (here, missing):
        photo = secrets.token_hex(16)
        file = {"hash": sha256(data), "type": "image/jpeg", "bytes": len(data), "width": 64, "height": 48}
        edits += [phone.edit("photo", photo, "visit", visit), phone.edit("photo", photo, "file", file)]
    assert all(result["result"] in ("ok", "deferred") for result in phone.push(*edits))
    return {"session": session, "edits": edits, "here": here, "missing": missing}


def history(services: Services, space: str) -> dict[str, dict[str, Any]]:
    with services.database.read() as db:
        found = changes.since(db, space, 0, 10_000)
    return {change["id"]: {name: part for name, part in change.items() if name not in ("number", "space")} for change in found}


def test_an_export_reads_back_as_it_was(phone: Phone, elsewhere: Services, tmp_path: Path) -> None:
    made, folder = a_session(phone), tmp_path / "export"
    document = export_session(phone.services, phone.space, made["session"], folder)
    assert {change["id"] for change in document["changes"]} == {edit["id"] for edit in made["edits"]}
    space = elsewhere.space()
    assert not is_imported(elsewhere, space, folder)
    done = import_folder(elsewhere, space, folder)
    assert (done.changes, done.media, done.media_missing) == ({"ok": 13, "deferred": 1}, 1, [sha256(made["missing"])])
    assert history(elsewhere, space) == history(phone.services, phone.space)
    assert elsewhere.blobs.read(space, sha256(made["here"])) == made["here"]
    assert is_imported(elsewhere, space, folder)
    assert import_folder(elsewhere, space, folder).changes == {"duplicate": 14}


def test_an_import_merges_and_never_overwrites(phone: Phone, tmp_path: Path) -> None:
    made, folder = a_session(phone), tmp_path / "export"
    export_session(phone.services, phone.space, made["session"], folder)
    phone.push(phone.edit("session", made["session"], "title", "Named later"))
    assert import_folder(phone.services, phone.space, folder).changes == {"duplicate": 14}
    with phone.services.database.read() as db:
        [session] = records.load(db, phone.space, "session")
    assert records.plain(session)["title"] == "Named later"


def test_only_the_session_asked_for_is_written(phone: Phone, tmp_path: Path) -> None:
    made, other = a_session(phone), a_session(phone)
    document = export_session(phone.services, phone.space, made["session"], tmp_path / "export")
    assert not {change["id"] for change in document["changes"]} & {edit["id"] for edit in other["edits"]}
    with pytest.raises(BarnlightError, match="no such session"):
        export_session(phone.services, phone.space, "0" * 32, tmp_path / "none")


def test_a_session_brings_along_what_was_asked_of_its_seller_and_what_was_taken_off(phone: Phone, tmp_path: Path) -> None:
    made = a_session(phone)
    [visit] = {edit["record"] for edit in made["edits"] if edit["kind"] == "visit"}
    again, photo = secrets.token_hex(16), secrets.token_hex(16)
    asked = phone.edit("inquiry", secrets.token_hex(16), "session", made["session"])
    gone = [phone.edit("photo", photo, "visit", visit), phone.edit("photo", photo, "caption", "Blurred"), phone.edit("photo", photo, "deleted", True)]
    [piece] = {edit["record"] for edit in made["edits"] if edit["kind"] == "piece"}
    elsewhere = phone.edit("visit", again, "piece", piece)  # a look in another session is that session's
    assert {result["result"] for result in phone.push(asked, *gone, elsewhere)} == {"ok"}
    document = export_session(phone.services, phone.space, made["session"], tmp_path / "export")
    assert {change["id"] for change in document["changes"]} == {edit["id"] for edit in [*made["edits"], asked, *gone]}


GOOD: dict[str, Any] = {"format": "barnlight-export", "version": 1, "changes": [], "media": []}
HOSTILE: dict[str, str] = {
    "not JSON": "{",
    "deeper than the stack": "[" * 200_000,
    "a list": "[]",
    "another format": json.dumps({**GOOD, "format": "zip"}),
    "a newer version": json.dumps({**GOOD, "version": 2}),
    "no changes": json.dumps({**GOOD, "changes": None}),
    "too many changes": json.dumps({**GOOD, "changes": [0] * 200_001}),
    "too many files": json.dumps({**GOOD, "media": [0] * 5_001}),
    "a file by path": json.dumps({**GOOD, "media": [{"hash": "../../secret", "type": "image/jpeg"}]}),
    "a file of another kind": json.dumps({**GOOD, "media": [{"hash": "0" * 64, "type": "text/html"}]}),
    "a file by nothing": json.dumps({**GOOD, "media": ["x"]}),
}


@pytest.mark.parametrize("case", HOSTILE)
def test_a_hostile_document_is_refused_in_words(services: Services, tmp_path: Path, case: str) -> None:
    (tmp_path / form.DOCUMENT).write_text(HOSTILE[case])
    with pytest.raises(BarnlightError) as refused:
        import_folder(services, services.space(), tmp_path)
    assert refused.value.message.endswith(".")
    assert history(services, services.space()) == {}


def test_a_document_that_is_missing_or_huge_is_refused(services: Services, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(BarnlightError, match="There is no barnlight-export.json"):
        import_folder(services, services.space(), tmp_path)
    (tmp_path / form.DOCUMENT).write_text(json.dumps(GOOD))
    monkeypatch.setattr(form, "MOST_BYTES", 10)
    with pytest.raises(BarnlightError, match="larger"):
        import_folder(services, services.space(), tmp_path)


def test_names_and_paths_in_an_export_are_ignored(services: Services, tmp_path: Path) -> None:
    data, folder = a_photo(), tmp_path / "export"
    (folder / "media").mkdir(parents=True)
    (tmp_path / "secret.jpg").write_bytes(data)
    entry = {"hash": sha256(data), "type": "image/jpeg", "name": "../secret.jpg", "path": str(tmp_path / "secret.jpg")}
    (folder / form.DOCUMENT).write_text(json.dumps({**GOOD, "media": [entry]}))
    done = import_folder(services, services.space(), folder)
    assert (done.media, done.media_missing) == (0, [sha256(data)])


def test_a_file_that_is_not_its_hash_is_refused_before_any_change(services: Services, tmp_path: Path) -> None:
    (tmp_path / "media").mkdir()
    (tmp_path / "media" / f"{'0' * 64}.jpg").write_bytes(a_photo())
    (tmp_path / form.DOCUMENT).write_text(json.dumps({**GOOD, "changes": [1], "media": [{"hash": "0" * 64, "type": "image/jpeg"}]}))
    with pytest.raises(BarnlightError, match="not those of this hash"):
        import_folder(services, services.space(), tmp_path)


def test_changes_that_are_none_are_listed_and_the_rest_is_taken(phone: Phone, tmp_path: Path) -> None:
    good = phone.edit("session", secrets.token_hex(16), "title", "Fine")
    (tmp_path / form.DOCUMENT).write_text(json.dumps({**GOOD, "changes": [7, good, {**good, "id": "x"}]}))
    done = import_folder(phone.services, phone.space, tmp_path)
    assert done.changes == {"refused": 2, "ok": 1}
    assert [refused["reason"] for refused in done.refused] == ["bad_change", "bad_change"]
    (tmp_path / form.DOCUMENT).write_text(json.dumps({**GOOD, "changes": [7]}))
    assert not is_imported(phone.services, phone.space, tmp_path)
