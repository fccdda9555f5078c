"""What the protocol promises, scenario by scenario, over HTTP against the real store (source: sync/README.md)."""

from __future__ import annotations

import gzip
import json
import secrets
from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask
from phones import FROM_APP, Phone, change_of

from barnlight.domain import clock
from barnlight.store import records
from barnlight.sync.own import write as write_own
from barnlight.sync.push import AHEAD_MS

MINUTE, YEAR = 60_000, 365 * 24 * 3600 * 1000


@pytest.fixture
def phone(app: Flask) -> Phone:
    return Phone(app).pair()


def a_record() -> str:
    return secrets.token_hex(16)


def held(phone: Phone, record: str) -> dict[str, Any]:
    """The record's values on the server."""
    with phone.services.database.read() as db:
        [found] = records.load(db, phone.space, ids=[record])
    return records.plain(found)


def test_a_lost_reply_is_asked_again_and_stored_once(phone: Phone) -> None:
    edit = phone.edit("session", a_record(), "title", "Barn on the hill")
    assert [result["result"] for result in phone.push(edit, edit)] == ["ok", "duplicate"]
    [again] = phone.push(edit)
    assert again == {"id": edit["id"], "result": "duplicate", "number": 1}
    assert [change["id"] for change in phone.pull()["changes"]] == [edit["id"]]


def test_numbers_have_no_gaps_and_a_cursor_never_skips(phone: Phone) -> None:
    edits = [phone.edit("session", a_record(), "title", f"Sale {i}") for i in range(7)]
    phone.push(*edits[:3], {"id": "no"}, *edits[3:])
    seen, after, more = [], 0, True
    while more:
        page = phone.pull(after, limit=3)
        seen += page["changes"]
        after, more = page["next"], page["more"]
    assert [change["number"] for change in seen] == [1, 2, 3, 4, 5, 6, 7]
    assert [change["id"] for change in seen] == [edit["id"] for edit in edits]
    assert phone.pull(after) | {"now_ms": 0} == {"epoch": page["epoch"], "changes": [], "next": 7, "more": False, "now_ms": 0}


def test_a_pulled_change_is_the_change_that_was_sent(phone: Phone) -> None:
    sent = phone.edit("seller", a_record(), "note", "keeps the ✂ 𝄞 and \n line ends", settles=[a_record()], later_part={"a": [1, None]})
    phone.push(sent)
    [came] = phone.pull()["changes"]
    assert came == {**sent, "number": 1}


def test_the_later_stamp_wins_in_any_order_of_delivery(app: Flask) -> None:
    one, two = Phone(app).pair(), Phone(app).pair()
    record = a_record()
    early = one.edit("piece", record, "title", "first")
    late = {**two.edit("piece", record, "title", "second"), "stamp": clock.receive(None, early["stamp"], 0, two.device)}
    one.push(late, early)
    assert held(one, record)["title"] == "second"


def test_an_edit_after_seeing_a_value_never_loses_even_with_a_slow_clock(app: Flask) -> None:
    fast, slow = Phone(app).pair(), Phone(app).pair()
    record, now = a_record(), fast.services.now_ms()
    seen = change_of(fast.space, fast.device, clock.tick(None, now + AHEAD_MS - 1000, fast.device), "piece", record, "title", "seen")
    fast.push(seen)
    [pulled] = slow.pull()["changes"]
    stamp = clock.receive(None, pulled["stamp"], now - 60 * MINUTE, slow.device)
    slow.push(change_of(slow.space, slow.device, stamp, "piece", record, "title", "answered", base=pulled["id"]))
    assert held(slow, record)["title"] == "answered"


