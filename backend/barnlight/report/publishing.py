"""Publishes a report: reads the records, measures the recordings, makes the view and freezes it with its page and style."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from sqlalchemy.orm import Session

from barnlight.domain.report_view import needed_files, photo_hashes, report_view
from barnlight.errors import BadInput, Conflict, NotFound
from barnlight.report.measuring import measure_takes
from barnlight.report.render import page, style
from barnlight.store import media, publications, records
from barnlight.store.blobs import DiskBlobs
from barnlight.store.models import Publication

LONGEST_TITLE = 120


@dataclass(frozen=True)
class Order:
    """What is to be published: a session or a piece, all of it or only some pieces."""

    kind: str  # "session" or "piece"
    id: str
    pieces: list[str] | None
    allow_missing: bool


@dataclass(frozen=True)
class Draft:
    """A report ready to be frozen; all but its version is known."""

    order: Order
    view: dict[str, Any]


def draft(
    db: Session, blobs: DiskBlobs, space: str, order: Order, catalogue: dict, read_sound: Callable[[bytes], tuple[Any, int]], now: dict[str, int]
) -> Draft:
    """Everything that takes time, done while others may still write.

    `read_sound`: bytes -> (samples, rate); `now`: {ms, offset_min}. Raises NotFound, BadInput (nothing looked at) or
    Conflict `media_missing` with the hashes that are still on a phone.
    """
    read = records.of_session if order.kind == "session" else records.of_piece
    bundle = read(db, space, order.id)
    if not bundle.get(order.kind):
        raise NotFound(f"There is no such {order.kind} on the server.", hint="Let the phone send its work first, then make the report.")
    options = {"about": {order.kind: order.id}, "pieces": order.pieces}
    needed = needed_files(bundle, options)
    here = {sha256 for sha256 in media.known(db, space, needed) if blobs.has(space, sha256)}
    missing = [sha256 for sha256 in needed if sha256 not in here]
    if missing and not order.allow_missing:
        raise Conflict(
            f"{len(missing)} photos or sounds of this report are still on a phone.", code="media_missing",
            hint="Leave the app open until they are sent, or make the report without them.", missing=missing,
        )
    measured = measure_takes(bundle.get("take", []), bundle.get("recording", []), blobs, space, read_sound, catalogue["shutter_timing"])
    options |= {"measured": measured, "here": here, "version": 0, "published": now, "catalogue_hash": catalogue["content_hash"]}
    try:
        return Draft(order, report_view(bundle, catalogue, options))
    except ValueError as error:
        raise BadInput(str(error), code="nothing_to_report", hint="Answer at least one check, then make the report.") from None


def freeze(db: Session, space: str, made: Draft, now_ms: int) -> Publication:
    """Give the draft its version and keep it for good. `db` must be open for writing."""
    version = publications.next_version(db, space, made.order.id)
    view = {**made.view, "version": version}
    return publications.add(
        db, space, about=made.order.id, about_kind=made.order.kind, version=version, title=view["title"][:LONGEST_TITLE], view=view,
        html=page(view), css=style(), media=photo_hashes(view), now_ms=now_ms,
    )
