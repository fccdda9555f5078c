"""What a report speaks of: the pieces and visits shown, and of each piece what was last seen, measured and photographed."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from barnlight.domain.report_words import moment_day

Bundle = Mapping[str, list[dict]]
OF_PIECE = ("claim", "repair", "film_test")
SOUNDS_OF = "lens.shutter"
# A look that was taken: it takes the place of an older one at the same check, while "not checked" does not.
TAKEN = ("in_order", "worn", "faulty", "cannot_tell", "does_not_apply")


def shown_pieces(bundle: Bundle, options: Mapping) -> list[tuple[dict, list[dict]]]:
    """Each piece to be shown with its visits, the oldest first; a piece nobody visited is not shown.

    A report about a session tells of that session's visits alone; one about a piece of all its visits.
    """
    found = [(piece, _visits(bundle, piece, options)) for piece in _pieces(bundle, options)]
    return [(piece, visits) for piece, visits in found if visits]


def last_seen(bundle: Bundle, piece: Mapping, visits: list[dict], hidden: Collection[str] = ()) -> dict[str, list[dict]]:
    """The records of a piece by kind, of each check what the newest visit that looked at it found.

    An answer from a visit before the last one carries its day as `seen_on`. Photos of a look that was taken again since, and
    sounds from before the newest visit with sounds, are left behind: older versions of the report keep them. A film's photo
    goes with the film, whenever it was taken. "seen" holds the answers of all the piece's visits. Of the groups of checks in `hidden` all is left out but the answers, which the
    verdict hangs on.
    """
    turn = {visit["id"]: at for at, visit in enumerate(visits)}
    every = {kind: [one for one in bundle.get(kind, []) if one.get("visit") in turn] for kind in ("answer", "reading", "recording", "take")}
    own = {kind: [one for one in bundle.get(kind, []) if one.get("piece") == piece["id"]] for kind in OF_PIECE}
    films = {one["photo"] for one in own["film_test"] if one.get("photo")}
    every["photo"] = [one for one in bundle.get("photo", []) if one.get("visit") in turn or one["id"] in films]
    every |= {kind: [one for one in every[kind] if group_of(one.get("check")) not in hidden] for kind in ("reading", "photo")}
    every |= {kind: [] for kind in ("recording", "take") if SOUNDS_OF in hidden}
    answers = _newest_answers(every["answer"], turn)
    own["answer"] = [_dated(answer, visits, turn) for answer in answers]
    own["reading"] = _newest(every["reading"], turn, ("check", "place", "reading"))
    own["photo"] = [photo for photo in every["photo"] if photo["id"] in films or _is_current(photo, answers, turn)]
    sounded = max((turn[take["visit"]] for take in every["take"]), default=len(visits) - 1)
    own |= {kind: [one for one in every[kind] if turn[one["visit"]] == sounded] for kind in ("recording", "take")}
    photos, takes = {one["id"] for one in own["photo"]}, {one["id"] for one in own["take"]}
    own |= {kind: [one for one in bundle.get(kind, []) if one.get("photo") in photos] for kind in ("spot", "leak_reading")}
    own["mark"] = [one for one in bundle.get("mark", []) if one.get("take") in takes]
    all_visits = {one["id"] for one in bundle.get("visit", []) if one.get("piece") == piece["id"]}
    own["seen"] = [one for one in bundle.get("answer", []) if one.get("visit") in all_visits]
    return own


def group_of(check: str | None) -> str:
    """The group of a check, which its id begins with; "" for no check."""
    return (check or "").rpartition(".")[0]


def _pieces(bundle: Bundle, options: Mapping) -> list[dict]:
    wanted = options.get("pieces")
    tags = {visit["piece"]: visit.get("tag") or "~" for visit in bundle.get("visit", []) if visit.get("piece")}
    kept = [piece for piece in bundle.get("piece", []) if wanted is None or piece["id"] in wanted]
    return sorted(kept, key=lambda piece: (tags.get(piece["id"], "~"), piece["id"]))


def _visits(bundle: Bundle, piece: Mapping, options: Mapping) -> list[dict]:
    """Those that tell something come last, so that an empty visit after them says nothing; within a session only the last of all."""
    session = options["about"].get("session")
    visits = [one for one in bundle.get("visit", []) if one.get("piece") == piece["id"] and (session is None or one.get("session") == session)]
    telling = {one.get("visit") for kind in ("answer", "reading", "take") for one in bundle.get(kind, [])}
    ordered = sorted(visits, key=lambda one: (one["id"] in telling, (one.get("began") or {}).get("ms", 0), one["id"]))
    return ordered if session is None else ordered[-1:]


def _newest_answers(answers: Iterable[dict], turn: Mapping[str, int]) -> list[dict]:
    """A look at the whole piece takes the place of all older ones at the same check."""
    kept: list[dict] = []
    for answer in sorted(answers, key=lambda one: turn[one["visit"]]):
        taken = (answer.get("result") or {}).get("outcome") in TAKEN
        replaced = [one for one in kept if _same_look(one, answer) and turn[one["visit"]] < turn[answer["visit"]]]
        if not taken and replaced:
            continue
        kept = [one for one in kept if one not in replaced] + [answer]
    return kept


def _same_look(old: Mapping, new: Mapping) -> bool:
    return old.get("check") == new.get("check") and (not new.get("place") or (old.get("place") or "") == new["place"])


def _newest(records: Iterable[dict], turn: Mapping[str, int], names: tuple[str, ...]) -> list[dict]:
    found = {}
    for one in sorted(records, key=lambda one: turn[one["visit"]]):
        found[tuple(one.get(name) or "" for name in names)] = one
    return list(found.values())


def _is_current(photo: Mapping, answers: Iterable[Mapping], turn: Mapping[str, int]) -> bool:
    """Not so where every look shown at the photo's check, and at its place if it has one, is newer than the photo."""
    place = photo.get("place") or ""
    looks = [
        turn[answer["visit"]] for answer in answers
        if answer.get("check") == photo.get("check") and (not place or (answer.get("place") or "") in ("", place))
    ]  # fmt: skip
    return photo.get("check") is None or not looks or min(looks) <= turn[photo["visit"]]


def _dated(answer: dict, visits: list[dict], turn: Mapping[str, int]) -> dict:
    visit = visits[turn[answer["visit"]]]
    return answer if visit is visits[-1] else {**answer, "seen_on": moment_day(visit.get("began"))}
