"""How a seller dealt before: counts and one plain line, for the person's eyes only."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from barnlight.domain.report_words import day_words


def past(seller_id: str, dealings: Iterable[Mapping]) -> dict[str, Any]:
    """All that was noted about one seller: {dealings, fair, mixed, unfair, did_not_know, hid_it, last_day, line}.

    Ignorance and hiding are counted apart; neither is read out of the outcome.
    """
    own = [dealing for dealing in dealings if dealing.get("seller") == seller_id and not dealing.get("deleted")]
    counts: dict[str, Any] = {"dealings": len(own)}
    counts |= {word: sum(dealing.get("outcome") == word for dealing in own) for word in ("fair", "mixed", "unfair")}
    counts |= {word: sum(dealing.get("knew") == word for dealing in own) for word in ("did_not_know", "hid_it")}
    counts["last_day"] = max((dealing["day"] for dealing in own if dealing.get("day")), default=None)
    return {**counts, "line": _line(counts)}


def _line(counts: Mapping) -> str:
    if counts["dealings"] == 0:
        return "No dealings noted yet."
    ended = ", ".join(f"{counts[word]} {word}" for word in ("fair", "mixed", "unfair") if counts[word])
    head = f"{counts['dealings']} {'dealing' if counts['dealings'] == 1 else 'dealings'}{f': {ended}' if ended else ''}"
    parts = [f"{head}, last on {day_words(counts['last_day'])}." if counts["last_day"] else f"{head}."]
    if counts["did_not_know"]:
        parts.append(f"Did not know of a fault {_times(counts['did_not_know'])}.")
    if counts["hid_it"]:
        parts.append(f"Hid a fault {_times(counts['hid_it'])}.")
    return " ".join(parts)


def _times(n: int) -> str:
    return {1: "once", 2: "twice"}.get(n, f"{n} times")
