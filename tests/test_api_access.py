"""Who gets in: pairing codes, cookies, revocation, and the walls around writes and spaces."""

from __future__ import annotations

import dataclasses
import secrets

import pytest
from flask import Flask
from hand_clock import Hand, hand, services  # noqa: F401 - fixtures
from phones import FROM_APP, Phone, a_photo, sha256

from barnlight.app import create_app
from barnlight.config import Config
from barnlight.services import Services
from barnlight.store import devices, spaces

MINUTE_MS = 60_000
WRITES = {"POST", "PUT", "PATCH", "DELETE"}


def a_code(services: Services, space: str | None = None) -> str:
    with services.database.write() as db:
        return devices.make_code(db, space or services.space(), services.now_ms())[0]


def tries(phone: Phone, code: str) -> tuple[int, str]:
    answer = phone.post("/api/pair", {"code": code, "device": phone.device, "device_name": phone.name})
    return answer.status_code, answer.json.get("error", {}).get("message", "")


def test_a_code_lets_in_one_device_typed_as_people_type(app: Flask, services: Services) -> None:
    code = a_code(services)
    phone = Phone(app).pair(f" {code.lower().replace('-', ' ')} ")
    me = phone.get("/api/me").json
    assert (me["device"], me["device_name"], me["space"]) == (phone.device, phone.name, services.space())
    status, words = tries(Phone(app), code)
    assert status == 400 and "used" in words


def test_a_code_runs_out(app: Flask, services: Services, hand: Hand) -> None:
    early, late = a_code(services), a_code(services)
    hand.ms += 15 * MINUTE_MS - 1
    assert tries(Phone(app), early)[0] == 200
    hand.ms += 1
    status, words = tries(Phone(app), late)
    assert status == 400 and "15 minutes" in words


def test_a_wrong_code_says_what_to_do(app: Flask) -> None:
    answer = Phone(app).post("/api/pair", {"code": "AAAA-AAAA", "device": "0" * 32, "device_name": "x"})
    assert answer.json == {"error": {
        "code": "bad_code", "field": "code", "message": "This code is not known here.", "hint": "Get a new code from the server or a paired device.",
    }}  # fmt: skip


def test_guessing_is_slowed_down(config: Config, hand: Hand) -> None:
    services = Services.open(dataclasses.replace(config, rate_limits=True), hand)
    phone = Phone(create_app(services))
    answers = [phone.post("/api/pair", {"code": f"AAAA-AA{i:02}", "device": phone.device, "device_name": "x"}) for i in range(11)]
    assert [answer.status_code for answer in answers] == [400] * 10 + [429]
    assert int(answers[-1].headers["Retry-After"]) > 0 and answers[-1].json["error"]["hint"]
    services.database.close()


def test_the_cookie_is_out_of_reach(app: Flask, services: Services) -> None:
    def cookie(base_url: str) -> str:
        body = {"code": a_code(services), "device": secrets.token_hex(16), "device_name": "x"}
        return app.test_client().post("/api/pair", json=body, headers=FROM_APP, base_url=base_url).headers["Set-Cookie"]

    plain, secure = cookie("http://localhost:8787"), cookie("https://barn.example")
    for each in (plain, secure):
        assert "HttpOnly" in each and "SameSite=Strict" in each and "Max-Age=34560000" in each and "Domain" not in each
    assert plain.startswith("barnlight=")
    # What browsers demand of the name: RFC 6265bis, section 4.1.3.2.
    assert secure.startswith("__Host-barnlight=") and "Secure" in secure and "Path=/" in secure


@pytest.mark.parametrize(("address", "status"), [
    ("http://localhost:8787", 200), ("http://127.0.0.1", 200), ("http://[::1]:8787", 200), ("https://barn.example", 200),
    ("http://192.168.1.5:8787", 403), ("http://barn.example", 403), ("http://localhost.example", 403),
])  # fmt: skip
def test_no_token_goes_over_an_open_line(app: Flask, services: Services, address: str, status: int) -> None:
    body = {"code": a_code(services), "device": "0" * 32, "device_name": "x"}
    assert app.test_client().post("/api/pair", json=body, headers=FROM_APP, base_url=address).status_code == status


def test_secrets_are_kept_as_hashes_only(app: Flask, services: Services) -> None:
    code = a_code(services)
    phone = Phone(app).pair(code)
    token = phone.http.get_cookie("barnlight").value
    bytes_on_disk = b"".join(path.read_bytes() for path in services.config.data_dir.rglob("*") if path.is_file())
    assert phone.device.encode() in bytes_on_disk
    for secret in (token, code, code.replace("-", "")):
        assert secret.encode() not in bytes_on_disk


