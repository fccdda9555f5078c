"""Limits on guessing, address by address: what counts as a try, what does not, who is counted as one behind a proxy, and what a refusal says."""

from __future__ import annotations

import dataclasses
import io
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from phones import FROM_APP, Phone
from test_api_errors import has_the_headers
from werkzeug.test import TestResponse

from barnlight import api
from barnlight.api.limits import LIMITED
from barnlight.app import create_app
from barnlight.config import Config
from barnlight.services import Services

GUESS = {"code": "AAAA-AAAA", "device": "0" * 32, "device_name": "x"}


@pytest.fixture
def serve(config: Config) -> Iterator[Callable[..., Flask]]:
    """Servers over the one store, with limits and further settings."""
    opened: list[Services] = []

    def serve_(**settings: Any) -> Flask:
        opened.append(Services.open(dataclasses.replace(config, rate_limits=True, **settings)))
        return create_app(opened[-1])

    yield serve_
    for services in opened:
        services.database.close()


def pair(app: Flask, **more: Any) -> TestResponse:
    return app.test_client().post("/api/pair", **{"json": GUESS, "headers": FROM_APP, **more})


def until_refused(ask: Callable[[], TestResponse], path: str) -> tuple[int, set[int]]:
    """How often it may be asked, and what was answered; the refusal itself is looked at here."""
    met = set()
    for times in range(100):
        answer = ask()
        if answer.status_code == 429:
            assert 0 < int(answer.headers["Retry-After"]) <= 3600 and answer.headers["X-RateLimit-Remaining"] == "0"
            assert answer.json["error"]["code"] == "too_many_requests" and answer.json["error"]["hint"]
            has_the_headers(answer, path, "429")
            return times, met
        met.add(answer.status_code)
    return 100, met


@pytest.mark.parametrize(("asked", "status"), [
    ({}, 400), ({"json": {**GUESS, "code": ""}}, 422), ({"json": {**GUESS, "device": 1}}, 422), ({"json": []}, 422),
    ({"json": None, "data": b"{", "headers": {**FROM_APP, "Content-Type": "application/json"}}, 400),
    ({"json": None, "data": b"[" * 9000, "headers": {**FROM_APP, "Content-Type": "application/json"}}, 400),
    ({"json": {**GUESS, "device_name": "x" * 17_000}}, 413), ({"base_url": "http://192.168.1.5"}, 403),
], ids=["wrong", "empty", "other shape", "no object", "cut", "deep", "long", "open line"])  # fmt: skip
def test_whatever_is_sent_to_be_paired_is_a_try(serve: Callable, asked: dict[str, Any], status: int) -> None:
    app = serve()
    assert until_refused(lambda: pair(app, **asked), "/api/pair") == (10, {status})


@pytest.mark.parametrize("asked", [
    {"headers": {}}, {"headers": {**FROM_APP, "Sec-Fetch-Site": "cross-site"}}, {"headers": {**FROM_APP, "Content-Encoding": "gzip"}}, {"method": "PUT"},
], ids=["no header", "foreign page", "packed", "other method"])  # fmt: skip
def test_what_is_refused_unread_uses_up_nobodys_tries(serve: Callable, asked: dict[str, Any]) -> None:
    """A foreign page in a browser of the house could else keep the house from pairing; and the right code is not told from a wrong one."""
    app = serve()
    phone, statuses = Phone(app), set()
    for _ in range(20):
        statuses.add(app.test_client().open("/api/pair", **{"method": "POST", "json": GUESS, "headers": FROM_APP, **asked}).status_code)
    assert statuses <= {401, 403, 405}
    assert phone.pair().get("/api/me").status_code == 200


def test_a_secret_that_is_not_found_counts_and_one_that_is_does_not(serve: Callable) -> None:
    app = serve()
    for path in ("/r/nothing/", "/r/nothing/report.pdf", "/r/nothing/photo/" + "0" * 64 + ".jpg"):
        assert until_refused(lambda path=path: app.test_client().get(path), path) == (60, {404}), path


def test_looking_up_a_file_is_limited(serve: Callable) -> None:
    app = serve()

    def ask() -> TestResponse:
        return app.test_client().post("/evidence/", data={"file": (io.BytesIO(b"x"), "x")})

    assert until_refused(ask, "/evidence/") == (30, {200})
    assert app.test_client().get("/evidence/").status_code == 200


def test_behind_a_proxy_each_caller_has_tries_of_its_own(serve: Callable) -> None:
    """What the proxy before the server says last counts; what a caller says before it does not (RFC 7239 speaks of the same for Forwarded)."""
    app = serve(proxy_hops=1)

    def ask(caller: str) -> TestResponse:
        return pair(app, headers={**FROM_APP, "X-Forwarded-For": caller, "X-Forwarded-Proto": "https"})

    assert until_refused(lambda: ask("203.0.113.7"), "/api/pair") == (10, {400})
    assert ask("198.51.100.1, 203.0.113.7").status_code == 429
    assert ask("203.0.113.7, 198.51.100.1").status_code == 400


def test_without_a_proxy_nobody_says_who_they_are(serve: Callable) -> None:
    app, number = serve(), iter(range(1, 100))
    assert until_refused(lambda: pair(app, headers={**FROM_APP, "X-Forwarded-For": f"203.0.113.{next(number)}"}), "/api/pair") == (10, {400})


def test_parts_that_have_limits_are_those_that_are_looked_at() -> None:
    """A limit elsewhere would be neither counted by its answer nor told in headers."""
    files = Path(api.__file__).parent.glob("*.py")
    assert {path.stem for path in files if re.search(r"limiter\.limit\(", path.read_text("utf-8"))} == set(LIMITED)
