"""Only bytes that nothing has named for 30 days are tidied away, and verify says what is idle or still to come."""

from __future__ import annotations

import os
import secrets
import time
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from phones import Phone, a_photo, sha256
from sqlalchemy.orm import Session

from barnlight.app import create_app
from barnlight.cli import main
from barnlight.config import Config
from barnlight.services import Services, wall_clock_ms
from barnlight.store import media, orphans, publications
from barnlight.store.engine import Database

DAYS_MS = 24 * 3600 * 1000


@pytest.fixture
def phone(config: Config) -> Iterator[Phone]:
    """A phone of 40 days ago."""
    opened = Services.open(config, lambda: wall_clock_ms() - 40 * DAYS_MS)
    yield Phone(create_app(opened)).pair()
    opened.database.close()


def put(phone: Phone) -> bytes:
    data = a_photo()
    assert phone.put_media(data).status_code == 200
    return data


def name(phone: Phone, data: bytes, **more: object) -> None:
    file = {"hash": sha256(data), "type": "image/jpeg", "bytes": len(data), "width": 64, "height": 48}
    phone.push(phone.edit("photo", secrets.token_hex(16), "file", file, **more))


def test_what_anything_names_stays(phone: Phone, capsys: pytest.CaptureFixture) -> None:
    services, folder = phone.services, str(phone.services.config.data_dir)
    kept, replaced, later_kind, shown, idle = (put(phone) for _ in range(5))
    photo = phone.edit("photo", secrets.token_hex(16), "caption", "x")["record"]
    for data in (replaced, kept):
        file = {"hash": sha256(data), "type": "image/jpeg", "bytes": len(data), "width": 64, "height": 48}
        phone.push(phone.edit("photo", photo, "file", file))
    phone.push(phone.edit("film_strip", secrets.token_hex(16), "frames", [{"picture": sha256(later_kind)}]))
    with services.database.write() as db:
        publications.add(
            db, phone.space, about=photo, about_kind="piece", version=1, title="R", view={}, html="", css="", media=[sha256(shown)], now_ms=0
        )
        young = a_photo()
        media.add(db, phone.space, sha256(young), "image/jpeg", len(young), wall_clock_ms())
    assert main(["tidy", "--data", folder]) == 0
    assert "1 photos and sounds are named by nothing" in capsys.readouterr().out
    assert services.blobs.has(phone.space, sha256(idle))
    assert main(["tidy", "--data", folder, "--yes"]) == 0
    assert [services.blobs.has(phone.space, sha256(data)) for data in (kept, replaced, later_kind, shown, idle)] == [True, True, True, True, False]
    with services.database.read() as db:
        assert media.get(db, phone.space, sha256(idle)) is None
        assert media.get(db, phone.space, sha256(young)) is not None


def test_files_without_a_row_and_old_leftovers_go(phone: Phone) -> None:
    root, old = phone.services.config.media_dir, time.time() - 31 * 24 * 3600
    lost, fresh = root / "kept" / phone.space / "ab" / ("ab" * 32), root / "kept" / phone.space / "cd" / ("cd" * 32)
    cut = root / "arriving" / "cut"
    for path in (lost, fresh, cut):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(b"x")
    for path in (lost, cut):
        os.utime(path, (old, old))
    assert main(["tidy", "--data", str(phone.services.config.data_dir), "--yes"]) == 0
    assert [path.exists() for path in (lost, fresh, cut)] == [False, True, False]


def test_verify_says_what_is_idle_still_to_come_or_lost_to_a_report(phone: Phone, capsys: pytest.CaptureFixture) -> None:
    put(phone)
    name(phone, a_photo())
    folder = str(phone.services.config.data_dir)
    assert main(["verify", "--data", folder]) == 0
    said = capsys.readouterr().out
    assert "1 photos and sounds are still on a phone." in said and "1 photos and sounds are named by nothing" in said
    with phone.services.database.write() as db:
        publications.add(
            db, phone.space, about="0" * 32, about_kind="piece", version=1, title="R", view={}, html="", css="", media=["0" * 64], now_ms=0
        )
    assert main(["verify", "--data", folder]) == 1
    assert "The report 'R', version 1, lacks 1 of its photos." in capsys.readouterr().out


def test_a_photo_sent_again_while_it_is_tidied_away_stays(phone: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    """Between the end of its row and that of its bytes the server has said once more that it has it."""
    data, sent, forget, write = put(phone), [], orphans.forget, Database.write

    @contextmanager
    def then_sent_again(self: Database) -> Iterator[Session]:
        with write(self) as db:
            yield db
        if sent == ["forgotten"]:
            sent.append("again")
            sent.append(phone.put_media(data).json["state"])

    monkeypatch.setattr(orphans, "forget", lambda db, gone: forget(db, gone) or sent.append("forgotten"))
    monkeypatch.setattr(Database, "write", then_sent_again)
    assert main(["tidy", "--data", str(phone.services.config.data_dir), "--yes"]) == 0
    assert sent == ["forgotten", "again", "stored"]
    assert phone.get(f"/api/media/{sha256(data)}").data == data


def test_a_smaller_picture_does_not_outlive_a_photo_erased_meanwhile(phone: Phone) -> None:
    """Whether the erasure comes while it is made, or just before it gets its name."""
    data, blobs = put(phone), phone.services.blobs
    assert blobs.derived(phone.space, sha256(data), "small", lambda _: blobs.remove(phone.space, sha256(data)) or b"small") == b"small"
    assert list(phone.services.config.media_dir.rglob(f"{sha256(data)}*")) == []
