"""What to ask a distant seller: a short list, what is worth most first; how each question stands once answers came."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from barnlight.domain.checks import applicable, is_looked_at
from barnlight.domain.claim_outcome import SOUND
from barnlight.domain.evidence_weight import weight_of

ASSERTING = (*SOUND, "faulty", "does_not_apply")
# "3.", "3)", "３、": the number an answer is given under, also behind the marks of a quoted mail.
NUMBERED = re.compile(r"^[>\s]*([0-9０-９]{1,2})\s*[.):\-–、．）：]\s*(.*)$")
# "3 yes": without a mark only before words that are an answer and cannot be what is counted, as in "3 holes".
PLAIN_ANSWER = re.compile(
    r"^\s*([0-9０-９]{1,2})(?=\s+(?:yes|yep|yeah|no|nope|none|ok|okay|sorry|don['’]?t know|ja|nein|weiß nicht|weiss nicht|keine Ahnung"
    r"|oui|non|je ne sais pas|sí|si)(?!\w)|\s*(?:はい|いいえ|わかりません|分かりません|不明))\s*(.*)$", re.IGNORECASE)  # fmt: skip
BARE = re.compile(r"^\s*([0-9０-９]{1,2})\s+(\S.*)$")
# "1 dent, 2 scratches" may be counted things.
LEAST_RUN = 3
QUOTED = re.compile(r"^\s*>")


def question_list(piece: Mapping, answers: Iterable[Mapping], checking: Sequence[Mapping], catalogue: Mapping, questions: Sequence[Mapping]) -> list[dict[str, Any]]:
    """[{question, checks, worth_minor}] still worth asking about a piece, most first, else in the trade's order.

    `checking`: of a deal sheet. A question is worth at least what the dearest of its looks is worth; one about the terms of
    sale at least the dearest of all, as who may send a thing back can look at everything. `worth_minor` is None where no
    value is known. Questions whose checks were all looked at are left out.
    """
    seen = {answer.get("check") for answer in answers if not answer.get("deleted") and is_looked_at(answer.get("result"))}
    worth = {row["check"]: row["worth_minor"] for row in checking}
    here = applicable(piece, catalogue)
    rows = []
    for question in questions:
        if piece.get("kind") not in question["kinds"]:
            continue
        checks = [check["id"] for check in here if check["question_rank"] == question["rank"] and check["id"] not in seen]
        about_sale = question["about"] == "sale"
        if not checks and not about_sale:
            continue
        known = list(worth.values()) if about_sale else [worth.get(check, 0) for check in checks]
        rows.append((question["rank"], {"question": question["id"], "checks": checks, "worth_minor": max(known) if worth else None}))
    return [row for _, row in sorted(rows, key=lambda one: (-(one[1]["worth_minor"] or 0), one[0]))]


def standing(question: Mapping, checks: Sequence[str], claims: Iterable[Mapping], returns: Mapping | None, catalogue: Mapping) -> str:
    """How one question stands: "waiting", "does_not_know", "no_proof" or "answered".

    `checks`: those the question answers; `returns`: what was said about sending it back. A good answer without the proof
    that the question asks for has no weight; that something is faulty is believed in any words.
    """
    if question["about"] == "sale":
        allowed = (returns or {}).get("allowed")
        return "waiting" if not allowed else "does_not_know" if allowed == "not_said" else "answered"
    said = [claim for claim in claims if claim.get("check") in checks and claim.get("asserted") and not claim.get("deleted")]
    telling = [claim for claim in said if claim["asserted"]["outcome"] in ASSERTING]
    if not telling:
        return "does_not_know" if said else "waiting"
    least = weight_of(question["proof"], catalogue) if question["proof"] else 0
    proven = any(claim["asserted"]["outcome"] not in SOUND or weight_of(claim.get("evidence"), catalogue) >= least for claim in telling)
    return "answered" if proven else "no_proof"


def open_keys(rows: Sequence[Mapping]) -> list[str]:
    """Ids of key questions without an answer that counts, of `rows` [{question, key, standing}]: priced as not working for each."""
    return [row["question"] for row in rows if row["key"] and row["standing"] != "answered"]


def split_reply(text: str, count: int) -> list[dict[str, Any]]:
    """[{number, words}] of a pasted reply to `count` numbered questions; `number` is None for what stands under none.

    A line that begins with a number opens that answer; lines after it belong to it. A number without a dot may be a figure of
    the answer before: it opens only where such numbers count every question in order, or before yes, no and the like, onward in
    order. What is quoted from the questions (">") is left out, but its number opens the answer below. A reply without numbers but
    with as many lines as questions is taken in order.
    """
    lines = re.split(r"\r\n|\r|\n", text)
    is_run = count >= LEAST_RUN and not _openings(NUMBERED, lines, count) and _openings(BARE, lines, count) == list(range(1, count + 1))
    unmarked = BARE if is_run else PLAIN_ANSWER
    found: dict[int | None, list[str]] = {}
    number: int | None = None
    for line in lines:
        match = _opening(NUMBERED, line, count) or _opening(unmarked, line, count, after=number or 0)
        if match:
            number = int(match[1])
        if not QUOTED.match(line):
            found.setdefault(number, []).append((match[2] if match else line).strip())
    spoken = [line.strip() for line in lines if line.strip() and not QUOTED.match(line)]
    if set(found) <= {None} and len(spoken) == count:
        return [{"number": at + 1, "words": words} for at, words in enumerate(spoken)]
    joined = {at: "\n".join(words).strip() for at, words in found.items()}
    return [{"number": at, "words": joined[at]} for at in sorted(joined, key=lambda at: at or 0) if joined[at]]


def _opening(pattern: re.Pattern[str], line: str, count: int, after: int = 0) -> re.Match[str] | None:
    match = pattern.match(line)
    return match if match and after < int(match[1]) <= count else None


def _openings(pattern: re.Pattern[str], lines: Iterable[str], count: int) -> list[int]:
    return [int(match[1]) for line in lines if (match := _opening(pattern, line, count))]
