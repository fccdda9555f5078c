"""Holds one thread at its first commit, or lets the server die at a chosen statement: what a machine cannot do by waiting."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager
from typing import Any, Literal

from statements import telling_of_statements

from barnlight.store.engine import Database

WAIT_S = 60
Moment = Literal["before_commit", "after_commit"]


class Died(BaseException):
    """The process is gone; nothing of the program may catch this."""


@contextmanager
def dying_at_statement(database: Database, nth: int) -> Iterator[None]:
    """The server dies as it asks the database for the `nth` time; the block ends quietly either way."""
    count = 0

    def ask(_statement: str) -> None:
        nonlocal count
        count += 1
        if count == nth:
            raise Died

    try:
        with telling_of_statements(database, ask):
            yield
    except Died:
        pass


def in_between(database: Database, first: Callable[[], Any], second: Callable[[], Any], moment: Moment, then: Callable[[], Any]) -> tuple[Any, Any]:
    """Hold `first` at its first commit while `second` runs beside it and `then` runs here. Returns what first and second gave."""
    reached, go_on = threading.Event(), threading.Event()
    held: list[threading.Thread] = []
    dialect, do_commit = database.engine.dialect, database.engine.dialect.do_commit

    def hold() -> None:
        if held and held[0] is threading.current_thread() and not reached.is_set():
            reached.set()
            assert go_on.wait(WAIT_S)

    def commit(line: Any) -> None:
        if moment == "before_commit":
            hold()
        do_commit(line)
        if moment == "after_commit":
            hold()

    def held_first() -> Any:
        held.append(threading.current_thread())
        return first()

    # Where every commit of the engine passes, whoever began the transaction.
    dialect.do_commit = commit
    try:
        with ThreadPoolExecutor(2) as pool:
            try:
                one = pool.submit(held_first)
                assert reached.wait(WAIT_S)
                two: Future[Any] = pool.submit(second)
                if moment == "after_commit":  # nothing is locked any more; before it, the second has to wait for the first
                    two.result(WAIT_S)
                then()
            finally:
                go_on.set()
            return one.result(WAIT_S), two.result(WAIT_S)
    finally:
        dialect.do_commit = do_commit
