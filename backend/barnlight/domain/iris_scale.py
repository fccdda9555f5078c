"""Numbers on an iris: which scale a list of marked stops is in, and what f-number a mark stands for."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

_NUMBER = re.compile(r"(?:f\s*[/:]?\s*|us\s*)?([0-9]{1,3}(?:[.,][0-9]{1,2})?)")


def parse_stop(text: str) -> float | None:
    """The number of a stop as written ("5.6", "f/8", "6,3", "US 16"); None for what is none."""
    typed = _NUMBER.fullmatch(text.strip().lower())
    number = float(typed[1].replace(",", ".")) if typed else 0
    return number if number > 0 else None


def recognise_scale(texts: Sequence[str], catalogue: Mapping) -> dict[str, Any]:
    """Which scale marked stops follow, widest first: {scale: id or None, may_be: [ids], odd: [texts that are no number]}.

    Marks must follow each other as they do on the scale; the first may stand for itself, since the widest opening of a lens
    seldom falls on a mark. `scale` is None where none fits, or where several do and `may_be` names them.
    """
    numbers = [parse_stop(text) for text in texts]
    odd = [text for text, number in zip(texts, numbers, strict=True) if number is None]
    known = [number for number in numbers if number is not None]
    may_be = [scale["id"] for scale in catalogue["iris_scales"] if _follows(known, scale)]
    return {"scale": may_be[0] if len(may_be) == 1 else None, "may_be": may_be, "odd": odd}


def _follows(numbers: Sequence[float], scale: Mapping) -> bool:
    places = [_place_of(number, scale) for number in numbers]
    if places and places[0] is None and numbers[0] < (numbers[1] if len(numbers) > 1 else 0):
        places = places[1:]
    if len(places) < 2 or any(place is None for place in places):
        return False
    return all(later == earlier + 1 for earlier, later in pairwise(places))


def _place_of(number: float, scale: Mapping) -> int | None:
    return next((place for place, mark in enumerate(scale["marks"]) if number in (parse_stop(text) for text in mark["texts"])), None)


def stop_number(text: str, scale_id: str, catalogue: Mapping) -> float:
    """The exact f-number a mark stands for: 5.6 is 5.6569, US 16 is 16. A mark that its scale does not have stands for itself.

    On the Uniform System, which counts exposure, any number stands for 4·sqrt(number). Raises ValueError.
    """
    number = parse_stop(text)
    scale = next((one for one in catalogue["iris_scales"] if one["id"] == scale_id), None)
    if number is None or scale is None:
        raise ValueError("Type a stop as it is marked, as in 5.6, and choose its scale.")
    place = _place_of(number, scale)
    if place is not None:
        return scale["marks"][place]["n"]
    return 4 * number**0.5 if scale["counts_exposure"] else number
