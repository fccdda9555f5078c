"""A cut upload goes on where it stopped; pieces that do not fit are refused and nothing false is kept."""

from __future__ import annotations

import os
import secrets
import time
from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask
from phones import FROM_APP, Phone, a_photo, sha256
from werkzeug.test import TestResponse

from barnlight.exchange.intake import take_piece
from barnlight.store import devices, partials, spaces


@pytest.fixture
def phone(app: Flask) -> Phone:
    return Phone(app).pair()


PHOTO = a_photo(size=(200, 150))


def send(phone: Phone, data: bytes, offset: int, total: int, name: str = sha256(PHOTO), **more: Any) -> TestResponse:
    headers = {**FROM_APP, "X-Offset": str(offset), "X-Total": str(total)}
    return phone.http.put(f"/api/media/{name}", data=data, content_type="image/jpeg", headers=headers, **more)


def received(phone: Phone, name: str = sha256(PHOTO)) -> tuple[int, int]:
    answer = phone.http.head(f"/api/media/{name}")
    return answer.status_code, int(answer.headers["X-Received"])


def test_pieces_add_up_and_only_the_whole_is_confirmed(phone: Phone) -> None:
    at, step = 0, len(PHOTO) // 3
    assert received(phone) == (404, 0)
    while at < len(PHOTO):
        answer = send(phone, PHOTO[at : at + step], at, len(PHOTO)).json
        at = min(at + step, len(PHOTO))
        assert answer == {"hash": sha256(PHOTO), "bytes": at, "state": "stored" if at == len(PHOTO) else "partial"}
        assert received(phone) == (200 if at == len(PHOTO) else 404, at)
        assert bool(phone.post("/api/media/known", {"hashes": [sha256(PHOTO)]}).json["known"]) == (at == len(PHOTO))
    assert phone.get(f"/api/media/{sha256(PHOTO)}").data == PHOTO
    assert send(phone, PHOTO[:10], 0, len(PHOTO)).json["state"] == "stored"
    assert list((phone.services.config.media_dir / "partial").rglob(sha256(PHOTO))) == []


class Cut:
    """A body whose sender is gone before its end."""

    def __init__(self, data: bytes) -> None:
        self._data = data

    def read(self, size: int = -1) -> bytes:
        given, self._data = self._data[:size], self._data[size:] if size >= 0 else b""
        return given


def test_what_arrived_before_a_cut_is_not_sent_again(phone: Phone) -> None:
    half = len(PHOTO) // 2
    environ = {"wsgi.input": Cut(PHOTO[:half]), "CONTENT_LENGTH": str(len(PHOTO))}
    cut = send(phone, b"", 0, len(PHOTO), environ_overrides=environ)
    assert cut.status_code >= 400
    assert received(phone) == (404, half)
    assert send(phone, PHOTO[half:], half, len(PHOTO)).json["state"] == "stored"
    assert phone.get(f"/api/media/{sha256(PHOTO)}").data == PHOTO


def test_a_gap_is_refused_and_tells_where_to_go_on(phone: Phone) -> None:
    send(phone, PHOTO[:100], 0, len(PHOTO))
    answer = send(phone, PHOTO[200:], 200, len(PHOTO))
    assert (answer.status_code, answer.json["error"]["code"], answer.json["error"]["received"]) == (409, "offset", 100)
    assert received(phone) == (404, 100)


def test_false_bytes_are_found_out_at_the_end_and_all_begins_anew(phone: Phone) -> None:
    send(phone, bytes(100), 0, len(PHOTO))
    answer = send(phone, PHOTO[100:], 100, len(PHOTO))
    assert (answer.status_code, answer.json["error"]["code"]) == (400, "wrong_hash")
    assert received(phone) == (404, 0)
    page = b"<script>" + secrets.token_bytes(50)
    send(phone, page[:20], 0, len(page), sha256(page))
    assert send(phone, page[20:], 20, len(page), sha256(page)).json["error"]["code"] == "not_a_photo"
    assert received(phone, sha256(page)) == (404, 0)


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"X-Offset": "0"}, 422), ({"X-Total": "9"}, 422), ({"X-Offset": "-1", "X-Total": "9"}, 422), ({"X-Offset": "x", "X-Total": "9"}, 422),
        ({"X-Offset": "0", "X-Total": str(2**39)}, 413), ({"X-Offset": "0", "X-Total": "9"}, 413),
    ],
)  # fmt: skip
def test_headers_that_cannot_be(phone: Phone, headers: dict[str, str], status: int) -> None:
    answer = phone.http.put(f"/api/media/{sha256(PHOTO)}", data=PHOTO, content_type="image/jpeg", headers={**FROM_APP, **headers})
    assert answer.status_code == status, answer.text


def test_another_book_sees_nothing_of_it(phone: Phone) -> None:
    send(phone, PHOTO[:100], 0, len(PHOTO))
    with phone.services.database.write() as db:
        code, _ = devices.make_code(db, spaces.make(db, "Other", 0).id, phone.services.now_ms())
    assert received(Phone(phone.app).pair(code)) == (404, 0)


@pytest.mark.parametrize("name", ["x", "..", "0" * 63, "A" * 64])
def test_no_file_is_looked_for_by_a_name_that_is_no_hash(phone: Phone, name: str) -> None:
    assert phone.http.head(f"/api/media/{name}").status_code == 404
    assert send(phone, b"x", 0, 2, name).status_code == 404


def test_what_nobody_goes_on_with_is_dropped(phone: Phone) -> None:
    send(phone, PHOTO[:100], 0, len(PHOTO))
    [path] = (phone.services.config.media_dir / "partial").rglob(sha256(PHOTO))
    old = time.time() - partials.KEPT_S - 60
    os.utime(path, (old, old))
    send(phone, b"x", 0, 2, "1" * 64)
    assert received(phone) == (404, 0)


class Twice:
    """A body of wrong bytes whose sender stops in the midst of it, until another phone has brought all the right ones."""

    def __init__(self, other: Callable[[], object]) -> None:
        self._parts = [lambda: b"wrong", lambda: other() and b"wrong again", lambda: b""]

    def read(self, size: int = -1) -> bytes:
        return self._parts.pop(0)()


def test_a_slower_sender_of_other_bytes_does_not_spoil_what_was_confirmed(phone: Phone) -> None:
    """Both write into one file of pieces; a phone has the server's word by then, and may have freed its copy."""
    here, name = phone.services, sha256(PHOTO)

    def right_one() -> TestResponse:
        answer = send(phone, PHOTO, 0, len(PHOTO))
        assert answer.json["state"] == "stored"
        return answer

    assert take_piece(here, phone.space, name, "image/jpeg", Twice(right_one), 0, len(PHOTO)) == (0, False)
    assert phone.get(f"/api/media/{name}").data == PHOTO
    assert phone.post("/api/media/known", {"hashes": [name]}).json["known"] == [name]
