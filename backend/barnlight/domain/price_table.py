"""Price notes as rows of a table and back, for spreadsheets; how cells are parted is the library's part (RFC 4180)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from barnlight.domain.money import decimals, parse_money
from barnlight.domain.price_text import MOST_LINES, note_problems, read_day

NEEDED = ("day", "what", "amount", "currency")
INCLUDED = ("premium", "tax", "freight")
COLUMNS = ("day", "what", "group", "amount", "currency", "sold", "state", "venue_kind", *INCLUDED, "note")
_STATES = ("working", "faulty", "unknown")
_SOLD = {"sold": True, "yes": True, "true": True, "1": True, "asked": False, "no": False, "false": False, "0": False, "": None}
_YES_NO = {"yes": True, "true": True, "1": True, "no": False, "false": False, "0": False, "": None}
# What a spreadsheet takes for a formula when a cell begins with it. Source: OWASP, CSV injection (from memory).
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def table_rows(notes: Sequence[Mapping]) -> list[list[str]]:
    """The names of the columns and a row a note, as text; no cell begins a formula."""
    return [list(COLUMNS), *([_harmless(_cell(note, name)) for name in COLUMNS] for note in notes)]


def table_notes(rows: Sequence[Sequence[str]], today: str, venue_kinds: Sequence[str]) -> list[dict[str, Any]]:
    """[{line, text, note | None, problems}] of rows whose first names the columns, in any order; `line` counts rows from 1.

    `note` as in `price_text.parse_lines`, with group, venue_kind, included and note where the row has them. Raises ValueError with
    a message for the person where a needed column is missing.
    """
    names = column_names(rows)
    if missing := [name for name in NEEDED if name not in names]:
        raise ValueError(f"The first line must name the columns {', '.join(NEEDED)}. Missing: {', '.join(missing)}.")
    found = []
    for number, row in enumerate(rows[1:], 2):
        cells = [_plain(cell) for cell in row]
        if not any(cells):
            continue
        if len(found) == MOST_LINES:
            found.append({"line": number, "text": "", "note": None, "problems": [f"Only {MOST_LINES} lines are read at a time. Save these, then take the rest."]})
            break
        by_name = dict(zip(names, cells, strict=False))
        found.append(_from_cells(number, ", ".join(cell for cell in cells if cell), {name: by_name.get(name, "") for name in COLUMNS}, today, venue_kinds))
    return found


def column_names(rows: Sequence[Sequence[str]]) -> list[str]:
    """The names in the first row as `table_notes` looks for them; others than COLUMNS are not taken over."""
    return [_plain(cell).lower().replace(" ", "_") for cell in rows[0]] if rows else []


def _from_cells(number: int, text: str, cells: Mapping[str, str], today: str, venue_kinds: Sequence[str]) -> dict[str, Any]:
    problems: list[str] = []
    day = read_day(cells["day"])
    if day is None and cells["day"]:
        problems.append(f"“{cells['day']}” is not clear as a day. Write it as 2026-05-03 or 3.5.2026.")
    price = None
    try:
        price = parse_money(cells["amount"], cells["currency"].upper())
    except ValueError as error:
        problems.append(str(error))
    sold, state, venue = cells["sold"].lower(), cells["state"].lower() or "unknown", cells["venue_kind"].lower().replace(" ", "_")
    if sold not in _SOLD:
        problems.append("Under “sold” write sold or asked.")
    if state not in _STATES:
        problems.append("Under “state” write working, faulty or unknown.")
    if venue and venue not in venue_kinds:
        problems.append(f"Under “venue_kind” write one of {', '.join(venue_kinds)}.")
    if any(cells[name].lower() not in _YES_NO for name in INCLUDED):
        problems.append(f"Under {', '.join(INCLUDED)} write yes or no.")
    included = {name: _YES_NO.get(cells[name].lower()) for name in INCLUDED}
    note: dict[str, Any] = {"day": day, "what": cells["what"], "price": price, "sold": _SOLD.get(sold), "state": state}
    note |= {name: said for name, said in (("group", cells["group"]), ("venue_kind", venue), ("note", cells["note"])) if said}
    if any(said is not None for said in included.values()):
        note["included"] = included
    said = {"Type the price" if price is None else "", "Set the day" if cells["day"] and day is None else ""} - {""}
    problems += [one for one in note_problems(note, today) if not any(one.startswith(begin) for begin in said)]
    return {"line": number, "text": text, "note": None if problems else note, "problems": problems}


def _cell(note: Mapping, name: str) -> str:
    price = note.get("price") or {}
    if name == "amount":
        return _major(price["minor"], price["currency"]) if price else ""
    if name == "currency":
        return price.get("currency", "")
    if name == "sold":
        return "sold" if note.get("sold") else "asked"
    if name in INCLUDED:
        said = (note.get("included") or {}).get(name)
        return "" if said is None else "yes" if said else "no"
    return str(note.get(name) or "")


def _major(minor: int, currency: str) -> str:
    """An amount of the smallest unit in figures and a point, as `parse_money` reads it."""
    digits = decimals(currency)
    text = str(minor).rjust(digits + 1, "0")
    return f"{text[: len(text) - digits]}.{text[len(text) - digits :]}" if digits else text


def _harmless(cell: str) -> str:
    return f"'{cell}" if cell.startswith(_FORMULA) else cell


def _plain(cell: str) -> str:
    cell = cell[1:] if cell.startswith("'") and cell[1:].startswith(_FORMULA) else cell
    return cell.strip()
