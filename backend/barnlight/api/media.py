"""Photos and sounds by their SHA-256: taken in, checked, given out."""

from __future__ import annotations

import re
from typing import Any

from flask import Response, request
from flask_smorest import Blueprint
from marshmallow import Schema, ValidationError, fields, validate, validates_schema

from barnlight.api.access import only_devices, require_device
from barnlight.api.shapes import Hash, Shape
from barnlight.errors import NotFound
from barnlight.exchange.intake import SOUND, take_in, take_piece
from barnlight.media.image import FORMATS
from barnlight.services import services
from barnlight.store import media
from barnlight.store.models import Media

HASH = re.compile(r"[0-9a-f]{64}")

BYTES = {"type": "string", "format": "binary"}
KINDS = {"content": {kind: {"schema": BYTES} for kind in (*FORMATS, SOUND)}}

blueprint = Blueprint("media", __name__, url_prefix="/api/media", description="Photos and sounds")
only_devices(blueprint)


class Stored(Schema):
    hash = Hash()
    bytes = fields.Integer()
    state = fields.String(validate=validate.OneOf(["stored", "partial"]))


class Piece(Shape):
    """Both or neither."""

    offset = fields.Integer(data_key="X-Offset", attribute="X-Offset", validate=validate.Range(min=0, max=2**40))
    total = fields.Integer(data_key="X-Total", attribute="X-Total", validate=validate.Range(min=1, max=2**40))

    @validates_schema
    def _both(self, data: dict[str, Any], **_more: Any) -> None:
        if len(data) == 1:
            raise ValidationError("X-Offset and X-Total belong together.", "X-Offset")


class Hashes(Shape):
    hashes = fields.List(Hash(), required=True, validate=validate.Length(max=500))


class Known(Schema):
    known = fields.List(Hash())


@blueprint.put("/<sha256>")
@blueprint.arguments(Piece, location="headers")
@blueprint.response(200, Stored)
@blueprint.doc(requestBody={**KINDS, "required": True})
def put(piece: dict[str, int], sha256: str) -> dict[str, Any]:
    """Hand over the bytes, or a piece of them; confirmed only once all are checked and on the disk."""
    who, here = require_device(), services()
    require_hash(sha256)
    if not piece:
        size = take_in(here, who.space, sha256, request.mimetype, request.stream)
        return {"hash": sha256, "bytes": size, "state": "stored"}
    received, kept = take_piece(here, who.space, sha256, request.mimetype, request.stream, piece["X-Offset"], piece["X-Total"])
    return {"hash": sha256, "bytes": received, "state": "stored" if kept else "partial"}


@blueprint.route("/<sha256>", methods=["HEAD"])
@blueprint.doc(responses={200: {"description": "All bytes are here", **KINDS}, 404: {"description": "X-Received of them are here"}})
def received(sha256: str) -> Response:
    """Whether the bytes are here; if not (404), the header X-Received tells how many of them are, so that a phone goes on from there."""
    who, here = require_device(), services()
    row = _held(who.space, sha256)
    count = here.partials.received(who.space, sha256) if row is None else row.bytes
    response = Response(status=404, mimetype="application/json") if row is None else Response(mimetype=row.type)
    response.headers.update({"X-Received": str(count), "Cache-Control": "no-store"})
    return response


@blueprint.get("/<sha256>")
@blueprint.doc(responses={200: {"description": "The bytes", **KINDS}, 304: {"description": "The asker has them"}})
def get(sha256: str) -> Response:
    """The exact bytes, shown as nothing but a picture or sound."""
    who, here = require_device(), services()
    row = _row(who.space, sha256)
    if row is None or not here.blobs.was_whole(who.space, sha256):
        raise _missing()
    response = Response(mimetype=row.type)
    response.set_etag(sha256)
    response.headers["Cache-Control"] = "private, max-age=31536000, immutable"
    response.headers["Content-Security-Policy"] = "default-src 'none'; frame-ancestors 'none'; sandbox"
    if response.make_conditional(request).status_code == 200:
        try:
            response.data = here.blobs.read(who.space, sha256)
        except FileNotFoundError:  # erased just now
            raise _missing() from None
    return response


@blueprint.post("/known")
@blueprint.arguments(Hashes)
@blueprint.response(200, Known)
def known(asked: dict[str, list[str]]) -> dict[str, list[str]]:
    """Which of these are here, so that a phone sends only the others."""
    who, here = require_device(), services()
    with here.database.read() as db:
        rows = media.known(db, who.space, asked["hashes"])
    # A phone may free its copy on this word: it is given only for bytes that are really there, read to the last.
    return {"known": sorted(sha256 for sha256 in rows if here.blobs.is_whole(who.space, sha256))}


def _held(space: str, sha256: str) -> Media | None:
    """What is known of these bytes, if they are here and whole: read anew, for a phone may free its copy on this word."""
    row = _row(space, sha256)
    return row if row is not None and services().blobs.is_whole(space, sha256) else None


def _row(space: str, sha256: str) -> Media | None:
    """What is known of these bytes. Raises NotFound for what is no hash."""
    require_hash(sha256)
    with services().database.read() as db:
        return media.get(db, space, sha256)


def _missing() -> NotFound:
    return NotFound("These bytes are not here.", code="media_missing", hint="They may still be on the phone that took them.")


def require_hash(sha256: str) -> None:
    """Refuse an address that names no hash, before any file is looked for by it. Raises NotFound."""
    if not HASH.fullmatch(sha256):
        raise NotFound("Photos and sounds are named by their SHA-256: 64 hex digits.")
