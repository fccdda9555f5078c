"""Random runs of phones, a server that dies and a network that loses, repeats and reorders, against the real store, sync and intake."""

from __future__ import annotations

import tempfile
from contextlib import suppress
from io import BytesIO
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule
from interleaving import Moment, dying_at_statement, in_between
from model_phone import LONGEST_TITLE, ModelPhone, picture
from phones import sha256

from barnlight.config import Config
from barnlight.domain import clock, merge
from barnlight.exchange.intake import take_in, take_piece
from barnlight.services import Services
from barnlight.store import changes, records, spaces, verify
from barnlight.sync import push as pushing
from barnlight.sync.pull import pull
from barnlight.sync.push import AHEAD_MS

DEVICES = [f"{number:032x}" for number in (1, 2, 3)]
RECORDS = [f"{number:032x}" for number in (101, 102)]
FIELDS = ("title", "note")
START_MS = 1_800_000_000_000
HOUR, DAY = 3_600_000, 86_400_000

devices = st.sampled_from(DEVICES)


class LineCut(ConnectionError):
    """The phone heard no answer."""


class CutShort(BytesIO):
    """A body whose sender is gone in the middle."""

    def read(self, size: int | None = -1) -> bytes:
        if self.tell() > 0:
            raise LineCut
        return super().read(len(self.getbuffer()) // 2)


class Sync(RuleBasedStateMachine):
    """Every rule is something that happens at a sale; the invariants are those of the protocol."""

    @initialize(seed=st.integers(0, 2**32))
    def begin(self, seed: int) -> None:
        self.folder = tempfile.TemporaryDirectory()
        self.now_ms = START_MS
        self.start()
        self.space = self.services.space()
        self.phones = {device: ModelPhone(self.space, device, seed) for device in DEVICES}
        self.made: dict[str, dict[str, Any]] = {}
        self.taken: dict[str, bytes] = {}
        self.on_the_way: list[tuple[str, list[dict[str, Any]]]] = []

    def start(self) -> None:
        self.services = Services.open(Config(data_dir=Path(self.folder.name)), lambda: self.now_ms)
        self.database = self.services.database

    def teardown(self) -> None:
        if not hasattr(self, "database"):
            return
        try:
            self.settle()
        finally:
            self.database.close()
            self.folder.cleanup()

    @rule()
    def server_dies(self) -> None:
        self.database.close()
        self.start()

    @rule(device=devices, record=st.sampled_from(RECORDS), field=st.sampled_from(FIELDS), value=st.sampled_from("abc"))
    def edit(self, device: str, record: str, field: str, value: str) -> None:
        phone = self.phones[device]
        before = phone.winner(record, field)
        made = phone.edit(record, field, value, self.now_ms, len(self.made) + 1)
        self.made[made["id"]] = made
        assert before is None or merge.wins(made, before), "an edit made after seeing a value never loses to it"

    @rule(device=devices, record=st.sampled_from(RECORDS))
    def edit_that_will_be_refused(self, device: str, record: str) -> None:
        self.edit(device, record, "title", "x" * (LONGEST_TITLE + 1))

    @rule(device=devices, offset_ms=st.sampled_from([-HOUR, 0, AHEAD_MS - 1, HOUR, 400 * DAY]))
    def clock_jumps(self, device: str, offset_ms: int) -> None:
        self.phones[device].wall_offset_ms = offset_ms

    @rule(step_ms=st.sampled_from([1, 60_000, HOUR]))
    def time_passes(self, step_ms: int) -> None:
        self.now_ms += step_ms

    def push(self, device: str, batch: list[dict[str, Any]]) -> list[dict[str, Any]]:
        return pushing.push(self.database, self.space, device, batch, self.now_ms)[1]

    @rule(device=devices, reply_lost=st.booleans(), copied=st.booleans(), shuffled=st.booleans())
    def send(self, device: str, reply_lost: bool, copied: bool, shuffled: bool) -> None:
        phone = self.phones[device]
        batch = phone.batch()
        if shuffled:
            phone.random.shuffle(batch)
        if copied:
            self.on_the_way.append((device, list(batch)))
        results = self.push(device, batch)
        if not reply_lost:
            phone.told(results)

    @rule(device=devices, nth=st.integers(1, 12))
    def server_dies_while_it_stores(self, device: str, nth: int) -> None:
        with dying_at_statement(self.database, nth):
            self.push(device, self.phones[device].batch())
        self.server_dies()

    @rule()
    def a_copy_arrives_late(self) -> None:
        if self.on_the_way:
            device, batch = self.on_the_way.pop()
            self.push(device, batch)

    @rule(pair=st.permutations(DEVICES), reader=devices, moment=st.sampled_from(["before_commit", "after_commit"]))
    def two_send_at_once(self, pair: list[str], reader: str, moment: Moment) -> None:
        """The second arrives while the first is held at its commit, and somebody asks in between."""
        first, second = self.phones[pair[0]], self.phones[pair[1]]
        if first.outbox and second.outbox:
            batches = first.batch(), second.batch()
            said = in_between(self.database, lambda: self.push(first.device, batches[0]), lambda: self.push(second.device, batches[1]), moment,
                              lambda: self.receive(reader, limit=50, lost=False))  # fmt: skip
            first.told(said[0])
            second.told(said[1])

    @rule(device=devices, limit=st.integers(1, 4), lost=st.booleans())
    def receive(self, device: str, limit: int, lost: bool) -> None:
        page = pull(self.database, self.space, self.phones[device].cursor, limit)
        if not lost:
            self.phones[device].received(page, self.now_ms)

    @rule(device=devices)
    def take_photo(self, device: str) -> None:
        data = picture(len(self.taken))
        self.taken[self.phones[device].keep_photo(data)] = data
        file = {"hash": sha256(data), "type": "image/jpeg", "bytes": len(data), "width": 24, "height": 16}
        number = len(self.made) + 1
        made = self.phones[device].edit(f"{1000 + number:032x}", "file", file, self.now_ms, number, kind="photo")
        self.made[made["id"]] = made

    @rule(device=devices, pieces=st.booleans(), cut_at=st.none() | st.integers(0, 2), reply_lost=st.booleans())
    def upload(self, device: str, pieces: bool, cut_at: int | None, reply_lost: bool) -> None:
        with suppress(LineCut):  # the phone goes on another time
            self.phones[device].upload(lambda photo, data: self.put(photo, data, pieces, cut_at, reply_lost))

    @rule(device=devices, nth=st.integers(1, 6))
    def server_dies_while_it_keeps_a_photo(self, device: str, nth: int) -> None:
        with dying_at_statement(self.database, nth), suppress(LineCut):  # either way the phone hears nothing
            self.phones[device].upload(lambda photo, data: self.put(photo, data, nth % 2 == 0, None, True))
        self.server_dies()

    @rule(device=devices)
    def free(self, device: str) -> None:
        self.phones[device].free()

    def put(self, photo: str, data: bytes, pieces: bool, cut_at: int | None, reply_lost: bool) -> bool:
        """As the routes of api/media do; a piece is a third of the photo."""
        def body(piece: bytes, number: int) -> BytesIO:
            return CutShort(piece) if number == cut_at else BytesIO(piece)

        kept = False
        if pieces:
            step = len(data) // 3 + 1
            at = min(self.services.partials.received(self.space, photo), len(data) - 1)
            for number in range(4):
                if not kept:
                    at, kept = take_piece(self.services, self.space, photo, "image/jpeg", body(data[at : at + step], number), at, len(data))
        else:
            kept = take_in(self.services, self.space, photo, "image/jpeg", body(data, 0)) == len(data)
        if reply_lost:
            raise LineCut
        return kept

    @invariant()
    def stored_once_and_in_order(self) -> None:
        if not hasattr(self, "database"):
            return
        stored = self.stored()
        assert [change["number"] for change in stored] == list(range(1, len(stored) + 1))
        assert len({change["id"] for change in stored}) == len(stored)
        assert all(clock.parse(change["stamp"])[0] <= self.now_ms + AHEAD_MS for change in stored), "no stamp stays far ahead"
        with self.database.read() as db:
            for record in records.load(db, self.space):
                for field, held in record["fields"].items():
                    all_of_it = [change for change in stored if (change["record"], change["field"]) == (record["id"], field)]
                    assert held["change"] == max(all_of_it, key=lambda change: (change["stamp"], change["id"]))["id"]
        for phone in self.phones.values():
            unseen = [change["number"] for change in stored if change["id"] not in phone.history]
            assert all(number > phone.cursor for number in unseen), "a cursor never skips"

    @invariant()
    def every_photo_is_somewhere(self) -> None:
        for photo in getattr(self, "taken", {}):
            assert any(photo in phone.photos for phone in self.phones.values()) or self.services.blobs.has(self.space, photo)

    def stored(self) -> list[dict[str, Any]]:
        with self.database.read() as db:
            return changes.since(db, self.space, 0, 10_000)

    def settle(self) -> None:
        """Quiet: everybody sends and receives all; then all are equal, and nothing that was made is gone."""
        for device, phone in self.phones.items():
            phone.told(self.push(device, phone.batch()))
            assert phone.outbox == []
            while phone.waiting:
                phone.upload(lambda photo, data: self.put(photo, data, True, None, False))
            phone.free()
        for phone in self.phones.values():
            while (page := pull(self.database, self.space, phone.cursor, 3))["changes"]:
                phone.received(page, self.now_ms)
        with self.database.read() as db:
            assert list(verify.faults(db, self.services.blobs, spaces.get(db, self.space))) == []
        for photo, data in self.taken.items():
            assert self.services.blobs.has(self.space, photo) and self.services.blobs.read(self.space, photo) == data
        refused = set().union(*(phone.refused for phone in self.phones.values()))
        by_id = {change["id"]: change for change in self.stored()}
        assert by_id.keys() == self.made.keys() - refused, "nothing that was made is gone"
        for change in by_id.values():
            assert change["base"] not in by_id or merge.wins(change, by_id[change["base"]]), "re-stamping keeps cause before effect"
        stored = {change["id"]: {name: value for name, value in change.items() if name != "number"} for change in by_id.values()}
        for phone in self.phones.values():
            assert all(change["stamp"] <= phone.clock for change in stored.values()), "what is done next never loses"
            for change in phone.refused:
                del phone.history[change]
            assert phone.history == stored
        self.all_see_the_same()

    def all_see_the_same(self) -> None:
        with self.database.read() as db:
            on_server = {record["id"]: records.plain(record) for record in records.load(db, self.space)}
        for record in RECORDS:
            for field in FIELDS:
                winner = self.phones[DEVICES[0]].winner(record, field)
                assert on_server.get(record, {}).get(field) == (winner and winner["value"])
                everyone = [merge.versions(each.of_field(record, field)) for each in self.phones.values()]
                assert everyone[0] == everyone[1] == everyone[2]
                if winner:
                    assert everyone[0][0] == winner, "the value shown is the first of its versions"


Sync.TestCase.settings = settings(
    max_examples=40, stateful_step_count=30, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
TestSync = Sync.TestCase
