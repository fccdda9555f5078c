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
from barnlight.exchange.intake import bytes_held, take_in, take_piece
from barnlight.services import services
from barnlight.store import media

HASH = re.compile(r"[0-9a-f]{64}")

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
@blueprint.response(200, description="All bytes are here")
def received(sha256: str) -> Response:
    """Whether the bytes are here; if not (404), the header X-Received tells how many of them are, so that a phone goes on from there."""
    who, here = require_device(), services()
    require_hash(sha256)
    held = bytes_held(here, who.space, sha256)
    count = here.partials.received(who.space, sha256) if held is None else held
    return Response(status=404 if held is None else 200, headers={"X-Received": str(count), "Cache-Control": "no-store"})


@blueprint.get("/<sha256>")
def get(sha256: str) -> Response:
    """The exact bytes, shown as nothing but a picture or sound."""
    who, here = require_device(), services()
    require_hash(sha256)
    with here.database.read() as db:
        row = media.get(db, who.space, sha256)
    if row is None or not here.blobs.has(who.space, sha256):
        raise NotFound("These bytes are not here.", code="media_missing", hint="They may still be on the phone that took them.")
    response = Response(here.blobs.read(who.space, sha256), mimetype=row.type)
    response.set_etag(sha256)
    response.headers["Cache-Control"] = "private, max-age=31536000, immutable"
    response.headers["Content-Security-Policy"] = "default-src 'none'; frame-ancestors 'none'; sandbox"
    return response.make_conditional(request)


@blueprint.post("/known")
@blueprint.arguments(Hashes)
@blueprint.response(200, Known)
def known(asked: dict[str, list[str]]) -> dict[str, list[str]]:
    """Which of these are here, so that a phone sends only the others."""
    who, here = require_device(), services()
    with here.database.read() as db:
        rows = media.known(db, who.space, asked["hashes"])
    # A phone may free its copy on this word: it is given only for bytes that are really there.
    return {"known": sorted(sha256 for sha256 in rows if here.blobs.has(who.space, sha256))}


def require_hash(sha256: str) -> None:
    """Refuse an address that names no hash, before any file is looked for by it. Raises NotFound."""
    if not HASH.fullmatch(sha256):
        raise NotFound("Photos and sounds are named by their SHA-256: 64 hex digits.")
