"""The answer to "so, buy or not?": where the asking price lies against the ceiling and its span."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any


def buy_or_not(sheet: Mapping) -> dict[str, Any] | None:
    """{word, room_minor} of a deal sheet, None without a ceiling or an asking price.

    `word`: "yes" at or under the whole span, "rather_yes" up to the ceiling, "rather_not" above it but within its span, "no"
    beyond. `room_minor`: how far the ceiling lies above what is asked, below zero where it lies under it.
    """
    ceiling, asking = sheet["ceiling"], sheet["asking_minor"]
    if ceiling is None or asking is None:
        return None
    steps = ((ceiling["low_minor"], "yes"), (ceiling["middle_minor"], "rather_yes"), (ceiling["high_minor"], "rather_not"))
    word = next((word for most, word in steps if asking <= most), "no")
    return {"word": word, "room_minor": ceiling["middle_minor"] - asking}
