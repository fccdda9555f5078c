"""Reading records back: by parent, whole sessions and pieces, at a cost that does not grow with what else is there."""

from __future__ import annotations

import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from phones import change_of
from statements import telling_of_statements

from barnlight.domain import clock
from barnlight.services import Services
from barnlight.store import publications, records, shares
from barnlight.sync.push import push

DEVICE = "d" * 32


class Writer:
    """Puts records into the store the way a phone's changes do."""

    def __init__(self, services: Services) -> None:
        self.services, self.space = services, services.space()
        self.stamp: str | None = None

    def put(self, kind: str, record: str | None = None, /, **values: Any) -> str:
        record = record or secrets.token_hex(16)
        edits = []
        for field, value in values.items():
            self.stamp = clock.tick(self.stamp, self.services.now_ms(), DEVICE)
            edits.append(change_of(self.space, DEVICE, self.stamp, kind, record, field, value))
        results = push(self.services.database, self.space, DEVICE, edits, self.services.now_ms())[1]
        assert [result["result"] for result in results] == ["ok"] * len(edits), results
        return record

    def looked_at(self, session: str | None = None) -> dict[str, str]:
        """A session with one of everything that belongs to a piece; returns the ids by kind."""
        made = {"session": session or self.put("session", title="Barn")}
        made["piece"] = self.put("piece", kind="camera", title="Folding camera")
        made["visit"] = self.put("visit", session=made["session"], piece=made["piece"])
        at_visit = {"visit": made["visit"], "check": "bellows_light", "place": ""}
        made["answer"] = self.put("answer", **at_visit, result={"outcome": "worn"})
        made["reading"] = self.put("reading", **at_visit, typed={"text": "4.8", "unit": "mm"})
        made["photo"] = self.put("photo", visit=made["visit"])
        made["spot"] = self.put("spot", photo=made["photo"], at={"x": 0.5, "y": 0.5})
        made["recording"] = self.put("recording", visit=made["visit"])
        made["take"] = self.put("take", visit=made["visit"], recording=made["recording"])
        made["mark"] = self.put("mark", take=made["take"], moved={"open_s": 0.1, "close_s": 0.2})
        made["claim"] = self.put("claim", piece=made["piece"], visit=None, check="bellows_light", asserted={"outcome": "in_order"})
        made["repair"] = self.put("repair", piece=made["piece"], what="New bellows")
        made["film_test"] = self.put("film_test", piece=made["piece"], found="No leak")
        return made


@pytest.fixture
def writer(services: Services) -> Writer:
    return Writer(services)


@contextmanager
def counted(services: Services) -> Iterator[list[str]]:
    """The statements sent to the database meanwhile."""
    sent: list[str] = []
    with telling_of_statements(services.database, sent.append):
        yield sent


def ids(by_kind: records.ByKind) -> dict[str, list[str]]:
    return {kind: [record["id"] for record in found] for kind, found in by_kind.items()}


def test_a_session_and_a_piece_bring_all_that_belongs_to_them(writer: Writer) -> None:
    made = writer.looked_at()
    writer.looked_at()
    with writer.services.database.read() as db:
        session = records.of_session(db, writer.space, made["session"])
        piece = records.of_piece(db, writer.space, made["piece"])
    everything = {kind: [record] for kind, record in made.items()}
    assert ids(session) == everything
    assert ids(piece) == everything
    assert session["piece"] == [{"id": made["piece"], "kind": "camera", "title": "Folding camera"}], "the piece's own kind stands"
    assert session["spot"] == [{"id": made["spot"], "kind": "spot", "photo": made["photo"], "at": {"x": 0.5, "y": 0.5}}]


def test_a_piece_seen_in_two_sessions_brings_both_visits(writer: Writer) -> None:
    made = writer.looked_at()
    again = writer.put("visit", session=None, piece=made["piece"], occasion="after_repair")
    with writer.services.database.read() as db:
        assert sorted(ids(records.of_piece(db, writer.space, made["piece"]))["visit"]) == sorted([made["visit"], again])
        assert ids(records.of_session(db, writer.space, made["session"]))["visit"] == [made["visit"]]


