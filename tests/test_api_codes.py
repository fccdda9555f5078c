"""Pairing codes: read by a camera, used once whoever is quicker, and not to be guessed, from one address or from many."""

from __future__ import annotations

import dataclasses
import secrets
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest
import zxingcpp
from flask import Flask
from hand_clock import Hand
from phones import FROM_APP, Phone
from test_api_access import a_code

from barnlight.api import limits
from barnlight.app import create_app
from barnlight.cli import main
from barnlight.config import Config
from barnlight.services import Services


@pytest.fixture
def guarded(config: Config, hand: Hand) -> Iterator[Flask]:
    """The server as it runs: with limits on guessing."""
    services = Services.open(dataclasses.replace(config, rate_limits=True), hand)
    yield create_app(services)
    services.database.close()


@pytest.fixture
def hand() -> Hand:
    return Hand()


def read_by_camera(rows: list[str]) -> str:
    """What a code reader of others (zxing-cpp) sees in rows of dark (1) and light (0) squares."""
    squares = np.array([[int(square) for square in row] for row in rows], np.uint8)
    picture = 255 * (1 - np.kron(np.pad(squares, 4), np.ones((4, 4), np.uint8)))
    [found] = zxingcpp.read_barcodes(picture)
    assert found.format == zxingcpp.BarcodeFormat.QRCode
    return found.text


def test_the_code_on_the_page_leads_to_the_link(app: Flask) -> None:
    made = Phone(app).pair().post("/api/pair/codes").json
    assert read_by_camera(made["qr"]) == made["link"] == f"http://localhost/#/pair/{made['code']}"
    assert made["lasts_ms"] == made["expires_ms"] - made["made_ms"] == 15 * 60_000


@pytest.mark.parametrize(("public_url", "expected"), [("", "https://barn.example:8443"), ("https://books.example/", "https://books.example")])
def test_the_link_leads_where_a_phone_can_go(config: Config, hand: Hand, public_url: str, expected: str) -> None:
    services = Services.open(dataclasses.replace(config, public_url=public_url), hand)
    http, body = create_app(services).test_client(), {"code": a_code(services), "device": "0" * 32, "device_name": "x"}
    asked = {"headers": FROM_APP, "base_url": "https://barn.example:8443"}
    assert http.post("/api/pair", json=body, **asked).status_code == 200
    assert http.post("/api/pair/codes", **asked).json["link"].startswith(f"{expected}/#/pair/")
    services.database.close()


def test_the_code_on_the_terminal_leads_to_the_link(app: Flask, services: Services, capsys: pytest.CaptureFixture) -> None:
    assert main(["pair", "--data", str(services.config.data_dir)]) == 0
    lines = capsys.readouterr().out.splitlines()
    link = next(line for line in lines if "open http" in line).split()[-1]
    halves = {" ": "00", "▀": "10", "▄": "01", "█": "11"}  # a character is two squares, one above the other
    drawn = [line for line in lines if line and set(line) <= set(halves)]
    light = [[halves[char][half] for char in line] for line in drawn for half in (0, 1)]
    assert read_by_camera(["".join("0" if square == "1" else "1" for square in row) for row in light]) == link


def test_two_who_type_one_code_at_once(app: Flask, services: Services) -> None:
    code = a_code(services)

    def type_it(_: int) -> int:
        return Phone(app).post("/api/pair", {"code": code, "device": secrets.token_hex(16), "device_name": "x"}).status_code

    with ThreadPoolExecutor(6) as people:
        assert sorted(people.map(type_it, range(6))) == [200] + [400] * 5


def guess(app: Flask, address: str, code: str = "AAAA-AAAA") -> int:
    body = {"code": code, "device": secrets.token_hex(16), "device_name": "x"}
    answer = app.test_client().post("/api/pair", json=body, headers=FROM_APP, environ_overrides={"REMOTE_ADDR": address})
    if answer.status_code == 429:
        assert int(answer.headers["Retry-After"]) > 0 and answer.json["error"]["hint"]
    return answer.status_code


@pytest.mark.parametrize("addresses", [
    [f"2001:db8:7:1::{number:x}" for number in range(1, 12)],  # one IPv6 network, RFC 3849 addresses
    [f"2001:db8:7:1:{number:x}::1" for number in range(1, 12)],
    ["192.0.2.1", "::ffff:192.0.2.1"] * 6,  # one IPv4 address (RFC 5737), written in two ways
], ids=["last digits", "whole second half", "two ways to write one"])  # fmt: skip
def test_many_addresses_of_one_network_are_one_guesser(guarded: Flask, addresses: list[str]) -> None:
    assert [guess(guarded, address) for address in addresses[:11]] == [400] * 10 + [429]
    assert guess(guarded, "2001:db8:7:2::1") == guess(guarded, "192.0.2.2") == 400


def test_guesses_from_everywhere_are_counted_together(config: Config, hand: Hand, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(limits, "guesses_from_all", lambda: "25 per 15 minutes")
    services = Services.open(dataclasses.replace(config, rate_limits=True), hand)
    guarded, good = create_app(services), [a_code(services) for _ in range(2)]
    assert guess(guarded, "198.51.100.200", good[0]) == 200
    answers = [guess(guarded, f"198.51.100.{number}") for number in range(30)]
    assert answers == [400] * 25 + [429] * 5
    # Then nobody pairs for a while, but who is in goes on working, and what was right had not counted.
    assert guess(guarded, "203.0.113.1", good[1]) == 429
    services.database.close()


def test_the_limits_leave_a_guess_no_chance() -> None:
    from barnlight.store.devices import ALPHABET, CODE_LENGTH, CODE_MS

    most = int(limits.guesses_from_all().split()[0])
    assert limits.guesses_from_all().endswith(f"per {CODE_MS // 60_000} minutes")
    assert 2 * most / len(ALPHABET) ** CODE_LENGTH < 1e-8, "two windows of the limit can fall into the life of one code"


def test_no_more_than_thirty_codes_an_hour_are_made(guarded: Flask) -> None:
    phone = Phone(guarded).pair(a_code(guarded.extensions["barnlight"]))
    assert [phone.post("/api/pair/codes").status_code for _ in range(31)] == [201] * 30 + [429]


def test_names_in_the_list_can_be_mended(app: Flask) -> None:
    phone, other = Phone(app).pair(), Phone(app, "Phone").pair()
    rename = {"path": f"/api/devices/{other.device}", "headers": FROM_APP}
    assert phone.http.patch(**rename, json={"name": "  Phone with the cracked glass "}).status_code == 204
    assert {each["id"]: each["name"] for each in other.get("/api/devices").json}[other.device] == "Phone with the cracked glass"
    for name in ("", " ", "x" * 81, "a\x1b[2J", None, 5):
        assert phone.http.patch(**rename, json={"name": name}).status_code == 422
    phone.delete(f"/api/devices/{other.device}")
    assert phone.http.patch(**rename, json={"name": "Ghost"}).status_code == 404
