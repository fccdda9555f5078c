"""Random runs of phones, a server and a network that loses, repeats and reorders, against the real store and sync."""

from __future__ import annotations

import random
import tempfile
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule
from phones import change_of

from barnlight.domain import clock, merge
from barnlight.store import changes, records, spaces, verify
from barnlight.store.blobs import DiskBlobs
from barnlight.store.engine import Database
from barnlight.sync.pull import pull
from barnlight.sync.push import AHEAD_MS, push

DEVICES = [f"{number:032x}" for number in (1, 2, 3)]
RECORDS = [f"{number:032x}" for number in (101, 102)]
FIELDS = ("title", "note")
START_MS = 1_800_000_000_000
HOUR, DAY = 3_600_000, 86_400_000

devices = st.sampled_from(DEVICES)


class ModelPhone:
    """The protocol as a phone keeps it: history, outbox, cursor and clock, saved together."""

    def __init__(self, space: str, device: str, seed: int) -> None:
        self.space, self.device = space, device
        self.random = random.Random(seed)
        self.history: dict[str, dict[str, Any]] = {}
        self.outbox: list[str] = []
        self.cursor, self.clock = 0, None
        self.wall_offset_ms = 0

    def of_field(self, record: str, field: str) -> list[dict[str, Any]]:
        return [change for change in self.history.values() if (change["record"], change["field"]) == (record, field)]

    def winner(self, record: str, field: str) -> dict[str, Any] | None:
        return max(self.of_field(record, field), key=lambda change: (change["stamp"], change["id"]), default=None)

    def edit(self, record: str, field: str, value: str, now_ms: int, number: int) -> dict[str, Any]:
        seen = self.winner(record, field)
        self.clock = clock.tick(self.clock, now_ms + self.wall_offset_ms, self.device)
        made = change_of(self.space, self.device, self.clock, "piece", record, field, value, id=f"{number:032x}", base=seen and seen["id"])
        self.history[made["id"]] = made
        self.outbox.append(made["id"])
        return made

    def told(self, results: list[dict[str, Any]]) -> None:
        for result in results:
            assert result["result"] in ("ok", "duplicate"), result
            if "stamp" in result:
                self.history[result["id"]] = {**self.history[result["id"]], "stamp": result["stamp"]}
            if result["id"] in self.outbox:
                self.outbox.remove(result["id"])
        if not self.outbox:  # the one moment a clock may be lowered: to the largest stamp held
            self.clock = max((change["stamp"] for change in self.history.values()), default=self.clock)

    def received(self, page: dict[str, Any], now_ms: int) -> None:
        for change in page["changes"]:
            self.history.setdefault(change["id"], {name: value for name, value in change.items() if name != "number"})  # as the app: what is known stays
            self.clock = clock.receive(self.clock, change["stamp"], now_ms + self.wall_offset_ms, self.device)
        self.cursor = page["next"]


