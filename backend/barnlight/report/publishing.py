"""Publishes a report: reads the records, measures the recordings, makes the view and freezes it with its page and style."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Generator, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy.orm import Session

from barnlight.domain.report_shutter import wave_marks
from barnlight.domain.report_view import needed_files, photo_hashes, report_view
from barnlight.errors import BadInput, Conflict, NotFound
from barnlight.report.measuring import draw_waves, measure_takes
from barnlight.report.render import page, style
from barnlight.report.since import earlier_photos, since
from barnlight.store import evidence, media, publications, records
from barnlight.store.blobs import DiskBlobs
from barnlight.store.models import Publication

LONGEST_TITLE = 120
RENDITION = "report.jpg"


@dataclass(frozen=True)
class Order:
    """What is to be published: a session or a piece, all of it or only some pieces."""

    kind: str  # "session" or "piece"
    id: str
    pieces: list[str] | None
    allow_missing: bool
    hidden_groups: tuple[str, ...] = ()  # groups of checks that the sender leaves out, which the report says
    paper: str = "a4"  # of the PDF: "a4" or "letter"


@dataclass(frozen=True)
class Draft:
    """A report ready to be frozen; all but its version is known."""

    order: Order
    view: dict[str, Any]
    shown: list[str]  # hashes of the photos at the size the report gives them out


def draft(
    db: Session, blobs: DiskBlobs, space: str, order: Order, catalogue: dict, read_sound: Callable[[bytes], tuple[Any, int]],
    smaller: Callable[[bytes], bytes], now: dict[str, int],
) -> Generator[tuple[int, int], None, Draft]:
    """Everything that takes time, done while others may still write; yields (done, of) after each sound and photo, returns the draft.

    `read_sound`: bytes -> (samples, rate); `smaller`: a photo -> the JPEG that a report shows; `now`: {ms, offset_min}. Raises NotFound, BadInput (nothing looked at) or
    Conflict `media_missing` with the hashes that are still on a phone.
    """
    read = records.of_session if order.kind == "session" else records.of_piece
    bundle = read(db, space, order.id)
    if not bundle.get(order.kind):
        raise NotFound(f"There is no such {order.kind} on the server.", hint="Let the phone send its work first, then make the report.")
    options = {"about": {order.kind: order.id}, "pieces": order.pieces, "hidden_groups": order.hidden_groups}
    needed = needed_files(bundle, options)
    here = {sha256 for sha256 in media.known(db, space, needed) if blobs.has(space, sha256)}
    missing = [sha256 for sha256 in needed if sha256 not in here]
    if missing and not order.allow_missing:
        raise Conflict(
            f"{len(missing)} photos or sounds of this report are still on a phone.", code="media_missing",
            hint="Leave the app open until they are sent, or make the report without them.", missing=missing,
        )
    takes, recordings = bundle.get("take", []), bundle.get("recording", [])
    sounds = {one["file"]["hash"] for one in recordings if one.get("file")}
    done, of = 0, len(takes) + len(here - sounds)
    measured: dict[str, dict[str, Any]] = {}
    for take in takes:
        measured |= measure_takes([take], recordings, blobs, space, read_sound, catalogue["shutter_timing"])
        done += 1
        yield done, of
    waves = draw_waves(wave_marks(bundle, measured, catalogue), takes, recordings, blobs, space, read_sound)
    options |= {"measured": measured, "waves": waves, "here": here, "version": 0, "published": now, "catalogue_hash": catalogue["content_hash"]}
    try:
        view = report_view(bundle, catalogue, options)
    except ValueError as error:
        raise BadInput(str(error), code="nothing_to_report", hint="Answer at least one check, then make the report.") from None
    shown = []
    for photo in photo_hashes(view):
        shown.append(_sha256(blobs.derived(space, photo, RENDITION, smaller)))
        done += 1
        yield done, of
    return Draft(order, view, shown)


def freeze(db: Session, space: str, made: Draft, now_ms: int) -> Publication:
    """Give the draft its version, say what changed since the one before, and keep it for good. `db` must be open for writing."""
    version = publications.next_version(db, space, made.order.id)
    earlier = publications.newest(db, space, made.order.id)
    changed = since(earlier.view, made.view) if earlier else None
    photos = list(dict.fromkeys([*photo_hashes(made.view), *(earlier_photos(changed) if changed else [])]))
    view = {**made.view, "version": version, "since": changed}
    view["snapshot"] = snapshot_hash(view)
    publication = publications.add(
        db, space, about=made.order.id, about_kind=made.order.kind, version=version, title=view["title"][:LONGEST_TITLE], view=view,
        html=page(view), css=style(made.order.paper), media=photos, now_ms=now_ms,
    )
    recordings = [one["hash"] for piece in view["pieces"] for one in piece["recordings"]]
    evidence.note(db, publication, [
        (_sha256(publication.html.encode()), evidence.PAGE), (view["snapshot"], evidence.SNAPSHOT),
        *((photo, evidence.PHOTO) for photo in photos), *((photo, evidence.SHOWN_PHOTO) for photo in made.shown),
        *((sound, evidence.RECORDING) for sound in recordings),
    ])  # fmt: skip
    return publication


def snapshot_hash(view: Mapping[str, Any]) -> str:
    """SHA-256 of the plain data of a report, this field left empty: JSON with sorted names, no spaces, as UTF-8."""
    return _sha256(json.dumps({**view, "snapshot": ""}, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode())


def _sha256(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
