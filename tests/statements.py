"""Tells of every statement before the database gets it: through the toolkit, and past it by what is prepared."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any
from unittest import mock

from sqlalchemy import Connection, event

from barnlight.store.engine import Database
from barnlight.store.prepared import Prepared


@contextmanager
def telling_of_statements(database: Database, tell: Callable[[str], None]) -> Iterator[None]:
    """`tell` gets the text of each statement of this database meanwhile; what it raises keeps the statement from being asked."""

    def by_toolkit(_connection: Any, _cursor: Any, statement: str, *_more: Any) -> None:
        tell(statement)

    ask = Prepared._ask

    def by_driver(self: Prepared, line: Connection, parameters: dict[str, Any]) -> Any:
        if line.engine is database.engine:
            tell(self._text)
        return ask(self, line, parameters)

    event.listen(database.engine, "before_cursor_execute", by_toolkit)
    try:
        with mock.patch.object(Prepared, "_ask", by_driver):
            yield
    finally:
        event.remove(database.engine, "before_cursor_execute", by_toolkit)
