"""The server's shell: headers on every route, one error shape for every failure, caching of the web app."""

from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.exceptions import TooManyRequests
from werkzeug.routing import Rule

from barnlight.errors import BadInput, NotReady
from barnlight.security_headers import CONTENT_SECURITY_POLICY
from barnlight.static_app import register_static_app


def example_address(rule: Rule) -> str:
    """An address that the rule answers, with a made-up value in each place."""
    made_up = {name: "0" * 64 if "hash" in name else "0" * 32 for name in rule.arguments}
    return rule.build(made_up)[1]


def routes(app: Flask) -> list[tuple[str, str]]:
    return [(method, example_address(rule)) for rule in app.url_map.iter_rules() for method in sorted(rule.methods)]


def directives(policy: str) -> dict[str, str]:
    return {name: " ".join(values) for name, *values in (part.split() for part in policy.split(";"))}


def test_every_route_and_method_carries_the_security_headers(app: Flask, client: FlaskClient) -> None:
    asked = [*routes(app), ("GET", "/nothing/here"), ("POST", "/"), ("GET", "/api/nothing")]
    assert len(asked) > 10
    for method, address in asked:
        headers = client.open(address, method=method).headers
        policy = directives(headers["Content-Security-Policy"])
        assert policy["default-src"] == "'none'", (method, address)
        assert policy["frame-ancestors"] == "'none'", (method, address)
        assert "unsafe" not in headers["Content-Security-Policy"], (method, address)
        assert headers["X-Content-Type-Options"] == "nosniff", (method, address)
        assert headers["Referrer-Policy"] == "no-referrer", (method, address)
        assert headers["Cross-Origin-Opener-Policy"] == "same-origin", (method, address)
        assert "microphone=" in headers["Permissions-Policy"], (method, address)


def test_policy_of_the_app_allows_itself_and_nothing_else() -> None:
    allowed = {source for values in directives(CONTENT_SECURITY_POLICY).values() for source in values.split()}
    assert allowed == {"'none'", "'self'", "blob:", "data:"}
    assert "data:" not in directives(CONTENT_SECURITY_POLICY)["script-src"]


def check_shape(answer, status: int, code: str) -> dict:
    assert answer.status_code == status
    assert answer.content_type == "application/json"
    assert set(answer.json) == {"error"}
    error = answer.json["error"]
    assert error["code"] == code
    assert error["message"].endswith(".")
    return error


def test_unknown_address_is_an_honest_404(client: FlaskClient) -> None:
    for address in ("/api/nothing", "/nothing", "/assets/nothing.js", "/r/"):
        check_shape(client.get(address), 404, "not_found")


def test_wrong_method_names_those_allowed(client: FlaskClient) -> None:
    # RFC 9110, 15.5.6: a 405 must carry Allow.
    answer = client.post("/")
    check_shape(answer, 405, "method_not_allowed")
    assert "GET" in answer.headers["Allow"]


@pytest.fixture
def failing(app: Flask) -> FlaskClient:
    """A caller of a server with routes that fail in each way."""

    @app.get("/fails/<how>")
    def fails(how: str):
        raise {
            "ours": BadInput("The depth is no number.", field="values.depth", hint="Type it like 4.8 mm."),
            "more": NotReady("Photos are missing.", code="media_missing", missing=["aa"]),
            "limit": TooManyRequests(retry_after=30),
            "bug": ZeroDivisionError("secret detail"),
        }[how]

    @app.post("/reads")
    def reads():
        from flask import request

        return {"got": request.get_json()}

    app.config["MAX_CONTENT_LENGTH"] = 1000
    return app.test_client()


def test_our_own_errors_say_field_and_hint(failing: FlaskClient) -> None:
    error = check_shape(failing.get("/fails/ours"), 400, "bad_input")
    assert error == {"code": "bad_input", "message": "The depth is no number.", "field": "values.depth", "hint": "Type it like 4.8 mm."}
    assert check_shape(failing.get("/fails/more"), 503, "media_missing")["missing"] == ["aa"]


def test_limit_keeps_retry_after(failing: FlaskClient) -> None:
    answer = failing.get("/fails/limit")
    check_shape(answer, 429, "too_many_requests")
    assert answer.headers["Retry-After"] == "30"


def test_a_bug_tells_the_caller_nothing_of_the_inside(failing: FlaskClient, caplog: pytest.LogCaptureFixture) -> None:
    answer = failing.get("/fails/bug")
    check_shape(answer, 500, "internal")
    assert b"secret" not in answer.data and b"Zero" not in answer.data
    assert "secret detail" in caplog.text


def test_bodies_that_cannot_be_read(failing: FlaskClient) -> None:
    check_shape(failing.post("/reads", data="{", content_type="application/json"), 400, "bad_request")
    check_shape(failing.post("/reads", data="a=1"), 415, "wrong_kind")
    check_shape(failing.post("/reads", json={"long": "x" * 2000}), 413, "too_large")


@pytest.fixture
def static_client(tmp_path: Path) -> FlaskClient:
    """A caller of a server over a small built app."""
    (tmp_path / "assets").mkdir()
    (tmp_path / ".sources").write_text("not for the outside")
    for name, words in {"index.html": "<!doctype html>", "sw.js": "//", "manifest.webmanifest": "{}", "assets/index-Ab3_d-9Z.js": "1;" * 100}.items():
        (tmp_path / name).write_text(words)
    app = Flask("small", static_folder=None)
    register_static_app(app, tmp_path)
    return app.test_client()


@pytest.mark.parametrize("address", ["/", "/index.html", "/sw.js", "/manifest.webmanifest"])
def test_files_with_a_stable_name_are_checked_each_time(static_client: FlaskClient, address: str) -> None:
    first = static_client.get(address)
    assert (first.status_code, first.headers["Cache-Control"]) == (200, "no-cache")
    assert static_client.get(address, headers={"If-None-Match": first.headers["ETag"]}).status_code == 304


def test_hashed_files_are_kept_for_ever_and_squeezed(static_client: FlaskClient) -> None:
    plain = static_client.get("/assets/index-Ab3_d-9Z.js")
    small = static_client.get("/assets/index-Ab3_d-9Z.js", headers={"Accept-Encoding": "gzip"})
    assert "immutable" in plain.headers["Cache-Control"]
    assert plain.mimetype == "text/javascript"
    assert (plain.content_encoding, small.content_encoding) == (None, "gzip")
    assert len(small.data) < len(plain.data) == 200
    assert plain.headers["ETag"] != small.headers["ETag"]


def test_only_the_app_itself_is_served(static_client: FlaskClient) -> None:
    for address in ("/.sources", "/../config.py", "/assets/../.sources", "/assets/"):
        assert static_client.get(address).status_code == 404


def test_without_a_built_app_the_start_page_says_what_to_do(tmp_path: Path) -> None:
    app = Flask("bare", static_folder=None)
    register_static_app(app, tmp_path)
    app.testing = True
    with pytest.raises(NotReady, match="not built"):
        app.test_client().get("/")
