"""Photos and sounds by their SHA-256: taken in, checked, given out."""

from __future__ import annotations

from typing import Any

from flask import Response, request
from flask_smorest import Blueprint
from marshmallow import Schema, fields, validate

from barnlight.api.access import only_devices, require_device
from barnlight.api.shapes import Hash, Shape
from barnlight.errors import BadInput, NotFound
from barnlight.exchange.intake import take_in
from barnlight.services import services
from barnlight.store import media

blueprint = Blueprint("media", __name__, url_prefix="/api/media", description="Photos and sounds")
only_devices(blueprint)


class Stored(Schema):
    hash = Hash()
    bytes = fields.Integer()
    state = fields.String(validate=validate.OneOf(["stored"]))


class Hashes(Shape):
    hashes = fields.List(Hash(), required=True, validate=validate.Length(max=500))


class Known(Schema):
    known = fields.List(Hash())


@blueprint.put("/<sha256>")
@blueprint.response(200, Stored)
def put(sha256: str) -> dict[str, Any]:
    """Hand over the bytes; confirmed only once they are checked and on the disk."""
    who, here = require_device(), services()
    size = take_in(here, who.space, sha256, request.mimetype, request.stream)
    return {"hash": sha256, "bytes": size, "state": "stored"}


@blueprint.get("/<sha256>")
def get(sha256: str) -> Response:
    """The exact bytes, shown as nothing but a picture or sound."""
    who, here = require_device(), services()
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
