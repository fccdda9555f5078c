"""Asks for rows by a list of values in bounded lists, since every database limits how many it takes at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from sqlalchemy import Connection, Row, Select, bindparam
from sqlalchemy.orm import Session

from barnlight.store.prepared import Prepared

AT_ONCE = 500


def in_batches(db: Session, query: Select, column: Any, values: Iterable[str]) -> Iterator[Any]:
    """The rows of `query` whose `column` is among the values."""
    wanted = list(dict.fromkeys(values))
    for start in range(0, len(wanted), AT_ONCE):
        yield from db.scalars(query.where(column.in_(wanted[start : start + AT_ONCE])))


class Among:
    """A statement made once and asked often, for the rows whose `column` is among some values.

    Mostly it is one value: for that a prepared statement of its own, since writing out a list costs more than asking.
    """

    def __init__(self, statement: Select, column: Any) -> None:
        self._one = Prepared(statement.where(column == bindparam("among")))
        self._some = statement.where(column.in_(bindparam("among", expanding=True)))

    def rows(self, line: Connection, values: Iterable[str], **more: Any) -> Iterator[Row]:
        """`more` are the other parameters of the statement."""
        wanted = list(dict.fromkeys(values))
        if len(wanted) == 1:
            yield from self._one.rows(line, **more, among=wanted[0])
            return
        for start in range(0, len(wanted), AT_ONCE):
            yield from line.execute(self._some, {**more, "among": wanted[start : start + AT_ONCE]})
