"""Asks for rows by a list of values in bounded lists, since every database limits how many it takes at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from sqlalchemy import Connection, Row, Select
from sqlalchemy.orm import Session

AT_ONCE = 500


def in_batches(db: Session, query: Select, column: Any, values: Iterable[str]) -> Iterator[Any]:
    """The rows of `query` whose `column` is among the values."""
    wanted = list(dict.fromkeys(values))
    for start in range(0, len(wanted), AT_ONCE):
        yield from db.scalars(query.where(column.in_(wanted[start : start + AT_ONCE])))


def among(line: Connection, statement: Select, values: Iterable[str], **more: Any) -> Iterator[Row]:
    """The rows of a statement that was made once, whose parameter `among` is a list of these values; `more` are its others."""
    wanted = list(dict.fromkeys(values))
    for start in range(0, len(wanted), AT_ONCE):
        yield from line.execute(statement, {**more, "among": wanted[start : start + AT_ONCE]})
