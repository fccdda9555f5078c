"""How edits made without knowing of each other become one value, with none of them lost.

All functions take changes of ONE field of ONE record; a change is a dict with id, stamp, value, base and settles.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

Change = Mapping[str, Any]


def wins(a: Change, b: Change) -> bool:
    """Whether `a` is the field's value rather than `b`: the later stamp, then the larger id."""
    return (a["stamp"], a["id"]) > (b["stamp"], b["id"])


def leaves(changes: Sequence[Change]) -> list[Change]:
    """The changes nobody built on (as base) or settled, latest first: each is a last word somebody had."""
    followed = {change.get("base") for change in changes}
    for change in changes:
        followed.update(change.get("settles") or ())
    last_words = [change for change in changes if change["id"] not in followed]
    return sorted(last_words, key=_order, reverse=True)


def versions(changes: Sequence[Change]) -> list[Change]:
    """The changes to show for the field, latest first, one a distinct value; a single one means agreed."""
    # Only forged bases can run in a ring and leave no leaf; the winner then stands alone.
    last_words = leaves(changes) or sorted(changes, key=_order, reverse=True)[:1]
    shown: list[Change] = []
    for change in last_words:
        if not any(_same(change["value"], other["value"]) for other in shown):
            shown.append(change)
    return shown


def _order(change: Change) -> tuple[str, str]:
    return change["stamp"], change["id"]


def _same(a: Any, b: Any) -> bool:
    """Whether two JSON values are equal; true is not 1 (Python thinks so), while 1 and 1.0 are one JSON number."""
    if isinstance(a, bool) or isinstance(b, bool):
        return a is b
    if isinstance(a, dict) and isinstance(b, dict):
        return a.keys() == b.keys() and all(_same(a[key], b[key]) for key in a)
    if isinstance(a, list) and isinstance(b, list):
        return len(a) == len(b) and all(map(_same, a, b))
    return bool(a == b)
