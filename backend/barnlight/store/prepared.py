"""Statements made once and asked often, given to SQLite's own driver: the toolkit's way there takes several times what SQLite takes."""

from __future__ import annotations

import sqlite3
from collections import namedtuple
from collections.abc import Callable, Sequence
from typing import Any

from sqlalchemy import Connection, Executable, Select
from sqlalchemy.dialects import sqlite
from sqlalchemy.exc import DBAPIError
from sqlalchemy.types import TypeEngine

_SQLITE = sqlite.dialect()
Processor = Callable[[Any], Any]


class Prepared:
    """One statement whose values are all named parameters. Any other database than SQLite is asked through the toolkit."""

    def __init__(self, statement: Executable) -> None:
        self._statement = statement
        made = statement.compile(dialect=_SQLITE)
        self._text = str(made)
        self._given = [(name, _form(made.binds[name].type).bind_processor(_SQLITE)) for name in made.positiontup]
        columns = list(statement.selected_columns) if isinstance(statement, Select) else []
        self._row = namedtuple("Row", [column.key for column in columns])
        self._found = [_form(column.type).result_processor(_SQLITE, None) for column in columns]

    def rows(self, line: Connection, **parameters: Any) -> Sequence[Any]:
        """What a question finds: rows whose columns have names, in their order."""
        if line.dialect.name != _SQLITE.name:
            return line.execute(self._statement, parameters).all()
        return [self._row._make(map(_processed, self._found, row)) for row in self._ask(line, parameters)]

    def write(self, line: Connection, *rows: dict[str, Any]) -> None:
        """Do it once for the parameters of each row."""
        if line.dialect.name != _SQLITE.name:
            line.execute(self._statement, rows)
            return
        for row in rows:
            self._ask(line, row)

    def _ask(self, line: Connection, parameters: dict[str, Any]) -> list[tuple[Any, ...]]:
        """All at once: a question that is left half read would hold its view of the store, and may be refused at any of its rows."""
        values = [_processed(processor, parameters[name]) for name, processor in self._given]
        try:
            return line.connection.dbapi_connection.execute(self._text, values).fetchall()
        except sqlite3.Error as refused:  # as everybody else gets it, who asks through the toolkit
            raise DBAPIError.instance(self._text, values, refused, sqlite3.Error) from refused


def _form(kind: TypeEngine) -> TypeEngine:
    """The type as SQLite has it."""
    return kind.dialect_impl(_SQLITE)


def _processed(processor: Processor | None, value: Any) -> Any:
    return processor(value) if processor else value
