"""Lets devices in: pairing by a one-time code, who am I, the list of devices, and shutting one out."""

from __future__ import annotations

from typing import Any

import segno
from flask import Response, jsonify, request
from flask_smorest import Blueprint
from marshmallow import Schema, fields

from barnlight import __version__
from barnlight.api import limits
from barnlight.api.access import give_cookie, require_device, require_safe_address
from barnlight.api.limits import GUESSES, everyone, limiter, was_wrong
from barnlight.api.shapes import Id, Shape, Words
from barnlight.errors import BadInput, NotFound
from barnlight.services import services
from barnlight.store import devices, spaces

blueprint = Blueprint("pairing", __name__, url_prefix="/api", description="Pairing, and the devices of a space")

NO_SUCH_DEVICE = "There is no such device here."
REFUSED = {
    "unknown": "This code is not known here.",
    "used": "This code was used already; a code lets in one device.",
    "expired": "This code has run out; a code holds for 15 minutes.",
}


class PairAsked(Shape):
    code = Words(most=20, required=True)
    device = Id(required=True)
    device_name = Words(most=80, required=True)


class Paired(Schema):
    device = Id()
    space = Id()
    space_name = fields.String()
    epoch = fields.String()
    author = fields.String()


class Me(Schema):
    device = Id()
    device_name = fields.String()
    space = Id()
    space_name = fields.String()
    epoch = fields.String()
    now_ms = fields.Integer()
    version = fields.String()


class Code(Schema):
    code = fields.String()
    link = fields.String()
    made_ms = fields.Integer()
    expires_ms = fields.Integer()
    lasts_ms = fields.Integer(metadata={"description": "for a phone whose clock is not the server's"})
    qr = fields.List(fields.String(), metadata={"description": "the link as a QR code (ISO/IEC 18004): rows of 1 (dark) and 0, without the margin of 4"})


class NameAsked(Shape):
    name = Words(most=80, required=True)


class DeviceShown(Schema):
    id = Id()
    name = fields.String()
    paired_ms = fields.Integer()
    seen_ms = fields.Integer()
    this = fields.Boolean()


@blueprint.post("/pair")
@limiter.limit(GUESSES)
@limiter.limit(lambda: limits.guesses_from_all(), key_func=everyone, deduct_when=was_wrong)
@blueprint.arguments(PairAsked)
@blueprint.response(200, Paired)
def pair(asked: dict[str, Any]) -> Response:
    """Exchange a code for the cookie by which this device is known from now on."""
    require_safe_address()
    here = services()
    with here.database.write() as db:
        outcome = devices.redeem(db, asked["code"], asked["device"], asked["device_name"], here.now_ms())
        if isinstance(outcome, str):
            raise BadInput(REFUSED[outcome], code="bad_code", field="code", hint="Get a new code from the server or a paired device.")
        token, device = outcome
        space = spaces.get(db, device.space)
        body = {"device": device.id, "space": space.id, "space_name": space.name, "epoch": space.epoch, "author": device.name}
    response = jsonify(body)
    give_cookie(response, token)
    return response


@blueprint.get("/me")
@blueprint.response(200, Me)
def me() -> dict[str, Any]:
    """Which device this is, in which space."""
    who, here = require_device(), services()
    with here.database.read() as db:
        space = spaces.get(db, who.space)
    return {
        "device": who.device, "device_name": who.name, "space": space.id, "space_name": space.name, "epoch": space.epoch,
        "now_ms": here.now_ms(), "version": __version__,
    }


@blueprint.post("/pair/codes")
@limiter.limit("30 per hour")
@blueprint.response(201, Code)
def make_code() -> dict[str, Any]:
    """A code to let another device into the same space."""
    who, here = require_device(), services()
    now_ms = here.now_ms()
    with here.database.write() as db:
        code, expires_ms = devices.make_code(db, who.space, now_ms)
    # By the address that brought this phone here another one finds the way too.
    link = pairing_link((here.config.public_url or request.host_url).rstrip("/"), code)
    return {"code": code, "link": link, "made_ms": now_ms, "expires_ms": expires_ms, "lasts_ms": expires_ms - now_ms, "qr": qr_rows(link)}


@blueprint.get("/devices")
@blueprint.response(200, DeviceShown(many=True))
def list_devices() -> list[dict[str, Any]]:
    """The devices that may enter this space."""
    who = require_device()
    with services().database.read() as db:
        found = devices.of_space(db, who.space)
    return [
        {"id": each.id, "name": each.name, "paired_ms": each.paired_ms, "seen_ms": each.seen_ms, "this": each.id == who.device}
        for each in found
    ]


@blueprint.patch("/devices/<device>")
@blueprint.arguments(NameAsked)
@blueprint.response(204)
def rename(asked: dict[str, str], device: str) -> None:
    """Give a device another name in this list."""
    who = require_device()
    with services().database.write() as db:
        if not devices.rename(db, who.space, device, asked["name"]):
            raise NotFound(NO_SUCH_DEVICE)


@blueprint.delete("/devices/<device>")
@blueprint.response(204)
def revoke(device: str) -> None:
    """Shut a device out; what is on it stays there."""
    who, here = require_device(), services()
    with here.database.write() as db:
        if not devices.revoke(db, who.space, device, here.now_ms()):
            raise NotFound(NO_SUCH_DEVICE)


def pairing_link(address: str, code: str) -> str:
    """The address that opens the app with the code filled in."""
    return f"{address}/#/pair/{code}"


def qr_rows(link: str) -> list[str]:
    """The link as rows of dark (1) and light (0) squares, which a phone draws itself: no foreign markup comes into the page."""
    return ["".join("1" if dark else "0" for dark in row) for row in segno.make_qr(link, error="m").matrix]
