"""Price notes from pasted lines: a day, an amount with its currency, and words; what is not clear is asked and never guessed."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from barnlight.domain.money import parse_money

MOST_LINES = 2000
MOST_WORDS, MOST_GROUP, MOST_NOTE = 120, 80, 4000
FIRST_YEAR = 1800
# Signs and what they may stand for; the person's usual currency goes first where it is among them. Codes by ISO 4217, from memory.
_SIGNS = {"€": ("EUR",), "£": ("GBP",), "$": ("USD", "CAD", "AUD", "NZD", "HKD", "SGD", "MXN"), "¥": ("JPY", "CNY")}
_CODES = frozenset(
    "EUR USD GBP CHF CAD AUD NZD JPY CNY HKD SGD TWD KRW INR SEK NOK DKK ISK PLN CZK HUF RON BGN TRY ILS ZAR BRL MXN ARS CLP THB MYR IDR PHP VND".split())
_STATES = {"working": "working", "works": "working", "faulty": "faulty", "broken": "faulty", "defective": "faulty", "untested": "unknown", "unknown": "unknown"}
_SOLD = {"sold": True, "asked": False, "asking": False, "offered": False}
_NOT = {"not", "non", "never"}
_NEGATED: dict[str, Any] = {"working": "faulty", "sold": False}
_NUMBER = r"[0-9]+(?:[.,'][0-9]+)*"
_AMOUNT = re.compile(rf"([€$£¥]|[A-Za-z]{{3}})?({_NUMBER})(?:[.,]-)?([€$£¥]|[A-Za-z]{{3}})?")
_DAY = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})|([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4})")
_LIKE_A_DAY = re.compile(r"[0-9]{1,4}([./-])[0-9]{1,2}\1[0-9]{2,4}")
_EDGES = " ,;:()|·–—-"


def parse_lines(text: str, today: str, currency: str) -> list[dict[str, Any]]:
    """[{line, text, note | None, problems}] of pasted lines, one price each: "2026-05-03 210 mm lens 180 EUR asked faulty".

    A price has its currency beside it, or stands bare at the end of the line and is in `currency`, the person's usual one. Without
    a day it is today's. `note`: {day, what, price, sold, state}, `sold` None where the line does not say; None where there are
    `problems`: what is wrong and what to do, in words.
    """
    lines = [(number, line) for number, line in enumerate(re.split(r"\r\n|\r|\n", text), 1) if line.strip()]
    found = [_parsed(number, line, today, currency) for number, line in lines[:MOST_LINES]]
    if len(lines) > MOST_LINES:
        found.append({"line": lines[MOST_LINES][0], "text": "", "note": None, "problems": [f"Only {MOST_LINES} lines are read at a time. Save these, then paste the rest."]})
    return found


def note_problems(note: Mapping, today: str) -> list[str]:
    """What keeps a price note from being of use, and what to do; none if nothing does."""
    found = []
    if not (note.get("what") or "").strip():
        found.append("Say what it was.")
    for field, most, word in (("what", MOST_WORDS, "what it was"), ("group", MOST_GROUP, "the group"), ("note", MOST_NOTE, "the note")):
        if len(note.get(field) or "") > most:
            found.append(f"Say {word} in at most {most} letters.")
    if not note.get("price"):
        found.append("Type the price, as in 120 or 89.50.")
    elif note["price"]["minor"] <= 0:
        found.append("A price of 0 says nothing about what it is worth. Type what was paid or asked.")
    if not note.get("day"):
        found.append("Set the day.")
    elif note["day"] > today:
        found.append("That day is yet to come. Set today or an earlier day.")
    return found


def seen_before(notes: Sequence[Mapping | None], known: Sequence[Mapping]) -> list[str | None]:
    """For each note "book" if it stands in `known`, "above" if it stood earlier in `notes`, else None: same day, words, price and sold."""
    book = {_likeness(note) for note in known if not note.get("deleted")}
    above: set[tuple] = set()
    found: list[str | None] = []
    for note in notes:
        like = None if note is None else _likeness(note)
        found.append(None if like is None else "book" if like in book else "above" if like in above else None)
        if like is not None:
            above.add(like)
    return found


def read_day(text: str) -> str | None:
    """A day as "2026-05-03" or "3.5.2026" in the first form; None if it is no day of the calendar, or no day of this form."""
    match = _DAY.fullmatch(text)
    if not match:
        return None
    year, month, day = (int(part) for part in (match.group(1, 2, 3) if match.group(1) else match.group(6, 5, 4)))
    try:
        return date(year, month, day).isoformat() if year >= FIRST_YEAR else None
    except ValueError:
        return None


def _likeness(note: Mapping) -> tuple:
    price = note.get("price") or {}
    return note.get("day"), " ".join((note.get("what") or "").lower().split()), price.get("minor"), price.get("currency"), note.get("sold")


def _parsed(number: int, line: str, today: str, currency: str) -> dict[str, Any]:
    # A space that does not break, between figures, groups thousands; an ordinary one may part two figures.
    text = re.sub("([0-9])[\u00a0\u202f\u2009]([0-9]{3})", r"\1'\2", re.sub("([0-9])[\u00a0\u202f\u2009]([0-9]{3})", r"\1'\2", line.replace("’", "'")))
    words = [word for word in re.split("[ \t\u00a0\u202f\u2009]+", text) if word]
    problems: list[str] = []
    day = _take_day(words, problems) or today
    sold, state = _take_said(words, problems)
    price = _take_price(words, currency, problems)
    what = " ".join(words).strip(_EDGES)
    note = {"day": day, "what": what, "price": price, "sold": sold, "state": state or "unknown"}
    # What is already said of the price is not said again.
    problems += [one for one in note_problems(note, today) if price or not one.startswith("Type the price")]
    return {"line": number, "text": line.strip(), "note": None if problems else note, "problems": problems}


def _take_day(words: list[str], problems: list[str]) -> str | None:
    found = None
    for word in [word for word in words if _LIKE_A_DAY.fullmatch(word.strip(_EDGES))]:
        words.remove(word)
        day = read_day(word.strip(_EDGES))
        if day is None:
            problems.append(f"“{word}” is not clear as a day. Write it as 2026-05-03 or 3.5.2026.")
        elif found not in (None, day):
            problems.append("There are two days. Keep one a line.")
        found = found or day
    return found


def _take_said(words: list[str], problems: list[str]) -> tuple[bool | None, str | None]:
    sold: set[bool] = set()
    state: set[str] = set()
    kept: list[str] = []
    for word in words:
        plain = word.strip(_EDGES).lower()
        negated = bool(kept) and kept[-1].strip(_EDGES).lower() in _NOT
        if negated and plain not in _NEGATED or plain not in _STATES and plain not in _SOLD:
            kept.append(word)
            continue
        if negated:
            kept.pop()
        if plain in _SOLD:
            sold.add(_NEGATED[plain] if negated else _SOLD[plain])
        else:
            state.add(_NEGATED[plain] if negated else _STATES[plain])
    if len(sold) > 1:
        problems.append("Sold, or only asked? Keep one of the two words.")
    if len(state) > 1:
        problems.append("Working, or faulty? Keep one of the two words.")
    words[:] = kept
    return (sold.pop() if len(sold) == 1 else None), (state.pop() if len(state) == 1 else None)


def _take_price(words: list[str], currency: str, problems: list[str]) -> dict[str, Any] | None:
    plain = [word.strip(_EDGES) for word in words]
    found = [priced for at in range(len(words)) if (priced := _priced_at(plain, at, currency))]
    if not found and plain and (match := _AMOUNT.fullmatch(plain[-1])) and not match.group(1) and not match.group(3):
        found = [(len(words) - 1, len(words), match.group(2), currency)]
    if not found:
        problems.append("There is no price. Write it with its currency, as in 180 EUR.")
        return None
    if len(found) > 1:
        problems.append("There is more than one price. Keep one a line.")
        return None
    begin, end, number, code = found[0]
    at = next(spot for spot in range(begin, end) if number in plain[spot])
    for head, tail in ((at - 1, at), (at, at + 1)):
        if head >= 0 and tail < len(plain) and re.fullmatch("[0-9]{1,3}", plain[head]) and re.match("[0-9]{3}(?![0-9])", plain[tail]):
            problems.append(f"Is the price {plain[head]}{plain[tail]} or {number}? Write it without a space, or put a word between the figures.")
            return None
    del words[begin:end]
    try:
        return parse_money(number, code)
    except ValueError as error:
        problems.append(str(error))
        return None


def _priced_at(plain: Sequence[str], at: int, usual: str) -> tuple[int, int, str, str] | None:
    """The price that begins at a word, as (first word, word after the last, number, currency)."""
    match = _AMOUNT.fullmatch(plain[at])
    if match and (code := _currency(match.group(1), usual) or _currency(match.group(3), usual)):
        return at, at + 1, match.group(2), code
    if at + 1 == len(plain):
        return None
    following = _AMOUNT.fullmatch(plain[at + 1])
    if match and not match.group(1) and not match.group(3) and (code := _currency(plain[at + 1], usual)):
        return at, at + 2, match.group(2), code
    if following and not following.group(1) and not following.group(3) and (code := _currency(plain[at], usual)):
        return at, at + 2, following.group(2), code
    return None


def _currency(word: str | None, usual: str) -> str | None:
    """The ISO 4217 code a sign or word stands for."""
    if word in _SIGNS:
        return usual if usual in _SIGNS[word] else _SIGNS[word][0]
    code = (word or "").upper()
    return "EUR" if code in ("EURO", "EUROS") else code if code in _CODES or (code == usual and code) else None
