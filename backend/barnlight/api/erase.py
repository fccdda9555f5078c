"""Erases a session or a seller everywhere, after saying what would go."""

from __future__ import annotations

from typing import Any

from flask_smorest import Blueprint
from marshmallow import Schema, fields, validate

from barnlight.api.access import only_devices, require_device
from barnlight.api.shapes import Id, Shape
from barnlight.exchange.erasure import erase
from barnlight.services import services
from barnlight.store.erasing import KINDS

blueprint = Blueprint("erase", __name__, url_prefix="/api", description="Erasing for good")
only_devices(blueprint)


class EraseAsked(Shape):
    kind = fields.String(required=True, validate=validate.OneOf(KINDS))
    id = Id(required=True)
    dry_run = fields.Boolean(required=True, metadata={"description": "true: only say what would go; false: erase it"})


class ReportGone(Schema):
    title = fields.String()
    version = fields.Integer()


class Stays(Schema):
    kind = fields.String()
    id = Id()
    title = fields.String()


class Told(Schema):
    records = fields.Dict(keys=fields.String(), values=fields.Integer(), metadata={"description": "how many of each kind"})
    changes = fields.Integer()
    reports = fields.List(fields.Nested(ReportGone))
    links = fields.Integer()
    media = fields.Integer()
    media_bytes = fields.Integer()
    stays = fields.List(fields.Nested(Stays), metadata={"description": "sales that stay, without their seller"})


@blueprint.post("/erase")
@blueprint.arguments(EraseAsked)
@blueprint.response(200, Told)
def erase_it(asked: dict[str, Any]) -> dict[str, Any]:
    """Records, history, reports and their links, photos and sounds; devices drop it when they next pull. It cannot be undone."""
    who = require_device()
    return erase(services(), who.space, asked["kind"], asked["id"], dry_run=asked["dry_run"])
