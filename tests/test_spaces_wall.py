"""The wall between two books of one server: every route is tried across it, and no answer tells what stands on the other side."""

from __future__ import annotations

import dataclasses
import secrets
from collections.abc import Callable, Iterator
from io import BytesIO
from typing import Any

import pytest
from flask import Flask
from hand_clock import Hand
from phones import FROM_APP, Phone, sha256
from report_bundle import MOMENT
from two_books import Target, a_sound, all_of, full_book, new_book, nowhere, said
from werkzeug.routing import Rule
from werkzeug.test import TestResponse

from barnlight.app import create_app
from barnlight.config import Config
from barnlight.services import Services

Call = Callable[[Phone, Target], TestResponse]
TRIALS: dict[tuple[str, str], list[Call]] = {}
# They show no book at all; what they answer must not hang on who asks.
OPEN_TO_ALL = ("/", "/healthz", "/api/openapi.json", "/evidence/", "/evidence/style.css")


def trial(method: str, rule: str) -> Callable[[Call], Call]:
    """Marks a try at one route; there may be several."""

    def mark(call: Call) -> Call:
        TRIALS.setdefault((method, rule), []).append(call)
        return call

    return mark


@pytest.fixture(scope="module")
def services(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Services]:
    """A store whose clock stands still, so that no answer differs by the moment."""
    opened = Services.open(Config(data_dir=tmp_path_factory.mktemp("store"), rate_limits=False), Hand())
    yield opened
    opened.database.close()


@pytest.fixture(scope="module")
def app(services: Services) -> Flask:
    return create_app(services)


@pytest.fixture(scope="module")
def next_door(app: Flask) -> tuple[Target, Phone]:
    return full_book(app)


def send_changes(phone: Phone, **parts: Any) -> TestResponse:
    edit = {**phone.edit("session", secrets.token_hex(16), "title", "Mine"), **parts}
    return phone.post("/api/changes", {"changes": [edit]})


def put(phone: Phone, name: str, data: bytes, **headers: str) -> TestResponse:
    return phone.http.put(f"/api/media/{name}", data=data, content_type="audio/wav", headers={**FROM_APP, **headers})


@trial("POST", "/api/pair")
def _takes_the_place_of_a_device(phone: Phone, other: Target) -> TestResponse:
    code = phone.post("/api/pair/codes").json["code"]
    return phone.app.test_client().post("/api/pair", json={"code": code, "device": other.device, "device_name": "x"}, headers=FROM_APP)


@trial("POST", "/api/pair")
def _takes_an_id_for_a_code(phone: Phone, other: Target) -> TestResponse:
    return phone.post("/api/pair", {"code": other.space[:20], "device": phone.device, "device_name": "x"})


@trial("POST", "/api/pair/codes")
def _asks_for_a_code_of_the_other_book(phone: Phone, other: Target) -> TestResponse:
    made = phone.post("/api/pair/codes", {"space": other.space})
    assert Phone(phone.app).pair(made.json["code"]).space == phone.space
    return made


trial("GET", "/api/me")(lambda phone, other: phone.get(f"/api/me?space={other.space}&device={other.device}"))
trial("GET", "/api/devices")(lambda phone, other: phone.get(f"/api/devices?space={other.space}"))
trial("DELETE", "/api/devices/<device>")(lambda phone, other: phone.delete(f"/api/devices/{other.device}"))
trial("PATCH", "/api/devices/<device>")(lambda phone, other: phone.http.patch(f"/api/devices/{other.device}", json={"name": "Mine now"}, headers=FROM_APP))

trial("GET", "/api/changes")(lambda phone, other: phone.get(f"/api/changes?after=0&space={other.space}&epoch={other.epoch}"))
for _parts in (
    lambda other: {"space": other.space}, lambda other: {"id": other.change}, lambda other: {"record": other.session}, lambda other: {"record": other.erased},
    lambda other: {"record": other.photo}, lambda other: {"base": other.change}, lambda other: {"settles": [other.change]},
    lambda other: {"kind": "piece", "record": other.session}, lambda other: {"field": "seller", "value": other.seller},
    lambda other: {"kind": "visit", "field": "session", "value": other.erased},
):  # fmt: skip
    trial("POST", "/api/changes")(lambda phone, other, parts=_parts: send_changes(phone, **parts(other)))
trial("POST", "/api/changes")(lambda phone, other: phone.post("/api/changes", {"epoch": other.epoch, "changes": []}))

