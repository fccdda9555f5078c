"""The report view: records and catalogue in, plain data for the template out.

Nothing reaches a report that is not copied here or in `report_*` by its own name: a record is never passed on whole, so a
field that nobody thought of stays private.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from barnlight.domain.ids import report_number
from barnlight.domain.report_methods import methods
from barnlight.domain.report_piece import kind_words, piece_view, title
from barnlight.domain.report_scope import Bundle, last_seen, shown_pieces
from barnlight.domain.report_words import counted, day_words, listed, moment_day, title_of


def report_view(bundle: Bundle, catalogue: Mapping, options: Mapping) -> dict[str, Any]:
    """The view of one piece or of a session's pieces.

    `bundle`: plain records by kind. `options`: {about: {session} or {piece}, pieces: ids to show or None for all, measured:
    take id -> measurement, waves: take id -> `waveform.wave`, hidden_groups: ids of groups the sender leaves out (both may be
    missing), here: hashes whose bytes can be shown, version, published: moment, catalogue_hash}. A piece is
    shown as its latest visit in that session found it; in a report about the piece alone, as it was last seen, look by look.
    `snapshot` and `since` are empty: whoever publishes fills them. Raises ValueError where there is no visit to show.
    """
    shown = shown_pieces(bundle, options)
    if not shown:
        raise ValueError("Nothing has been looked at yet, so there is nothing to report.")
    pieces: list[dict] = []
    photos = 0
    for index, (piece, visits) in enumerate(shown, 1):
        records = last_seen(bundle, piece, visits, options.get("hidden_groups") or ())
        pieces.append(piece_view(index, piece, visits, records, options, photos + 1, catalogue))
        photos += sum(1 for photo in records["photo"] if photo.get("file") and not photo.get("left_out"))
    session = _session(bundle, shown[0][1][-1], options)
    about = options["about"]
    return {
        "title": _title([piece for piece, _ in shown], catalogue),
        "looked": _looked_words(session, pieces, catalogue),
        "version": options["version"],
        "number": report_number(about.get("session") or about["piece"]),
        "published": moment_day(options["published"]),
        "made_by_code": any(piece["made_by_code"] for piece in pieces),
        "lot": {"list": [_lot_line(piece) for piece in pieces], "count": counted(len(pieces), "piece", "pieces")} if len(pieces) > 1 else None,
        "pieces": pieces,
        "methods": methods(pieces),
        "hashes": _hashes(pieces),
        "catalogue": {"revision": catalogue["revision"], "hash": options["catalogue_hash"]},
        "algorithm": catalogue["shutter_timing"]["algorithm"],
        "snapshot": "",
        "since": None,
    }


def photo_hashes(view: Mapping) -> list[str]:
    """The photos a view shows, each once: what its link may serve, and nothing else."""
    return list(dict.fromkeys(one["hash"] for piece in view["pieces"] for one in piece["all_pictures"]))


def needed_files(bundle: Bundle, options: Mapping) -> list[str]:
    """Hashes of the photos and recordings that a report with these options (about, pieces, hidden_groups) speaks of, each once."""
    own = [last_seen(bundle, piece, visits, options.get("hidden_groups") or ()) for piece, visits in shown_pieces(bundle, options)]
    photos = [one["file"]["hash"] for records in own for one in records["photo"] if one.get("file") and not one.get("left_out")]
    return list(dict.fromkeys(photos + [one["file"]["hash"] for records in own for one in records["recording"] if one.get("file")]))


def _session(bundle: Bundle, visit: Mapping, options: Mapping) -> Mapping | None:
    wanted = options["about"].get("session") or visit.get("session")
    return next((one for one in bundle.get("session", []) if one["id"] == wanted), None)


def _title(pieces: list[dict], catalogue: Mapping) -> str:
    """The session's own title is private, so a lot is named by what is in it."""
    if len(pieces) == 1:
        return title(pieces[0], catalogue)
    kinds = list(dict.fromkeys(kind_words(piece, catalogue).lower() for piece in pieces))
    return f"{counted(len(pieces), 'piece', 'pieces')}: {listed(kinds)}"[:120]


def _looked_words(session: Mapping | None, pieces: list[dict], catalogue: Mapping) -> str:
    """Day and kind of place; never whose place or where."""
    session = session or {}
    day = day_words(session.get("day")) or pieces[0]["looked_on"]
    venue = title_of(catalogue["terms"]["venue_kinds"], session.get("venue_kind")).lower()
    how = "Judged from afar, not in the hand" if session.get("remote") else "Looked at"
    return ", ".join(words for words in (f"{how} on {day}" if day else how, venue) if words) + "."


def _lot_line(piece: Mapping) -> dict[str, Any]:
    verdict, missed, wrong = piece["verdict"], piece["not_checked"], piece["wrong"]
    faults = [fault["fault"] for effect in (wrong or {"list": []})["list"] for item in effect["items"] for fault in item["faults"]]
    hang = sum(len(reason["list"]) for reason in (missed["stopping"] or {"reasons": []})["reasons"])
    return {
        "lot_title": piece["title"], "lot_link": piece["piece_anchor"], "lot_number": piece["number"],
        "lot_verdict": verdict["words"], "lot_range": " ".join(words for words in (verdict["range"], verdict["holders"]) if words),
        "lot_wrong": "; ".join(dict.fromkeys(faults)) or "no fault seen in what was looked at",
        "lot_missed": f"{missed['count']} of {missed['of']} looks" + (f", {hang} that a picture hangs on" if hang else ""),
    }  # fmt: skip


def _hashes(pieces: list[dict]) -> list[dict[str, str]]:
    rows = [(f"Photo {one['number']}", one["hash"]) for piece in pieces for one in piece["all_pictures"]]
    rows += [(f"Recording: {one['what']}", one["hash"]) for piece in pieces for one in piece["recordings"]]
    return [{"what": what, "hash": sha256} for what, sha256 in rows]
