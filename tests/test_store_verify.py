"""The verify command finds each kind of damage and is silent about a sound store."""

from __future__ import annotations

import secrets
from collections.abc import Callable

import pytest
from flask import Flask
from phones import Phone, a_photo, sha256
from sqlalchemy import text

from barnlight.cli import main
from barnlight.services import Services
from barnlight.store import spaces, verify


@pytest.fixture
def phone(app: Flask) -> Phone:
    """A phone that has pushed a photo and two edits of its record, and one field not known here."""
    phone, photo, data = Phone(app).pair(), secrets.token_hex(16), a_photo()
    phone.put_media(data)
    file = {"hash": sha256(data), "type": "image/jpeg", "bytes": len(data), "width": 64, "height": 48}
    edits = [phone.edit("photo", photo, "visit", secrets.token_hex(16)), phone.edit("photo", photo, "file", file), phone.edit("photo", photo, "mood", 1)]
    phone.push(*edits, phone.edit("photo", photo, "visit", secrets.token_hex(16)))
    return phone


def faults(services: Services) -> list[str]:
    with services.database.read() as db:
        return list(verify.faults(db, services.blobs, spaces.get(db, services.space())))


def sql(statement: str) -> Callable[[Services], None]:
    def run(services: Services) -> None:
        with services.database.write() as db:
            assert db.execute(text(statement)).rowcount == 1

    return run


def on_disk(spoil: Callable) -> Callable[[Services], None]:
    def run(services: Services) -> None:
        [path] = (path for path in services.config.media_dir.rglob("*") if path.is_file())
        spoil(path)

    return run


DAMAGE: dict[str, tuple[Callable[[Services], None], str]] = {
    "a change lost": (sql("DELETE FROM changes WHERE number = 3"), "Change number 3 is missing"),
    "the last change lost": (sql("DELETE FROM changes WHERE number = 4"), "Change number 4 is missing"),
    "a clock set back": (sql("UPDATE spaces SET clock = '0'"), "later than the clock"),
    "a record lost": (sql("DELETE FROM records"), "has a history but is not there"),
    "a record not updated": (sql("UPDATE records SET fields = '{}'"), "is not what its history adds up to"),
    "a parent lost": (sql("DELETE FROM parents"), "is not found by its visit"),
    "a parent misnamed": (sql("UPDATE parents SET field = 'session'"), "belongs to nothing"),
    "a file lost": (on_disk(lambda path: path.unlink()), "is missing on the disk"),
    "a file changed": (on_disk(lambda path: path.write_bytes(b"x")), "has changed on the disk"),
}


def test_a_sound_store_is_whole(phone: Phone, capsys: pytest.CaptureFixture) -> None:
    assert faults(phone.services) == []
    assert main(["verify", "--data", str(phone.services.config.data_dir)]) == 0
    assert "The store is whole." in capsys.readouterr().out


@pytest.mark.parametrize("case", DAMAGE)
def test_damage_is_found_and_said(phone: Phone, case: str, capsys: pytest.CaptureFixture) -> None:
    damage, words = DAMAGE[case]
    damage(phone.services)
    assert any(words in fault for fault in faults(phone.services))
    assert main(["verify", "--data", str(phone.services.config.data_dir)]) == 1
    assert words in capsys.readouterr().out