trial("GET", "/api/media/<sha256>")(lambda phone, other: phone.get(f"/api/media/{other.hash}"))
trial("HEAD", "/api/media/<sha256>")(lambda phone, other: phone.http.head(f"/api/media/{other.hash}"))
trial("HEAD", "/api/media/<sha256>")(lambda phone, other: phone.http.head(f"/api/media/{sha256(other.begun)}"))
trial("POST", "/api/media/known")(lambda phone, other: phone.post("/api/media/known", {"hashes": [other.hash, sha256(other.begun)]}))
# Who knows a hash must not be taken to have the bytes; who has the bytes must not be told that they were here.
trial("PUT", "/api/media/<sha256>")(lambda phone, other: put(phone, other.hash, b"not these"))
trial("PUT", "/api/media/<sha256>")(lambda phone, other: put(phone, other.hash, other.file))
trial("PUT", "/api/media/<sha256>")(lambda phone, other: put(phone, sha256(other.begun), b"x", **{"X-Offset": "500", "X-Total": str(len(other.begun))}))
trial("PUT", "/api/media/<sha256>")(lambda phone, other: put(phone, sha256(other.begun), bytes(900), **{"X-Offset": "0", "X-Total": str(len(other.begun))}))
trial("GET", "/api/recordings/<sha256>/measure")(lambda phone, other: phone.get(f"/api/recordings/{other.hash}/measure?marked=1/50"))

trial("POST", "/api/reports")(lambda phone, other: phone.post("/api/reports", {"session": other.session}))
trial("POST", "/api/reports")(lambda phone, other: phone.post("/api/reports", {"piece": other.piece, "allow_missing": True}))


@trial("POST", "/api/reports")
def _reports_a_file_of_the_other_book(phone: Phone, other: Target) -> TestResponse:
    session, piece, visit = (secrets.token_hex(16) for _ in range(3))
    file = {"hash": other.hash, "type": "image/jpeg", "bytes": len(other.file), "width": 64, "height": 48}
    wanted: list[tuple[str, str, dict[str, Any]]] = [
        ("session", session, {"title": "Mine", "began": MOMENT}), ("piece", piece, {"kind": "lens", "title": "Mine"}),
        ("visit", visit, {"session": session, "piece": piece, "began": MOMENT, "tag": "A"}),
        ("answer", secrets.token_hex(16), {"visit": visit, "check": "lens.glass.haze", "place": "", "result": {"outcome": "in_order", "at": MOMENT}}),
        ("photo", secrets.token_hex(16), {"visit": visit, "file": file, "taken": MOMENT, "left_out": False, "check": "lens.glass.haze"}),
    ]  # fmt: skip
    results = phone.push(*[phone.edit(kind, record, name, value) for kind, record, values in wanted for name, value in values.items()])
    assert {result["result"] for result in results} == {"ok"}
    answer = phone.post("/api/reports", {"session": session})
    assert answer.json["error"]["missing"] == [other.hash]
    return answer


trial("GET", "/api/reports")(lambda phone, other: phone.get(f"/api/reports?session={other.session}"))
trial("GET", "/api/reports")(lambda phone, other: phone.get(f"/api/reports?piece={other.piece}"))
trial("POST", "/api/reports/<publication>/links")(lambda phone, other: phone.post(f"/api/reports/{other.publication}/links", {"recipient": "me"}))
trial("PATCH", "/api/links/<link>")(lambda phone, other: phone.http.patch(f"/api/links/{other.link}", json={"leads_on": True}, headers=FROM_APP))
trial("DELETE", "/api/links/<link>")(lambda phone, other: phone.delete(f"/api/links/{other.link}"))
for _dry_run in (True, False):
    trial("POST", "/api/erase")(lambda phone, other, dry=_dry_run: phone.post("/api/erase", {"kind": "session", "id": other.session, "dry_run": dry}))
    trial("POST", "/api/erase")(lambda phone, other, dry=_dry_run: phone.post("/api/erase", {"kind": "seller", "id": other.seller, "dry_run": dry}))

# A shared report is for whoever has its secret; nothing else that a book holds may serve as one.
for _path in ("", "page", "style.css", "report.pdf", "report.html", "newer/", "newer/style.css"):
    for _guess in ("publication", "link", "session"):
        trial("GET", f"/r/<token>/{_path}")(lambda phone, other, path=_path, guess=_guess: phone.get(f"/r/{getattr(other, guess)}/{path}"))
trial("GET", "/r/<token>/photo/<sha256>.jpg")(lambda phone, other: phone.get(f"/r/{other.publication}/photo/{other.hash}.jpg"))
trial("GET", "/r/<token>/newer/photo/<sha256>.jpg")(lambda phone, other: phone.get(f"/r/{other.publication}/newer/photo/{other.hash}.jpg"))
# Anyone may hold a file against what was published; of what was not published nothing is told.
trial("POST", "/evidence/")(lambda phone, other: phone.http.post("/evidence/", data={"file": (BytesIO(other.file), "sound.wav")}))


def shows_no_book(rule: Rule) -> bool:
    return (rule.rule in OPEN_TO_ALL and "POST" not in rule.methods) or rule.endpoint.startswith("web_app.")


