"""Which copies to keep: the newest of each of the last days, weeks and months that have one; pure."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True)
class Keep:
    """How many days, weeks and months to go back. Days without a copy do not count, so a rest loses nothing."""

    days: int
    weeks: int
    months: int


def kept(moments: Iterable[datetime], keep: Keep) -> set[datetime]:
    """The moments whose copies stay; the newest of all always does. Weeks begin on Monday (ISO 8601)."""
    newest_first = sorted(moments, reverse=True)
    stay = set(newest_first[:1])
    for most, period in ((keep.days, _day), (keep.weeks, _week), (keep.months, _month)):
        stay |= _newest_of_each(newest_first, period, most)
    return stay


def _newest_of_each(newest_first: list[datetime], period: Callable[[datetime], object], most: int) -> set[datetime]:
    found: dict[object, datetime] = {}
    for moment in newest_first:
        found.setdefault(period(moment), moment)
    return set(list(found.values())[:most])


def _day(moment: datetime) -> object:
    return moment.date()


def _week(moment: datetime) -> object:
    return moment.isocalendar()[:2]


def _month(moment: datetime) -> object:
    return moment.year, moment.month
