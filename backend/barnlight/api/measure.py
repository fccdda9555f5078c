"""Measures a recording that is here again, from its bytes alone, so that a phone can hold its own figure against it."""

from __future__ import annotations

from typing import Any

from flask_smorest import Blueprint
from marshmallow import Schema, fields

from barnlight import catalogue
from barnlight.api.access import only_devices, require_device
from barnlight.api.shapes import Shape, Words
from barnlight.domain.exposure import parse_mark
from barnlight.errors import BadInput, NotFound, WrongKind
from barnlight.media import RefusedMedia
from barnlight.media.audio import read_sound
from barnlight.report.measuring import measure_stored
from barnlight.services import services
from barnlight.store import media

blueprint = Blueprint("measure", __name__, url_prefix="/api/recordings", description="Shutter times read by the server")
only_devices(blueprint)

SOUND = "audio/wav"


class Asked(Shape):
    marked = Words(most=20, metadata={"description": "the marked speed, e.g. 1/50; without it much less can be told"})


class FiringShown(Schema):
    open_s = fields.Float()
    close_s = fields.Float()
    open_time_s = fields.Float()
    low_s = fields.Float()
    high_s = fields.Float()
    verdict = fields.String()


class Measured(Schema):
    verdict = fields.String()
    reason = fields.String(allow_none=True)
    marked_s = fields.Float(allow_none=True)
    open_time_s = fields.Float(allow_none=True)
    low_s = fields.Float(allow_none=True)
    high_s = fields.Float(allow_none=True)
    firings = fields.List(fields.Nested(FiringShown))
    algorithm = fields.String()


@blueprint.get("/<sha256>/measure")
@blueprint.arguments(Asked, location="query")
@blueprint.response(200, Measured)
def measure(asked: dict[str, str], sha256: str) -> dict[str, Any]:
    """What the server reads in the recording; times in seconds, limits 95 %."""
    who, here = require_device(), services()
    marked_s = _seconds(asked.get("marked"))
    with here.database.read() as db:
        row = media.get(db, who.space, sha256)
    if row is None or row.type != SOUND or not here.blobs.has(who.space, sha256):
        raise NotFound("This recording is not here.", code="media_missing", hint="It may still be on the phone that made it.")
    try:
        return measure_stored(here.blobs, who.space, sha256, marked_s, read_sound, catalogue.load()["shutter_timing"])
    except RefusedMedia as refused:
        raise WrongKind(refused.message, code=refused.code, hint=refused.hint) from None


def _seconds(marked: str | None) -> float | None:
    if marked is None:
        return None
    seconds = parse_mark(marked)
    if seconds is None:
        raise BadInput(f'"{marked}" is no marked speed.', field="marked", hint="Write it like 1/50 or 2s.")
    return seconds
