"""Push and pull of changes; sync/README.md says what they mean."""

from __future__ import annotations

from functools import partial
from typing import Any

from flask import Response, jsonify
from flask_smorest import Blueprint
from marshmallow import Schema, fields, validate

from barnlight.api.access import only_devices, require_device
from barnlight.api.shapes import Shape
from barnlight.exchange.erasure import clear_away
from barnlight.services import services
from barnlight.sync.pull import MOST, pull
from barnlight.sync.push import push

blueprint = Blueprint("changes", __name__, url_prefix="/api", description="Sync of changes")
only_devices(blueprint)

CHANGE = "id, space, kind, record, field, value, stamp, base, settles, device, author, schema; judged one by one, see the protocol"


class Pushed(Shape):
    epoch = fields.String(allow_none=True, load_default=None, validate=validate.Length(max=64))
    changes = fields.List(fields.Raw(allow_none=True, metadata={"description": CHANGE}), required=True, validate=validate.Length(max=MOST))


class Result(Schema):
    id = fields.String(allow_none=True)
    result = fields.String(validate=validate.OneOf(["ok", "duplicate", "deferred", "refused"]))
    reason = fields.String()
    message = fields.String()
    number = fields.Integer()
    stamp = fields.String()


class PushAnswer(Schema):
    epoch = fields.String()
    now_ms = fields.Integer()
    results = fields.List(fields.Nested(Result))


class PullAsked(Shape):
    after = fields.Integer(load_default=0, validate=validate.Range(min=0, max=2**53 - 1))
    limit = fields.Integer(load_default=MOST, validate=validate.Range(min=1, max=MOST))


class PullAnswer(Schema):
    epoch = fields.String()
    now_ms = fields.Integer()
    changes = fields.List(fields.Dict(), metadata={"description": f"{CHANGE}; with its number"})
    next = fields.Integer()
    more = fields.Boolean()


@blueprint.post("/changes")
@blueprint.arguments(Pushed())  # an object: a class would be made anew for every request
@blueprint.response(200, PushAnswer)
def push_changes(asked: dict[str, Any]) -> Response:
    """Hand over what this device holds that the server may not; the same again is no harm."""
    who, here = require_device(), services()
    now_ms = here.now_ms()
    epoch, results = push(here.database, who.space, who.device, asked["changes"], now_ms, partial(clear_away, here))
    # As they are: copying results through their schema, one by one, would cost as much as storing the changes.
    return jsonify(epoch=epoch, now_ms=now_ms, results=results)


@blueprint.get("/changes")
@blueprint.arguments(PullAsked(), location="query")
@blueprint.response(200, PullAnswer)
def pull_changes(asked: dict[str, int]) -> dict[str, Any]:
    """What the space holds above a number."""
    who, here = require_device(), services()
    return {**pull(here.database, who.space, asked["after"], asked["limit"]), "now_ms": here.now_ms()}
