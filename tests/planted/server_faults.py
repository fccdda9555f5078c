"""Faults of the server's side of sync: each function spoils the real code through the patch it is given."""

from __future__ import annotations

from typing import Any

import pytest

from barnlight.domain import clock
from barnlight.store.changes import Book, every
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


FAULTS = [
    no_device_tie_break, the_last_to_arrive_wins, change_ids_not_deduplicated, future_stamps_not_clamped,
    restamped_to_now_and_not_after_what_was_seen, a_batch_taken_in_the_order_of_the_line, a_lost_answer_does_not_tell_the_new_stamp_again,
    base_lost_on_the_way, the_history_without_its_record, pull_goes_on_behind_a_page_that_was_cut, pull_cursor_is_the_clock,
]  # fmt: skip
