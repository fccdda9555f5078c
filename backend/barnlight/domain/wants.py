"""What a person is looking for: days that cannot be, and the rest before buying on impulse."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

REST_DAYS = 14


def rest(want: Mapping, today: str, usual_days: int = REST_DAYS) -> dict[str, Any] | None:
    """{until, days_left, ask} of an open want: it rests so many days from the day it was wanted (own figure of the want, or the usual).

    `ask`: the rest is over and the person has not said since that the want stands (`stands`, a day). None for a want that was
    found, dropped, or has no day.
    """
    if not want.get("wanted") or want.get("found") or want.get("dropped") or want.get("deleted"):
        return None
    days = want.get("rest_days")
    until = date.fromisoformat(want["wanted"]) + timedelta(days=usual_days if days is None else days)
    left = max((until - date.fromisoformat(today)).days, 0)
    return {"until": until.isoformat(), "days_left": left, "ask": left == 0 and (want.get("stands") or "") < until.isoformat()}


def day_problem(want: Mapping, today: str) -> str | None:
    """What is wrong with the days of a want, and what to do; None if nothing is."""
    wanted, ended = want.get("wanted"), want.get("found") or want.get("dropped")
    if wanted and wanted > today:
        return "It cannot have been wanted from a day yet to come. Set today or an earlier day."
    if ended and ended > today:
        return "That day is yet to come. Set today or an earlier day."
    if wanted and ended and ended < wanted:
        word = "found" if want.get("found") else "let go"
        return f"It cannot be {word} before it was wanted. Set a later day, or an earlier one for when you began to want it."
    return None