class Sync(RuleBasedStateMachine):
    """Every rule is something that happens at a sale; the invariants are those of the protocol."""

    @initialize(seed=st.integers(0, 2**32))
    def begin(self, seed: int) -> None:
        self.folder = tempfile.TemporaryDirectory()
        self.database = Database(f"sqlite:///{Path(self.folder.name) / 'store.sqlite3'}")
        self.database.migrate()
        with self.database.write() as db:
            self.space = spaces.make(db, "Machine", START_MS).id
        self.now_ms = START_MS
        self.phones = {device: ModelPhone(self.space, device, seed) for device in DEVICES}
        self.made: dict[str, dict[str, Any]] = {}
        self.on_the_way: list[tuple[str, list[dict[str, Any]]]] = []

    def teardown(self) -> None:
        if not hasattr(self, "database"):
            return
        try:
            self.settle()
        finally:
            self.database.close()
            self.folder.cleanup()

    @rule(device=devices, record=st.sampled_from(RECORDS), field=st.sampled_from(FIELDS), value=st.sampled_from("abc"))
    def edit(self, device: str, record: str, field: str, value: str) -> None:
        phone = self.phones[device]
        before = phone.winner(record, field)
        made = phone.edit(record, field, value, self.now_ms, len(self.made) + 1)
        self.made[made["id"]] = made
        assert before is None or merge.wins(made, before), "an edit made after seeing a value never loses to it"

    @rule(device=devices, offset_ms=st.sampled_from([-HOUR, 0, AHEAD_MS - 1, HOUR, 400 * DAY]))
    def clock_jumps(self, device: str, offset_ms: int) -> None:
        self.phones[device].wall_offset_ms = offset_ms

    @rule(step_ms=st.sampled_from([1, 60_000, HOUR]))
    def time_passes(self, step_ms: int) -> None:
        self.now_ms += step_ms

    @rule(device=devices, reply_lost=st.booleans(), copied=st.booleans(), shuffled=st.booleans())
    def send(self, device: str, reply_lost: bool, copied: bool, shuffled: bool) -> None:
        phone = self.phones[device]
        batch = [phone.history[change] for change in phone.outbox]
        if shuffled:
            phone.random.shuffle(batch)
        if copied:
            self.on_the_way.append((device, list(batch)))
        results = push(self.database, self.space, device, batch, self.now_ms)[1]
        if not reply_lost:
            phone.told(results)

    @rule()
    def a_copy_arrives_late(self) -> None:
        if self.on_the_way:
            device, batch = self.on_the_way.pop()
            results = push(self.database, self.space, device, batch, self.now_ms)[1]
            assert all(result["result"] in ("ok", "duplicate") for result in results)

    @rule(device=devices, limit=st.integers(1, 4), lost=st.booleans())
    def receive(self, device: str, limit: int, lost: bool) -> None:
        page = pull(self.database, self.space, self.phones[device].cursor, limit)
        if not lost:
            self.phones[device].received(page, self.now_ms)

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

    def stored(self) -> list[dict[str, Any]]:
        with self.database.read() as db:
            return changes.since(db, self.space, 0, 10_000)

    def settle(self) -> None:
        """Quiet: everybody sends and receives all; then all are equal, and nothing that was made is gone."""
        for device, phone in self.phones.items():
            phone.told(push(self.database, self.space, device, [phone.history[change] for change in phone.outbox], self.now_ms)[1])
            assert phone.outbox == []
        for phone in self.phones.values():
            while (page := pull(self.database, self.space, phone.cursor, 3))["changes"]:
                phone.received(page, self.now_ms)
        with self.database.read() as db:
            blobs = DiskBlobs(Path(self.folder.name) / "media")
            assert list(verify.faults(db, blobs, spaces.get(db, self.space))) == []
        by_id = {change["id"]: change for change in self.stored()}
        assert by_id.keys() == self.made.keys(), "nothing that was made is gone"
        for change in by_id.values():
            assert change["base"] is None or merge.wins(change, by_id[change["base"]]), "re-stamping keeps cause before effect"
        stored = {change["id"]: {name: value for name, value in change.items() if name != "number"} for change in by_id.values()}
        for phone in self.phones.values():
            assert phone.history == stored
            assert all(change["stamp"] <= phone.clock for change in stored.values()), "what is done next never loses"
        with self.database.read() as db:
            on_server = {record["id"]: records.plain(record) for record in records.load(db, self.space)}
        phone = self.phones[DEVICES[0]]
        for record in RECORDS:
            for field in FIELDS:
                winner = phone.winner(record, field)
                assert on_server.get(record, {}).get(field) == (winner and winner["value"])
                everyone = [merge.versions(each.of_field(record, field)) for each in self.phones.values()]
                assert everyone[0] == everyone[1] == everyone[2]
                if winner:
                    assert everyone[0][0] == winner, "the value shown is the first of its versions"


Sync.TestCase.settings = settings(
    max_examples=40, stateful_step_count=25, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
TestSync = Sync.TestCase
