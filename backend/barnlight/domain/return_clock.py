"""Until when a thing bought from afar may go back, counted in whole days and said plainly."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from barnlight.domain.report_words import counted, day_words


def return_until(arrived: str, days: int) -> str:
    """The last day to send it back: `days` after the day it arrived, which itself does not count. ValueError for what is no day."""
    return (_day(arrived) + timedelta(days=days)).isoformat()


def countdown(until: str, today: str) -> dict[str, Any]:
    """{days, over, line}: whole days left, 0 on the last one, below 0 when it is over. ValueError for what is no day."""
    days = (_day(until) - _day(today)).days
    if days < 0:
        line = f"The time to send it back ended on {day_words(until)}."
    elif days == 0:
        line = "Today is the last day to send it back."
    else:
        line = f"{counted(days, 'day', 'days')} left to send it back, until {day_words(until)}."
    return {"days": days, "over": days < 0, "line": line}


def _day(text: str) -> date:
    try:
        found = date.fromisoformat(text)
    except ValueError:
        raise ValueError(f"not a day: {text}") from None
    if found.isoformat() != text:
        raise ValueError(f"not a day: {text}")
    return found