def test_stamps_far_ahead_are_restamped_told_and_keep_their_order(app: Flask) -> None:
    normal, wild = Phone(app).pair(), Phone(app).pair()
    record, now = a_record(), wild.services.now_ms()
    near = clock.tick(None, now + AHEAD_MS - MINUTE, normal.device)
    normal.push(change_of(normal.space, normal.device, near, "piece", record, "title", "seen by the wild one"))
    first = clock.tick(None, now + YEAR, wild.device)
    second = clock.tick(first, now, wild.device)
    edits = [change_of(wild.space, wild.device, stamp, "piece", record, "title", text) for stamp, text in ((first, "one"), (second, "two"))]
    results = wild.push(*edits)
    stamps = [result["stamp"] for result in results]
    assert near < stamps[0] < stamps[1], "later than what the author may have seen, in the author's order"
    assert all(clock.parse(stamp)[0] <= now + AHEAD_MS + MINUTE and stamp.endswith(wild.device) for stamp in stamps)
    assert held(wild, record)["title"] == "two"
    assert [result["stamp"] for result in wild.push(*edits)] == stamps, "a lost reply is told the same again"
    assert [change["stamp"] for change in wild.pull()["changes"]] == [near, *stamps]


def test_one_bad_change_never_holds_up_the_rest(phone: Phone) -> None:
    good = phone.edit("session", a_record(), "title", "Stays")
    also = phone.edit("session", a_record(), "title", "Stays too")
    bad: list[Any] = [None, 3, "x", [], {}, {**good, "stamp": "soon"}, {**good, "value": "x" * 2000, "id": a_record()}]
    results = phone.push(good, *bad, also)
    assert [result["result"] for result in results] == ["ok", *["refused"] * 7, "ok"]
    assert all(result["message"] and result["reason"] for result in results[1:-1])
    assert {change["value"] for change in phone.pull()["changes"]} == {"Stays", "Stays too"}


REFUSED: dict[str, tuple[str, Callable[[dict[str, Any]], dict[str, Any]]]] = {
    "another space": ("wrong_space", lambda edit: {**edit, "space": "0" * 32}),
    "no id": ("bad_change", lambda edit: {**edit, "id": None}),
    "id with a line end": ("bad_change", lambda edit: {**edit, "id": edit["id"] + "\n"}),
    "value left out": ("bad_change", lambda edit: {name: part for name, part in edit.items() if name != "value"}),
    "no author": ("bad_change", lambda edit: {**edit, "author": ""}),
    "author too long": ("bad_change", lambda edit: {**edit, "author": "a" * 81}),
    "schema is true": ("bad_change", lambda edit: {**edit, "schema": True}),
    "too many settled": ("bad_change", lambda edit: {**edit, "settles": ["0" * 32] * 101}),
    "a name that is a path": ("bad_change", lambda edit: {**edit, "field": "../title"}),
    "stamp of another device": ("bad_stamp", lambda edit: {**edit, "stamp": clock.tick(None, 1, "0" * 32)}),
    "a number for a text": ("bad_value", lambda edit: {**edit, "value": 7}),
    "text too long": ("bad_value", lambda edit: {**edit, "value": "a" * 121}),
    "zero byte": ("bad_text", lambda edit: {**edit, "value": "a\0b"}),
    "half a character": ("bad_text", lambda edit: {**edit, "value": "\ud800"}),
    "half a character in a name": ("bad_text", lambda edit: {**edit, "value": {"\udfff": 1}}),
    "not a number": ("bad_value", lambda edit: {**edit, "value": float("nan")}),
    "a number no phone holds": ("bad_value", lambda edit: {**edit, "value": 2**53}),
    "17 KiB": ("too_large", lambda edit: {**edit, "value": ["a" * 1000] * 17}),
    "4 KiB beside the value": ("too_large", lambda edit: {**edit, "extra": "a" * 5000}),
    "deep": ("too_deep", lambda edit: {**edit, "value": json.loads("[" * 40 + "]" * 40)}),
    "the server's own kind": ("server_only", lambda edit: {**edit, "kind": "publication"}),
    "day that is none": ("bad_value", lambda edit: {**edit, "field": "day", "value": "2026-02-31"}),
    "id with a line end inside": ("bad_value", lambda edit: {**edit, "field": "seller", "value": "0" * 32 + "\n"}),
}


@pytest.mark.parametrize("case", REFUSED)
def test_refusals_have_stable_reasons(phone: Phone, case: str) -> None:
    reason, spoil = REFUSED[case]
    [result] = phone.push(spoil(phone.edit("session", a_record(), "title", "fine")))
    assert (result["result"], result["reason"]) == ("refused", reason)
    assert phone.pull()["changes"] == []