def test_deleted_is_left_out_with_what_hangs_on_it(writer: Writer) -> None:
    made = writer.looked_at()
    writer.put("photo", made["photo"], deleted=True)
    with writer.services.database.read() as db:
        found = ids(records.of_session(db, writer.space, made["session"]))
    assert "photo" not in found and "spot" not in found and "mark" in found
    writer.put("session", made["session"], deleted=True)
    with writer.services.database.read() as db:
        assert records.of_session(db, writer.space, made["session"]) == {}


def test_a_photo_moved_to_another_visit_goes_with_it(writer: Writer) -> None:
    here, there = writer.looked_at(), writer.looked_at()
    writer.put("photo", here["photo"], visit=there["visit"])
    with writer.services.database.read() as db:
        assert "photo" not in records.of_session(db, writer.space, here["session"])
        assert sorted(ids(records.of_session(db, writer.space, there["session"]))["photo"]) == sorted([here["photo"], there["photo"]])


def test_an_id_of_another_kind_or_space_finds_nothing(writer: Writer) -> None:
    made = writer.looked_at()
    with writer.services.database.read() as db:
        assert records.of_session(db, writer.space, made["piece"]) == {}
        assert records.of_piece(db, "0" * 32, made["piece"]) == {}
        assert [record["kind"] for record in records.load(db, writer.space, ids=[made["claim"], "0" * 32])] == ["claim"]


def test_the_number_of_questions_does_not_grow_with_the_store(writer: Writer) -> None:
    made = writer.looked_at()
    with counted(writer.services) as alone, writer.services.database.read() as db:
        records.of_session(db, writer.space, made["session"])
    for _ in range(12):
        writer.looked_at()
        writer.looked_at(made["session"])
    with counted(writer.services) as among_many, writer.services.database.read() as db:
        found = records.of_session(db, writer.space, made["session"])
    assert len(found["piece"]) == 13 and len(among_many) == len(alone)


def test_children_are_found_by_an_index(writer: Writer) -> None:
    with writer.services.database.read() as db:
        plan = db.connection().exec_driver_sql(
            "EXPLAIN QUERY PLAN SELECT records.id FROM records JOIN parents ON parents.space = records.space AND parents.child = records.id"
            " WHERE records.space = 'x' AND parents.parent IN ('y')"
        )
        steps = [row[-1] for row in plan]
    assert any("parents_of_children" in step for step in steps) and not any(step.startswith("SCAN") for step in steps)


def test_publications_are_numbered_and_links_hold_until_revoked_or_over(writer: Writer) -> None:
    made, space = writer.looked_at(), writer.space
    about = {"about": made["session"], "about_kind": "session", "title": "Barn", "view": {"a": 1}, "html": "<p>", "css": "p{}", "media": []}
    with writer.services.database.write() as db:
        first, second = (publications.add(db, space, **about, version=publications.next_version(db, space, made["session"]), now_ms=moment) for moment in (1, 2))
        assert (first.version, second.version) == (1, 2)
        token, link = shares.make(db, second, "A buyer", expires_ms=100, now_ms=2)
        shares.count_opening(db, link.id, "2026-11-25")
    with writer.services.database.read() as db:
        assert [each.version for each in publications.about(db, space, made["session"])] == [2, 1]
        assert publications.get(db, "0" * 32, second.id) is None
        found, shown = shares.find(db, token)
        assert (shown.id, found.opened, found.last_opened_day) == (second.id, 1, "2026-11-25")
        assert shares.is_open(found, 99) and not shares.is_open(found, 100)
        assert shares.find(db, token[:-1]) is None
        assert [each.id for each in shares.of_publications(db, [first.id, second.id])[second.id]] == [link.id]
    with writer.services.database.write() as db:
        assert not shares.revoke(db, "0" * 32, link.id, 5)
        assert shares.revoke(db, space, link.id, 5)
        assert not shares.is_open(shares.find(db, token)[0], 6)
