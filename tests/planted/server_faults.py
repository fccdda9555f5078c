"""Faults of the server's side of sync: each function spoils the real code through the patch it is given."""

from __future__ import annotations

from typing import Any

import pytest

from barnlight.domain import clock
from barnlight.store import spaces
from barnlight.store.changes import Book, every, has
from barnlight.sync import pull as pulling
from barnlight.sync import push as pushing

Patch = pytest.MonkeyPatch


def no_device_tie_break(patch: Patch) -> None:
    patch.setattr("barnlight.store.changes.merge.wins", lambda a, b: a["stamp"][:22] > b["stamp"][:22])


def the_last_to_arrive_wins(patch: Patch) -> None:
    patch.setattr("barnlight.store.changes.merge.wins", lambda a, b: True)


def change_ids_not_deduplicated(patch: Patch) -> None:
    patch.setattr(Book, "known", lambda self, change: None)


def future_stamps_not_clamped(patch: Patch) -> None:
    patch.setattr(pushing, "AHEAD_MS", 10**14)


def restamped_to_now_and_not_after_what_was_seen(patch: Patch) -> None:
    def stamp_of(change: dict[str, Any], _latest: str | None, now_ms: int) -> str:
        ms, _, device = clock.parse(change["stamp"])
        return clock.tick(None, now_ms, device) if ms > now_ms + pushing.AHEAD_MS else change["stamp"]

    patch.setattr(pushing, "_stamp_of", stamp_of)


def a_batch_taken_in_the_order_of_the_line(patch: Patch) -> None:
    patch.setattr(pushing, "sorted", lambda rows, key: list(rows), raising=False)


def a_lost_answer_does_not_tell_the_new_stamp_again(patch: Patch) -> None:
    told = pushing._taken

    def taken(result: str, change: dict[str, Any], number: int, stamp: str) -> dict[str, Any]:
        return told(result, change, number, change["stamp"] if result == "duplicate" else stamp)

    patch.setattr(pushing, "_taken", taken)


def base_lost_on_the_way(patch: Patch) -> None:
    append = Book.append
    patch.setattr(Book, "append", lambda self, change, **more: append(self, {**change, "base": None}, **more))


def the_history_without_its_record(patch: Patch) -> None:
    patch.setattr(Book, "apply", lambda self, change: None)


def pull_goes_on_behind_a_page_that_was_cut(patch: Patch) -> None:
    since = pulling.changes.since

    def page(db: Any, space: str, after: int, limit: int) -> list[dict[str, Any]]:
        found = since(db, space, after, limit)
        return [*found[: limit - 2], *found[limit - 1 :]] if len(found) == limit else found

    patch.setattr("barnlight.sync.pull.changes.since", page)


def pull_cursor_is_the_clock(patch: Patch) -> None:
    def page(db: Any, space: str, after: int, limit: int) -> list[dict[str, Any]]:
        in_time = sorted(every(db, space), key=lambda change: change["stamp"])
        places = [{**change, "number": clock.parse(change["stamp"])[0]} for change in in_time]
        return [change for change in places if change["number"] > after][:limit]

    # A module of its own stands in, so that the checks still see the real history.
    patch.setattr(pulling, "changes", type("ByClock", (), {"since": staticmethod(page)}))


def one_bad_change_blocks_its_batch(patch: Patch) -> None:
    push_into = pushing.push_into

    def all_or_none(line: Any, space: str, sender: str, changes: Any, now_ms: int, **more: Any) -> Any:
        bad = [change for change in changes if pushing.judge_meaning(change, space, None) != "ok"]
        return push_into(line, space, sender, [] if bad else changes, now_ms, **more) if not bad else (
            "", [{"id": change["id"], "result": "refused", "reason": "bad_value", "message": "One of them is bad."} for change in changes])

    patch.setattr(pushing, "push_into", all_or_none)


def number_taken_before_the_commit(patch: Patch) -> None:
    """Numbers are given in one transaction, and the rows written in the next: somebody may ask in between."""
    def push(database: Any, space: str, sender: str, changes: Any, now_ms: int) -> Any:
        with database.write() as db:
            book = spaces.lock(db, space)
            first = book.last_number
            book.last_number += len({change["id"] for change in changes if not has(db, space, change["id"]) and pushing.judge_meaning(change, space, None) == "ok"})
        with database.write() as db:
            book = spaces.lock(db, space)
            given, book.last_number = book.last_number, first
            db.flush()
            said = pushing.push_into(db.connection(), space, sender, changes, now_ms)
            book.last_number = max(given, book.last_number)
            return said

    patch.setattr(pushing, "push", push)


def a_photo_confirmed_but_not_kept(patch: Patch) -> None:
    patch.setattr("barnlight.store.blobs.DiskBlobs.keep", lambda self, space, incoming: None)


FAULTS = [
    no_device_tie_break, the_last_to_arrive_wins, change_ids_not_deduplicated, future_stamps_not_clamped,
    restamped_to_now_and_not_after_what_was_seen, a_batch_taken_in_the_order_of_the_line, a_lost_answer_does_not_tell_the_new_stamp_again,
    base_lost_on_the_way, the_history_without_its_record, pull_goes_on_behind_a_page_that_was_cut, pull_cursor_is_the_clock,
    one_bad_change_blocks_its_batch, number_taken_before_the_commit, a_photo_confirmed_but_not_kept,
]  # fmt: skip