def test_an_id_used_for_something_else_is_refused(phone: Phone) -> None:
    edit = phone.edit("session", a_record(), "title", "mine")
    [_, other] = phone.push(edit, {**edit, "value": "not mine"})
    assert other["reason"] == "id_in_use"
    assert held(phone, edit["record"])["title"] == "mine"


def test_a_record_keeps_its_kind(phone: Phone) -> None:
    record = a_record()
    [_, second] = phone.push(phone.edit("session", record, "title", "x"), phone.edit("seller", record, "name", "x"))
    assert second["reason"] == "kind_differs"


def test_what_a_newer_app_knows_is_kept_and_passed_on(phone: Phone) -> None:
    record = a_record()
    edits = [
        phone.edit("session", record, "weather", {"rain": True}),
        phone.edit("tripod", a_record(), "legs", 3),
        phone.edit("session", record, "closed", "half", schema=2),
        phone.edit("session", record, "title", "known"),
    ]
    assert [result["result"] for result in phone.push(*edits)] == ["deferred", "deferred", "deferred", "ok"]
    assert [{**change, "number": None} for change in phone.pull()["changes"]] == [{**edit, "number": None} for edit in edits]
    assert held(phone, record) == {"id": record, "kind": "session", "title": "known"}


def test_inner_properties_not_known_here_survive(phone: Phone) -> None:
    record, value = a_record(), {"ms": 5, "offset_min": 60, "leap": True}
    phone.push(phone.edit("session", record, "began", value))
    assert held(phone, record)["began"] == value


def test_a_batch_lands_whole_or_not_at_all(phone: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    from barnlight.store.changes import Book

    edits = [phone.edit("session", a_record(), "title", f"Sale {i}") for i in range(3)]
    with monkeypatch.context() as patch:
        patch.setattr(Book, "close", lambda self: (_ for _ in ()).throw(RuntimeError("power cut")))
        phone.app.testing = False
        assert phone.post("/api/changes", {"changes": edits}).status_code == 500
    assert phone.pull()["changes"] == []
    assert [result["number"] for result in phone.push(*edits)] == [1, 2, 3]


def test_the_servers_own_changes_build_on_what_is_there(phone: Phone) -> None:
    record, moment = a_record(), {"ms": 1, "offset_min": 0}
    for version in (1, 2):
        with phone.services.database.write() as db:
            write_own(db, phone.space, "publication", record, {"version": version, "published": moment}, phone.services.now_ms())
    made = [change for change in phone.pull()["changes"] if change["field"] == "version"]
    assert [change["value"] for change in made] == [1, 2]
    assert made[1]["base"] == made[0]["id"] and made[1]["stamp"] > made[0]["stamp"]
    assert held(phone, record)["version"] == 2


def test_bodies_may_be_squeezed_both_ways(phone: Phone) -> None:
    edits = [phone.edit("session", a_record(), "title", f"Sale {i}") for i in range(40)]
    body = gzip.compress(json.dumps({"changes": edits}).encode())
    answer = phone.http.post("/api/changes", data=body, headers={**FROM_APP, "Content-Encoding": "gzip", "Content-Type": "application/json"})
    assert [result["result"] for result in answer.json["results"]] == ["ok"] * 40
    squeezed = phone.get("/api/changes", headers={"Accept-Encoding": "gzip"})
    assert squeezed.headers["Content-Encoding"] == "gzip"
    assert len(json.loads(gzip.decompress(squeezed.data))["changes"]) == 40


@pytest.mark.parametrize(("body", "status"), [(gzip.compress(b"0" * 40 * 2**20), 413), (gzip.compress(b"{}" * 999)[:-9], 400), (b"nothing of the kind", 400)])
def test_squeezed_bodies_have_the_same_limit(phone: Phone, body: bytes, status: int) -> None:
    answer = phone.http.post("/api/changes", data=body, headers={**FROM_APP, "Content-Encoding": "gzip", "Content-Type": "application/json"})
    assert answer.status_code == status and answer.json["error"]["message"]