def test_no_route_was_forgotten(app: Flask) -> None:
    routes = {(method, rule.rule) for rule in app.url_map.iter_rules() if not shows_no_book(rule) for method in rule.methods - {"OPTIONS"}}
    # A route that answers GET answers HEAD alike, unless it has a HEAD of its own: both are tried below.
    untried = {(method, rule) for method, rule in routes if (method, rule) not in TRIALS and not (method == "HEAD" and ("GET", rule) in TRIALS)}
    assert not untried, "write a trial for each: how would a device of another book try to get in?"
    assert set(TRIALS) <= routes, "a trial without its route"


@pytest.mark.parametrize(("route", "number"), [(route, number) for route, calls in TRIALS.items() for number in range(len(calls))])
def test_nothing_goes_through_the_wall(app: Flask, services: Services, next_door: tuple[Target, Phone], route: tuple[str, str], number: int) -> None:
    target, owner = next_door
    before = all_of(services, target.space)
    # Two equal books: one tries what exists next door, the other what exists nowhere. The answers must not differ.
    there, none = (TRIALS[route][number](new_book(app, "Mine"), other) for other in (target, nowhere()))
    assert said(there) == said(none)
    text = there.get_data(as_text=True)
    assert [word for word in target.words if word.lower() in text.lower()] == []
    assert all_of(services, target.space) == before
    assert owner.get("/api/me").status_code == 200


@pytest.mark.parametrize("method", ["HEAD", "OPTIONS"])
def test_asking_how_tells_nothing_either(app: Flask, next_door: tuple[Target, Phone], method: str) -> None:
    target, _ = next_door
    for (_, rule), _ in TRIALS.items():
        answers = []
        for other in (target, nowhere()):
            mine = new_book(app, "Mine")
            names = {"device": other.device, "sha256": other.hash, "publication": other.publication, "link": other.link, "token": other.publication}
            path = rule
            for name, value in names.items():
                path = path.replace(f"<{name}>", value)
            answers.append(said(mine.http.open(path, method=method)))
        assert answers[0] == answers[1], rule


def test_what_is_open_to_all_is_the_same_for_all(app: Flask, next_door: tuple[Target, Phone]) -> None:
    askers = [next_door[1].http, new_book(app, "Mine").http, app.test_client()]
    rules = [rule.rule for rule in app.url_map.iter_rules() if shows_no_book(rule) and not rule.rule.startswith("/assets/")]
    assert set(OPEN_TO_ALL) <= set(rules)
    for rule in rules:
        first, *others = [said(http.get(rule)) for http in askers]
        assert all(other == first for other in others), rule


def test_the_same_photo_in_two_books_is_two_photos(app: Flask, services: Services) -> None:
    books, data = [new_book(app, "One"), new_book(app, "Two")], a_sound()
    sessions = []
    for phone in books:
        session, visit = secrets.token_hex(16), secrets.token_hex(16)
        file = {"hash": sha256(data), "type": "audio/wav", "bytes": len(data), "rate_hz": 48_000, "duration_ms": 416.0}
        phone.push(phone.edit("session", session, "title", "Sale"), phone.edit("visit", visit, "session", session))
        phone.push(*[phone.edit("recording", "e" * 32, name, value) for name, value in (("visit", visit), ("file", file))])
        assert phone.put_media(data, "audio/wav").status_code == 200
        sessions.append(session)
    before = all_of(services, books[1].space)
    gone = books[0].post("/api/erase", {"kind": "session", "id": sessions[0], "dry_run": False}).json
    assert (gone["media"], gone["records"]["recording"]) == (1, 1)
    assert all_of(services, books[1].space) == before
    assert [phone.get(f"/api/media/{sha256(data)}").status_code for phone in books] == [404, 200]
    # Erased in one book, the same record id is welcome in the other.
    assert [phone.push(phone.edit("recording", "e" * 32, "deleted", False))[0]["result"] for phone in books] == ["refused", "ok"]


def test_a_link_shows_the_photos_of_its_own_report_only(app: Flask, next_door: tuple[Target, Phone]) -> None:
    target, _ = next_door
    token, mine, data = target.words[-1], new_book(app, "Mine"), a_sound()
    mine.put_media(data, "audio/wav")
    asked = [mine.get(f"/r/{token}/photo/{name}.jpg") for name in (sha256(data), target.hash, secrets.token_hex(32))]
    assert {said(answer)[0] for answer in asked} == {404} and len({said(answer)[2] for answer in asked}) == 1
    assert said(mine.get(f"/r/{token}/"))[1:] == said(app.test_client().get(f"/r/{token}/"))[1:], "a cookie opens nothing more"


def test_the_trials_would_notice(app: Flask, services: Services, next_door: tuple[Target, Phone]) -> None:
    """The owner's own asking differs from asking for nothing: else the comparison above would prove nothing."""
    target, owner = next_door
    for route in [("GET", "/api/media/<sha256>"), ("GET", "/api/reports"), ("HEAD", "/api/media/<sha256>"), ("POST", "/api/media/known")]:
        assert said(TRIALS[route][0](owner, target)) != said(TRIALS[route][0](owner, nowhere())), route
    assert dataclasses.asdict(target)["words"] and "planted" in str(all_of(services, target.space))
