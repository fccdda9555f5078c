"""Judges one change from outside: taken, kept without being understood, or refused with a reason."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from jsonschema_rs import Draft202012Validator

from barnlight.domain import clock
from barnlight.store.changes import PARTS
from barnlight.store.kinds import declared

SCHEMA = 1
MOST_BYTES = 16 * 1024
MOST_MORE_BYTES = 4 * 1024
MOST_DEPTH = 16
MOST_SETTLED = 100
MOST_AUTHOR = 80
EXACT_INTEGER = 2**53 - 1  # beyond it JavaScript rounds

_ID = re.compile(r"[0-9a-f]{32}")
_NAME = re.compile(r"[a-z][a-z0-9_]{0,39}")
# NUL and half a surrogate pair: legal in JSON, not in UTF-8 text as databases keep it.
_UNKEEPABLE = re.compile("[\0\ud800-\udfff]")

MESSAGES = {
    "wrong_space": "This change belongs to another book of records than the one this device is paired with.",
    "bad_change": "The change is not of the form this server takes.",
    "bad_stamp": "The stamp of the change is not one of its device's clock.",
    "bad_value": "The value does not fit the field.",
    "bad_text": "A text holds a character that cannot be kept.",
    "too_large": f"The value is larger than {MOST_BYTES // 1024} KiB, or what a newer app added to it larger than {MOST_MORE_BYTES // 1024} KiB; shorten it.",
    "too_deep": f"The value is nested deeper than {MOST_DEPTH} levels.",
    "kind_differs": "The record exists as another kind.",
    "id_in_use": "The id of the change belongs to a different change; make the edit again.",
    "erased": "This was erased, on every device; the phone drops what it holds of it.",
    "parent_erased": "What this was to belong to was erased; it stays where it was.",
    "server_only": "Only the server makes records of this kind.",
}


@dataclass(frozen=True)
class Refusal:
    """Why a change is not taken: a stable code, and a sentence for a person."""

    reason: str
    detail: str = ""

    @property
    def message(self) -> str:
        return f"{MESSAGES[self.reason]} {self.detail}".rstrip()


Judgement = Literal["ok", "deferred"] | Refusal


def judge_shape(change: Any) -> Refusal | None:
    """Whether it is a change at all, whatever it says; nothing else may be asked of it before this."""
    if not isinstance(change, dict):
        return Refusal("bad_change")
    for part, is_well_formed in _SHAPE.items():
        if part not in change or not is_well_formed(change[part]):
            return Refusal("bad_change", f"Look at its {part}.")
    more = {name: value for name, value in change.items() if name not in PARTS}
    reason = _unkeepable(change["value"], MOST_BYTES) or (more and _unkeepable(more, MOST_MORE_BYTES)) or _unkeepable_part(change["author"], 0)
    if reason:
        return Refusal(reason)
    try:
        made_by = clock.parse(change["stamp"])[2]
    except ValueError:
        return Refusal("bad_stamp")
    return None if made_by == change["device"] else Refusal("bad_stamp")


def judge_meaning(change: dict[str, Any], space: str, kind_held: str | None, *, by_server: bool = False) -> Judgement:
    """Whether a well-formed change fits this space, its record (which is of `kind_held`, if it exists) and its field."""
    if change["space"] != space:
        return Refusal("wrong_space")
    if kind_held not in (None, change["kind"]):
        return Refusal("kind_differs", f"It is a {kind_held}.")
    kind = declared()["kinds"].get(change["kind"])
    if kind is None or change["field"] not in kind["fields"]:
        return "deferred"
    if kind.get("server_only") and not by_server:
        return Refusal("server_only")
    if _validator(change["kind"], change["field"]).is_valid(change["value"]):
        return "ok"
    # A newer app may have widened the field: what it wrote is kept until this server knows better.
    return "deferred" if change["schema"] > SCHEMA else Refusal("bad_value", f"Look at {change['kind']}.{change['field']}.")


def _is_id(value: Any) -> bool:
    return isinstance(value, str) and _ID.fullmatch(value) is not None


def _is_name(value: Any) -> bool:
    return isinstance(value, str) and _NAME.fullmatch(value) is not None


_SHAPE: dict[str, Callable[[Any], bool]] = {
    "id": _is_id,
    "space": _is_id,
    "kind": _is_name,
    "record": _is_id,
    "field": _is_name,
    "value": lambda value: True,
    "stamp": lambda value: isinstance(value, str),
    "base": lambda value: value is None or _is_id(value),
    "settles": lambda value: isinstance(value, list) and len(value) <= MOST_SETTLED and all(map(_is_id, value)),
    "device": _is_id,
    "author": lambda value: isinstance(value, str) and 1 <= len(value) <= MOST_AUTHOR,
    "schema": lambda value: type(value) is int and 1 <= value <= 1_000_000,
}


def _unkeepable(value: Any, most_bytes: int) -> str | None:
    """The reason why JSON cannot be kept as it is: too deep, too large, or text and numbers that no database or phone holds."""
    if (reason := _unkeepable_part(value, 0)) is not None:
        return reason
    size = len(json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode())
    return "too_large" if size > most_bytes else None


def _unkeepable_part(value: Any, depth: int) -> str | None:
    if depth > MOST_DEPTH:
        return "too_deep"
    if isinstance(value, str):
        return "bad_text" if _UNKEEPABLE.search(value) else None
    if isinstance(value, float):
        return None if math.isfinite(value) else "bad_value"
    if isinstance(value, int):
        return None if abs(value) <= EXACT_INTEGER else "bad_value"
    if isinstance(value, dict):
        return _first_unkeepable(value, depth) or _first_unkeepable(value.values(), depth)
    return _first_unkeepable(value, depth) if isinstance(value, list) else None


def _first_unkeepable(parts: Iterable[Any], depth: int) -> str | None:
    for part in parts:
        if (reason := _unkeepable_part(part, depth + 1)) is not None:
            return reason
    return None


@cache
def _validator(kind: str, field: str) -> Draft202012Validator:
    """Compiled once; its patterns end where the standard says, at the very end, so that an id with a line end is none."""
    return Draft202012Validator({"$defs": declared()["$defs"], **declared()["kinds"][kind]["fields"][field]}, validate_formats=True)