def test_a_revoked_device_is_out_at_once_and_may_be_let_in_again(app: Flask) -> None:
    phone, other = Phone(app).pair(), Phone(app, "Tablet").pair()
    shown = phone.get("/api/devices").json
    assert [(each["name"], each["this"]) for each in shown if each["id"] == other.device] == [("Tablet", False)]
    assert phone.delete(f"/api/devices/{other.device}").status_code == 204
    for answer in (other.get("/api/me"), other.get("/api/changes"), other.post("/api/changes", {"changes": []}), other.put_media(a_photo())):
        assert (answer.status_code, answer.json["error"]["code"]) == (401, "not_paired")
    assert phone.delete(f"/api/devices/{other.device}").status_code == 404
    assert len(phone.get("/api/devices").json) == 1
    assert other.pair().get("/api/me").status_code == 200


def test_pairing_again_ends_the_old_token(app: Flask) -> None:
    phone = Phone(app).pair()
    old = phone.http.get_cookie("barnlight").value
    phone.pair()
    thief = app.test_client()
    thief.set_cookie("barnlight", old)
    assert thief.get("/api/me").status_code == 401
    assert phone.get("/api/me").status_code == 200


def test_a_paired_device_lets_in_another(app: Flask) -> None:
    made = Phone(app).pair().post("/api/pair/codes")
    assert made.status_code == 201 and made.json["link"] == f"http://localhost/#/pair/{made.json['code']}"
    assert Phone(app).pair(made.json["code"]).get("/api/me").status_code == 200


def test_the_moment_last_seen_is_written_hourly(app: Flask, hand: Hand) -> None:
    phone = Phone(app).pair()
    begun = hand.ms
    for minutes, expected in ((59, begun), (60, begun + 60 * MINUTE_MS)):
        hand.ms = begun + minutes * MINUTE_MS
        phone.get("/api/me")
        assert phone.get("/api/devices").json[0]["seen_ms"] == expected


def test_a_device_in_use_is_not_forgotten_by_its_browser(app: Flask, hand: Hand) -> None:
    """Browsers keep a cookie for 400 days at most (RFC 6265bis, 5.5), counted from when they got it."""
    phone = Phone(app).pair()
    token = phone.http.get_cookie("barnlight").value
    assert "Set-Cookie" not in phone.get("/api/me").headers
    hand.ms += 60 * MINUTE_MS
    again = phone.get("/api/changes").headers["Set-Cookie"]
    assert again.startswith(f"barnlight={token};") and "Max-Age=34560000" in again and "HttpOnly" in again and "SameSite=Strict" in again
    assert "Set-Cookie" not in phone.get("/api/changes").headers


@pytest.mark.parametrize("headers", [{}, {"X-Barnlight": "0"}, {**FROM_APP, "Sec-Fetch-Site": "cross-site"}, {**FROM_APP, "Sec-Fetch-Site": "same-site"}])
def test_other_pages_cannot_write(app: Flask, headers: dict[str, str]) -> None:
    phone = Phone(app).pair()
    writes = [rule for rule in app.url_map.iter_rules() if rule.rule.startswith("/api/") and rule.methods & WRITES]
    assert len(writes) >= 6
    for rule in writes:
        [method] = rule.methods & WRITES
        path = rule.build({name: "0" * 64 for name in rule.arguments})[1]
        answer = phone.http.open(path, method=method, headers=headers, json={})
        assert (answer.status_code, answer.json["error"]["code"]) == (403, "not_from_app"), path


@pytest.mark.parametrize("site", ["same-origin", "none"])
def test_the_app_itself_may_write(app: Flask, site: str) -> None:
    phone = Phone(app).pair()
    answer = phone.http.post("/api/changes", json={"changes": []}, headers={**FROM_APP, "Sec-Fetch-Site": site})
    assert answer.status_code == 200


def test_spaces_are_sealed_from_each_other(app: Flask, services: Services) -> None:
    with services.database.write() as db:
        second = spaces.make(db, "Another shop", services.now_ms() + 1).id
    one, two = Phone(app).pair(), Phone(app).pair(a_code(services, second))
    assert (one.space, two.space) == (services.space(), second)
    data = a_photo()
    edit = one.edit("session", secrets.token_hex(16), "title", "Not for the others")
    one.push(edit)
    one.put_media(data)
    assert two.pull()["changes"] == []
    assert two.push(edit)[0]["reason"] == "wrong_space"
    assert two.get(f"/api/media/{sha256(data)}").status_code == 404
    assert two.post("/api/media/known", {"hashes": [sha256(data)]}).json == {"known": []}
    assert [each["id"] for each in two.get("/api/devices").json] == [two.device]
    assert two.delete(f"/api/devices/{one.device}").status_code == 404
    assert two.push({**edit, "space": two.space})[0] == {"id": edit["id"], "result": "ok", "number": 1}, "ids of one space say nothing in another"
