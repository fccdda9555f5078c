"""Malformed calls: each gets the one error shape with a plain sentence, and nothing is stored."""

from __future__ import annotations

import dataclasses
import secrets
import sqlite3
from typing import Any

import pytest
from flask import Flask
from phones import FROM_APP, Phone
from sqlalchemy import text
from werkzeug.test import TestResponse

from barnlight.app import create_app
from barnlight.config import Config
from barnlight.services import Services

JSON = {**FROM_APP, "Content-Type": "application/json"}

# (method, path, body, headers) -> status
MALFORMED: dict[str, tuple[str, str, bytes, dict[str, str], int]] = {
    "no JSON at all": ("POST", "/api/changes", b"", JSON, 422),
    "half a JSON": ("POST", "/api/changes", b'{"changes": [', JSON, 400),
    "not UTF-8": ("POST", "/api/changes", b'{"changes": ["\xff"]}', JSON, 400),
    "deeper than the stack": ("POST", "/api/changes", b"[" * 200_000, JSON, 400),
    "a number that fills the page": ("POST", "/api/changes", b'{"changes": [{"schema": ' + b"9" * 5000 + b"}]}", JSON, 400),
    "pairing with a number that fills the page": ("POST", "/api/pair", b'{"code": ' + b"9" * 5000 + b"}", JSON, 400),
    "a list where an object belongs": ("POST", "/api/changes", b"[]", JSON, 422),
    "changes that are no list": ("POST", "/api/changes", b'{"changes": {}}', JSON, 422),
    "501 changes": ("POST", "/api/changes", b'{"changes": [' + b",".join([b"1"] * 501) + b"]}", JSON, 422),
    "not sent as JSON": ("POST", "/api/changes", b'{"changes": []}', {**FROM_APP, "Content-Type": "text/plain"}, 422),
    "packed in an unknown way": ("POST", "/api/changes", b"x", {**JSON, "Content-Encoding": "br"}, 400),
    "a cursor below nothing": ("GET", "/api/changes?after=-1", b"", {}, 422),
    "a cursor that is a word": ("GET", "/api/changes?after=all", b"", {}, 422),
    "a cursor beyond all numbers": ("GET", "/api/changes?after=99999999999999999999999", b"", {}, 422),
    "a page of a million": ("GET", "/api/changes?limit=1000000", b"", {}, 422),
    "a hash that is none": ("POST", "/api/media/known", b'{"hashes": ["../../etc"]}', JSON, 422),
    "a kind not taken": ("PUT", "/api/media/" + "0" * 64, b"", {**FROM_APP, "Content-Type": "image/svg+xml"}, 400),
    "a path for a hash": ("GET", "/api/media/..%2F..%2Fbarnlight.sqlite3", b"", {}, 404),
    "an unknown address": ("GET", "/api/nothing", b"", {}, 404),
    "the wrong method": ("PATCH", "/api/changes", b"", FROM_APP, 405),
    "a device that is none": ("DELETE", "/api/devices/nobody", b"", FROM_APP, 404),
    "pairing with a device id of another form": ("POST", "/api/pair", b'{"code": "A", "device": "me", "device_name": "x"}', JSON, 422),
    "pairing with half a character": (
        "POST", "/api/pair", b'{"code": "A", "device": "' + b"0" * 32 + b'", "device_name": "\\ud800"}', JSON, 422,
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", MALFORMED)
def test_malformed_calls_get_the_one_error_shape(app: Flask, case: str) -> None:
    method, path, body, headers, status = MALFORMED[case]
    phone = Phone(app).pair()
    answer = phone.http.open(path, method=method, data=body, headers=headers)
    error = answer.json["error"]
    assert answer.status_code == status, answer.text
    assert set(error) <= {"code", "message", "field", "hint"} and error["code"] and error["message"].endswith(".")
    assert phone.pull()["changes"] == []
    if status == 405:
        assert "POST" in answer.headers["Allow"]


@pytest.mark.parametrize("path", ["/api/me", "/api/devices", "/api/changes", "/api/media/" + "0" * 64])
def test_who_is_asking_comes_before_what(app: Flask, path: str) -> None:
    answer = app.test_client().get(path)
    assert (answer.status_code, answer.json["error"]["code"]) == (401, "not_paired")


def test_a_stranger_is_refused_before_the_body_is_read(app: Flask) -> None:
    assert app.test_client().post("/api/changes", data=b"[" * 1000, headers=JSON).status_code == 401


def test_a_locked_database_says_so_and_takes_it_later(app: Flask, services: Services) -> None:
    phone = Phone(app).pair()
    change = phone.edit("session", secrets.token_hex(16), "title", "Barn")
    with services.database.read() as db:
        db.execute(text("PRAGMA busy_timeout=20"))  # stays with the connection, which is the one the next request gets
    with sqlite3.connect(services.config.data_dir / "barnlight.sqlite3", isolation_level=None) as other:
        other.execute("BEGIN IMMEDIATE")
        answer = phone.post("/api/changes", {"changes": [change]})
        other.execute("ROLLBACK")
    assert (answer.status_code, answer.json["error"]["code"]) == (503, "not_ready")
    assert phone.push(change)[0]["result"] == "ok"


def test_a_full_disk_says_so_and_stores_nothing(app: Flask, services: Services) -> None:
    """SQLite itself says it is full, at a most number of pages as on a disk without room."""
    phone = Phone(app).pair()
    with services.database.read() as db:
        db.execute(text("PRAGMA max_page_count=1"))  # SQLite raises it to what is in use already
    changes = [phone.edit("session", secrets.token_hex(16), "title", "Barn") for _ in range(400)]
    answer = phone.post("/api/changes", {"changes": changes})
    assert (answer.status_code, answer.json["error"]["code"]) == (507, "store_full")
    assert phone.get("/api/changes").json["changes"] == []


def has_the_headers(answer: TestResponse, path: str, asked: str) -> None:
    """What the security floor asks of every answer."""
    policy = answer.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy and "frame-ancestors 'none'" in policy and "unsafe" not in policy and "*" not in policy, asked
    assert answer.headers["X-Content-Type-Options"] == "nosniff" and answer.headers["Referrer-Policy"] == "no-referrer", asked
    assert "geolocation=()" in answer.headers["Permissions-Policy"] and answer.headers["Cross-Origin-Resource-Policy"] == "same-origin", asked
    assert "Server" not in answer.headers and "X-Powered-By" not in answer.headers, asked
    if path.startswith("/api/") and not (path.startswith("/api/media/") and answer.status_code in (200, 304)):
        assert "no-store" in answer.headers["Cache-Control"], asked
    if path.startswith(("/r/", "/evidence/")):
        assert "script-src" not in policy and "noindex" in answer.headers["X-Robots-Tag"] and "no-store" in answer.headers["Cache-Control"], asked


def test_every_route_has_the_security_headers_whatever_it_answers(config: Config) -> None:
    """Paired or not, right or wrong: each route by each method, with an id, with none, with a body that is too large, broken or missing."""
    services = Services.open(dataclasses.replace(config, rate_limits=True))
    app = create_app(services)
    phone, met = Phone(app).pair(), set()
    ways: list[dict[str, Any]] = [
        {}, {"headers": {**FROM_APP, "Content-Type": "application/json"}, "data": b"{"}, {"json": []},
        {"data": b"x", "environ_overrides": {"CONTENT_LENGTH": str(2**40)}, "headers": {**FROM_APP, "Content-Type": "application/json"}}, {"data": b"x", "headers": {**FROM_APP, "Content-Encoding": "br"}},
    ]  # fmt: skip
    for rule in app.url_map.iter_rules():
        if rule.endpoint.startswith("web_app.file_") and not rule.rule.endswith((".html", ".js", ".webmanifest")):
            continue
        for name in ("0" * 32, "0" * 64, "%2e%2e"):
            path = rule.build({argument: name for argument in rule.arguments})[1]
            for method in sorted(rule.methods | {"TRACE"}):
                for http, way in [(phone.http, way) for way in ways] + [(app.test_client(), {})]:
                    # The body is not sent as long as it says: the refusal comes before anyone waits for it.
                    answer = http.open(path, method=method, **{"headers": FROM_APP, **way})
                    has_the_headers(answer, path, f"{method} {path} {way} {answer.status_code}")
                    met.add(answer.status_code)
            if not rule.arguments:
                break
    more = [phone.get("/no/such/thing"), phone.http.post("/api/changes", json={})]
    more += [phone.post("/api/pair", {"code": "AAAA-AAAA", "device": "0" * 32, "device_name": "x"}) for _ in range(12)]
    for answer in more:
        has_the_headers(answer, answer.request.path, f"{answer.request.path} {answer.status_code}")
        met.add(answer.status_code)
    services.database.close()
    assert met >= {200, 400, 401, 403, 404, 405, 413, 422, 429}, met


def test_an_answer_to_a_crash_has_the_headers_and_tells_nothing(app: Flask, monkeypatch: pytest.MonkeyPatch) -> None:
    def crash(*_args: Any, **_more: Any) -> None:
        raise ZeroDivisionError("secret of the house")

    monkeypatch.setattr("barnlight.api.changes.push", crash)
    app.testing = False
    answer = Phone(app).pair().post("/api/changes", {"changes": []})
    assert (answer.status_code, answer.json["error"]["code"]) == (500, "internal")
    assert "secret" not in answer.text and "Traceback" not in answer.text
    has_the_headers(answer, "/api/changes", "crash")


def test_a_wrong_method_is_told_the_right_ones(app: Flask) -> None:
    """RFC 9110, section 15.5.6: an answer 405 must carry Allow."""
    phone = Phone(app).pair()
    for rule in app.url_map.iter_rules():
        path = rule.build({name: "0" * 64 for name in rule.arguments})[1]
        allowed = set(app.url_map.bind("localhost").allowed_methods(path))
        for method in {"GET", "POST", "PUT", "PATCH", "DELETE", "TRACE", "QUERY"} - allowed:
            answer = phone.http.open(path, method=method, headers=FROM_APP)
            assert (answer.status_code, answer.json["error"]["code"]) == (405, "method_not_allowed"), (method, path)
            assert set(answer.headers["Allow"].split(", ")) == allowed, (method, path)


def test_the_api_describes_itself(app: Flask) -> None:
    described = app.test_client().get("/api/openapi.json").json
    assert described["openapi"].startswith("3.")
    served = {rule.rule for rule in app.url_map.iter_rules() if rule.rule.startswith("/api/") and not rule.rule.endswith("openapi.json")}
    assert {path.replace("{", "<").replace("}", ">") for path in described["paths"]} >= {path for path in served}
