"""A phone as the server sees one: a cookie, a clock, and changes made the way the app makes them."""

from __future__ import annotations

import hashlib
import secrets
from io import BytesIO
from typing import Any

from flask import Flask
from PIL import Image
from werkzeug.test import TestResponse

from barnlight.domain import clock
from barnlight.services import Services
from barnlight.store import devices

FROM_APP = {"X-Barnlight": "1"}


def change_of(space: str, device: str, stamp: str, kind: str, record: str, field: str, value: Any, **more: Any) -> dict[str, Any]:
    """A change as protocol and phone know it."""
    return {
        "id": secrets.token_hex(16), "space": space, "kind": kind, "record": record, "field": field, "value": value, "stamp": stamp,
        "base": None, "settles": [], "device": device, "author": "A tester", "schema": 1, **more,
    }


def a_photo(kind: str = "JPEG", size: tuple[int, int] = (64, 48), **more: Any) -> bytes:
    """A small picture of noise, made here; no two are alike."""
    out = BytesIO()
    Image.frombytes("RGB", size, secrets.token_bytes(3 * size[0] * size[1])).save(out, kind, **more)
    return out.getvalue()


def sha256(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


class Phone:
    """A device with a cookie jar of its own; `pair` lets it in."""

    def __init__(self, app: Flask, name: str = "Phone of a tester") -> None:
        self.app, self.name = app, name
        self.services: Services = app.extensions["barnlight"]
        self.device, self.space = secrets.token_hex(16), ""
        self.http = app.test_client()
        self._stamp: str | None = None

    def pair(self, code: str | None = None) -> "Phone":
        """Pair by a code, a fresh one unless given."""
        if code is None:
            with self.services.database.write() as db:
                code, _ = devices.make_code(db, self.services.space(), self.services.now_ms())
        answer = self.post("/api/pair", {"code": code, "device": self.device, "device_name": self.name})
        assert answer.status_code == 200, answer.text
        self.space = answer.json["space"]
        return self

    def post(self, path: str, body: Any = None, **more: Any) -> TestResponse:
        return self.http.post(path, json=body, headers=FROM_APP, **more)

    def patch(self, path: str, body: Any = None, **more: Any) -> TestResponse:
        return self.http.patch(path, json=body, headers=FROM_APP, **more)

    def delete(self, path: str) -> TestResponse:
        return self.http.delete(path, headers=FROM_APP)

    def get(self, path: str, **more: Any) -> TestResponse:
        return self.http.get(path, **more)

    def put_media(self, data: bytes, kind: str = "image/jpeg", name: str | None = None) -> TestResponse:
        return self.http.put(f"/api/media/{name or sha256(data)}", data=data, content_type=kind, headers=FROM_APP)

    def edit(self, kind: str, record: str, field: str, value: Any, **more: Any) -> dict[str, Any]:
        """A change made now on this phone, not sent yet."""
        self._stamp = clock.tick(self._stamp, self.services.now_ms(), self.device)
        return change_of(self.space, self.device, self._stamp, kind, record, field, value, **more)

    def push(self, *changes: Any) -> list[dict[str, Any]]:
        """Send changes; returns the results."""
        answer = self.post("/api/changes", {"epoch": None, "changes": list(changes)})
        assert answer.status_code == 200, answer.text
        return answer.json["results"]

    def pull(self, after: int = 0, limit: int = 500) -> dict[str, Any]:
        """One page of what the server holds."""
        answer = self.get(f"/api/changes?after={after}&limit={limit}")
        assert answer.status_code == 200, answer.text
        return answer.json
