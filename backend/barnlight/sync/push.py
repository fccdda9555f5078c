"""Takes changes in: one transaction a batch, one result a change, the same again is no harm."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from sqlalchemy import Connection
from sqlalchemy.orm import Session

from barnlight.domain import clock
from barnlight.store import erasing
from barnlight.store.changes import Book
from barnlight.store.engine import Database
from barnlight.store.erasing import Reach
from barnlight.sync.validate import Refusal, judge_meaning, judge_shape

AHEAD_MS = 5 * 60 * 1000
# What makes a change the change it is; its stamp may have been replaced here, and its space on the way.
IDENTITY = ("kind", "record", "field", "value", "device")

Result = dict[str, Any]


def push(
    database: Database, space: str, sender: str, changes: Sequence[Any], now_ms: int, clear_away: Callable[[Reach], None] | None = None
) -> tuple[str, list[Result]]:
    """Push what `sender` (a device id) brought. Returns the epoch, and the results in the order given.

    `clear_away` is told afterwards what went with what was erased before, whose bytes may lie on the disk.
    """
    swept: list[Reach] = []
    with database.append() as line:
        said = push_into(line, space, sender, changes, now_ms, swept=swept)
    for going in swept if clear_away else ():
        clear_away(going)
    return said


def push_into(
    line: Connection, space: str, sender: str, changes: Sequence[Any], now_ms: int, *, by_server: bool = False, swept: list[Reach] | None = None
) -> tuple[str, list[Result]]:
    """The same inside a transaction that is already open for writing; adds to `swept` what is to be cleared away after it."""
    results: list[Result] = [{}] * len(changes)
    sound = []
    for place, change in enumerate(changes):
        if (refusal := judge_shape(change)) is not None:
            results[place] = _refused(change, refusal)
        else:
            sound.append((change["stamp"], place, change))
    book = Book(line, space, [change["id"] for *_, change in sound], [change["record"] for *_, change in sound])
    erased = _Erased(line, space, [change for *_, change in sound] if book.space.has_erased else [], now_ms)
    if swept is not None:
        swept += erased.swept
    # In the order of their stamps, whatever the network made of it: what is re-stamped keeps its order.
    for _, place, change in sorted(sound, key=lambda one: one[:2]):
        refusal = erased.refusal(change)
        results[place] = _refused(change, refusal) if refusal else _take(book, change, sender, now_ms, by_server)
    book.close()
    return book.space.epoch, results


class _Erased:
    """What of a batch was erased before, or would begin as part of what was: the latter goes with it."""

    def __init__(self, line: Connection, space: str, changes: Sequence[dict[str, Any]], now_ms: int) -> None:
        self.swept: list[Reach] = []
        self._parents = erasing.gone_parents(line, space, changes)
        if self._parents:
            with Session(line) as db:  # within the transaction of the line, which it neither ends nor outlives
                if along := erasing.swept_along(db, space, changes, self._parents):
                    self.swept.append(erasing.reach(db, space, along))
                    erasing.carry_out(db, self.swept[-1], now_ms)
        self._records = erasing.erased_among(line, space, [change["record"] for change in changes])

    def refusal(self, change: dict[str, Any]) -> Refusal | None:
        if change["record"] in self._records:
            return Refusal("erased")
        return Refusal("parent_erased") if erasing.hangs(change) and change["value"] in self._parents else None


def _take(book: Book, change: dict[str, Any], sender: str, now_ms: int, by_server: bool) -> Result:
    known = book.known(change["id"])
    if known is not None and change["space"] == book.space.id:
        if any(known[part] != change[part] for part in IDENTITY):
            return _refused(change, Refusal("id_in_use"))
        return _taken("duplicate", change, known["number"], known["stamp"])
    judgement = judge_meaning(change, book.space.id, book.kind_of(change["record"]), by_server=by_server)
    if isinstance(judgement, Refusal):
        return _refused(change, judgement)
    kept = {**change, "stamp": _stamp_of(change, book.space.clock, now_ms)}
    sent_stamp = change["stamp"] if kept["stamp"] != change["stamp"] else None
    number = book.append(kept, sent_stamp=sent_stamp, deferred=judgement == "deferred", sender=sender, now_ms=now_ms)
    return _taken(judgement, change, number, kept["stamp"])


def _stamp_of(change: dict[str, Any], latest: str | None, now_ms: int) -> str:
    """The change's own stamp, unless it lies far ahead: then one just after all that the space has seen.

    Later than everything, not merely now: the author may have seen any of it, and must not lose to what they saw.
    """
    ms, _, device = clock.parse(change["stamp"])
    return clock.tick(latest, now_ms, device) if ms > now_ms + AHEAD_MS else change["stamp"]


def _taken(result: str, change: dict[str, Any], number: int, stamp: str) -> Result:
    restamped = {"stamp": stamp} if stamp != change["stamp"] else {}
    return {"id": change["id"], "result": result, "number": number, **restamped}


def _refused(change: Any, refusal: Refusal) -> Result:
    given = change.get("id") if isinstance(change, dict) else None
    return {"id": given if isinstance(given, str) else None, "result": "refused", "reason": refusal.reason, "message": refusal.message}
