"""Words of a condition report: days, times, stops and places as a reader on paper wants them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, date, datetime

from barnlight.domain.ids import parse_place
from barnlight.domain.rounding import fixed

MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December")
MS_UP_TO_S = 0.2995
GAP = "\u00a0"


def day_words(day: str | None) -> str:
    """"2026-09-12" as "12 September 2026"; "" where none is known. Raises ValueError for what is no day."""
    if not day:
        return ""
    known = date.fromisoformat(day)
    return f"{known.day} {MONTHS[known.month - 1]} {known.year}"


def moment_day(moment: Mapping | None) -> str:
    """The local day of {ms, offset_min} in words; "" where none is known."""
    if not moment:
        return ""
    local = datetime.fromtimestamp((moment["ms"] // 60_000 + moment.get("offset_min", 0)) * 60, UTC)
    return day_words(local.date().isoformat())


def time_words(seconds: float) -> str:
    """"1.68 s", "41.2 ms": three figures, which is more than sound can promise and enough to compute with."""
    if seconds >= MS_UP_TO_S:
        return f"{fixed(seconds, 2)}{GAP}s"
    ms = seconds * 1000
    return f"{fixed(ms, 0 if ms >= 99.95 else 1)}{GAP}ms"


def stops_words(stops: float) -> str:
    """"+0.28" is longer and gives more light, "−0.10" less, with a true minus; "0.00" has no sign."""
    text = fixed(stops, 2)
    if text.startswith("-"):
        return f"−{text[1:]}"
    return text if text == "0.00" else f"+{text}"


def place_words(place: str, catalogue: Mapping) -> str:
    """"holder=3;side=a" as "holder 3, side A"; "" for the whole piece."""
    said = parse_place(place)
    axes = catalogue["terms"]["axes"]
    return ", ".join(_axis_words(axis, said[axis["id"]]) for axis in axes if axis["id"] in said)


def places_words(places: Sequence[str], catalogue: Mapping, of: Sequence[str] = ()) -> str:
    """Several places in one line, a holder with both its sides said once; "everywhere" where they are all `of` many.

    The whole piece says nothing.
    """
    if len(of) > 1 and set(of) <= set(places):
        return "everywhere"
    said = [parse_place(place) for place in places]
    whole = [axes["holder"] for axes in said if set(axes) == {"holder"}]
    both = [axes["holder"] for axes in said if set(axes) == {"holder", "side"} and axes["side"] == "a" and axes | {"side": "b"} in said]
    holders = list(dict.fromkeys(whole + both))
    words = [f"{'holder' if len(holders) == 1 else 'holders'} {', '.join(_runs(holders))}"] if holders else []
    rest = [place for place, axes in zip(places, said, strict=True) if not ("holder" in axes and axes["holder"] in holders)]
    return "; ".join(words + [text for text in (place_words(place, catalogue) for place in rest) if text])


def title_of(terms: Iterable[Mapping], term: str | None, otherwise: str = "") -> str:
    """The title of a term in a list of the catalogue's words."""
    return next((one["title"] for one in terms if one["id"] == term), otherwise)


def counted(count: int, one: str, many: str) -> str:
    """"1 holder", "3 holders"."""
    return f"{count} {one if count == 1 else many}"


def listed(words: list[str]) -> str:
    """"a", "a and b", "a, b and c"."""
    return " and ".join(([", ".join(words[:-1])] if len(words) > 1 else []) + words[-1:])


def _runs(holders: list[str]) -> list[str]:
    """"1", "2", "3", "7" as "1 to 3", "7"."""
    runs: list[list[str]] = []
    for holder in holders:
        if runs and holder.isdecimal() and runs[-1][-1].isdecimal() and int(holder) == int(runs[-1][-1]) + 1:
            runs[-1].append(holder)
        else:
            runs.append([holder])
    return [f"{run[0].upper()} to {run[-1].upper()}" if len(run) > 2 else ", ".join(one.upper() for one in run) for run in runs]


def _axis_words(axis: Mapping, value: str) -> str:
    title = title_of(axis["values"], value, value)
    if axis["id"] in ("holder", "speed"):
        return f"{axis['title'].lower()} {value.upper() if axis['id'] == 'holder' else value}"
    if axis["id"] == "extension":
        return f"{title.lower()} extension"
    return title[0].lower() + title[1:] if axis["id"] == "side" else title.lower()
