"""Makes reports and their links, lists them, and takes links back."""

from __future__ import annotations

import json
from collections.abc import Generator, Iterator
from typing import Any

from flask import Response, request, stream_with_context
from flask_smorest import Blueprint
from marshmallow import Schema, ValidationError, fields, validate, validates_schema
from sqlalchemy.orm import Session

from barnlight import catalogue
from barnlight.api.access import only_devices, require_device
from barnlight.api.shapes import Id, Shape, Words
from barnlight.errors import BarnlightError, NotFound, error_body
from barnlight.media.audio import read_sound
from barnlight.media.image import for_report
from barnlight.report.publishing import Order, draft, freeze
from barnlight.services import Services, services
from barnlight.store import publications, shares
from barnlight.store.models import Publication, ShareLink
from barnlight.sync import own

blueprint = Blueprint("reports", __name__, url_prefix="/api", description="Condition reports and the links to them")
only_devices(blueprint)

DAY_MS = 24 * 3600 * 1000
MOST_PIECES = 200
LINES = "application/x-ndjson"

# Yields (done, of), returns the link as it is given out.
Work = Generator[tuple[int, int], None, dict[str, Any]]


class LinkAsked(Shape):
    recipient = Words(most=120, load_default="")
    days = fields.Integer(load_default=90, validate=validate.Range(min=1, max=365))


class ReportAbout(Shape):
    session = Id()
    piece = Id()

    @validates_schema
    def _one_of_them(self, data: dict[str, Any], **_: Any) -> None:
        if ("session" in data) == ("piece" in data):
            raise ValidationError("Name a session or a piece, one of them.", "session")


class ReportAsked(LinkAsked, ReportAbout):
    pieces = fields.List(Id(), validate=validate.Length(min=1, max=MOST_PIECES))
    offset_min = fields.Integer(load_default=0, validate=validate.Range(min=-900, max=900))
    allow_missing = fields.Boolean(load_default=False)
    paper = fields.String(load_default="a4", validate=validate.OneOf(("a4", "letter")))
    hidden_groups = fields.List(Words(most=60), load_default=list, validate=validate.Length(max=60))


class LinkMade(Schema):
    publication = Id()
    version = fields.Integer()
    title = fields.String()
    link = fields.String(metadata={"description": "shown this once; the server keeps only its hash"})
    expires_ms = fields.Integer()


class LinkShown(Schema):
    id = Id()
    recipient = fields.String()
    expires_ms = fields.Integer()
    revoked = fields.Boolean()
    opened = fields.Integer()
    last_opened_day = fields.String(allow_none=True)
    leads_on = fields.Boolean(metadata={"description": "whether its reader may go on to a newer version"})


class LinkChange(Shape):
    leads_on = fields.Boolean(required=True)


class PublicationShown(Schema):
    publication = Id()
    version = fields.Integer()
    title = fields.String()
    published_ms = fields.Integer()
    links = fields.List(fields.Nested(LinkShown))


@blueprint.post("/reports")
@blueprint.arguments(ReportAsked)
@blueprint.response(201, LinkMade)
def publish(asked: dict[str, Any]) -> dict[str, Any] | Response:
    """Make a report of what the server holds now, freeze it, and give a first link to it.

    Asked for as `application/x-ndjson` it tells how far it is, a line a sound or photo: {"done", "of"}; the last line is {"answer"} or {"error", "status"}.
    """
    work = _publishing(asked, require_device().space, services())
    if request.accept_mimetypes.best == LINES:
        return Response(stream_with_context(_lines(work)), mimetype=LINES)
    return _end_of(work)


@blueprint.get("/reports")
@blueprint.arguments(ReportAbout, location="query")
@blueprint.response(200, PublicationShown(many=True))
def versions(asked: dict[str, str]) -> list[dict[str, Any]]:
    """Every version about a session or piece, the newest first, with its links."""
    who = require_device()
    with services().database.read() as db:
        made = publications.about(db, who.space, asked.get("session") or asked["piece"])
        links = shares.of_publications(db, [one.id for one in made])
        return [_shown(one, links[one.id]) for one in made]


@blueprint.post("/reports/<publication>/links")
@blueprint.arguments(LinkAsked)
@blueprint.response(201, LinkMade)
def add_link(asked: dict[str, Any], publication: str) -> dict[str, Any]:
    """Another link to the same frozen report, for another recipient."""
    who, here = require_device(), services()
    with here.database.write() as db:
        made = publications.get(db, who.space, publication)
        if made is None:
            raise NotFound("There is no such report.")
        return _link(db, made, asked, here.now_ms())


@blueprint.delete("/links/<link>")
@blueprint.response(204)
def end_link(link: str) -> None:
    """Take a link back at once and for good."""
    who, here = require_device(), services()
    with here.database.write() as db:
        if not shares.revoke(db, who.space, link, here.now_ms()):
            raise NotFound("There is no such link.")


@blueprint.patch("/links/<link>")
@blueprint.arguments(LinkChange)
@blueprint.response(204)
def change_link(asked: dict[str, Any], link: str) -> None:
    """Let the reader of a link go on to newer versions, or not."""
    who = require_device()
    with services().database.write() as db:
        if not shares.lead_on(db, who.space, link, asked["leads_on"]):
            raise NotFound("There is no such link.")


def _publishing(asked: dict[str, Any], space: str, here: Services) -> Work:
    now_ms = here.now_ms()
    kind = "session" if "session" in asked else "piece"
    order = Order(kind, asked[kind], asked.get("pieces"), asked["allow_missing"], tuple(asked["hidden_groups"]), asked["paper"])
    with here.database.read() as db:
        now = {"ms": now_ms, "offset_min": asked["offset_min"]}
        ready = yield from draft(db, here.blobs, space, order, catalogue.load(), read_sound, for_report, now)
    with here.database.write() as db:
        made = freeze(db, space, ready, now_ms)
        own.write(db, space, "publication", made.id, _as_record(made), now_ms)
        return _link(db, made, asked, now_ms)


def _end_of(work: Work) -> dict[str, Any]:
    try:
        while True:
            next(work)
    except StopIteration as end:
        return end.value


def _lines(work: Work) -> Iterator[str]:
    """The work's progress as lines of JSON. Its status is already sent: a failure is a line too."""
    try:
        while True:
            done, of = next(work)
            yield json.dumps({"done": done, "of": of}) + "\n"
    except StopIteration as end:
        yield json.dumps({"answer": end.value}) + "\n"
    except BarnlightError as error:
        body = error_body(error.code, error.message, error.field, error.hint, **error.more)
        yield json.dumps({**body, "status": error.status}) + "\n"


def _link(db: Session, made: Publication, asked: dict[str, Any], now_ms: int) -> dict[str, Any]:
    """A new link to the report."""
    expires_ms = now_ms + asked["days"] * DAY_MS
    token, _ = shares.make(db, made, asked["recipient"], expires_ms, now_ms)
    return {
        "publication": made.id, "version": made.version, "title": made.title,
        "link": f"{services().config.address}/r/{token}/", "expires_ms": expires_ms,
    }  # fmt: skip


def _as_record(made: Publication) -> dict[str, Any]:
    """What the phones learn of it by sync."""
    moment = {"ms": made.published_ms, "offset_min": 0}
    return {made.about_kind: made.about, "version": made.version, "published": moment, "title": made.title}


def _shown(made: Publication, links: list[ShareLink]) -> dict[str, Any]:
    return {
        "publication": made.id, "version": made.version, "title": made.title, "published_ms": made.published_ms,
        "links": [{
            "id": link.id, "recipient": link.recipient, "expires_ms": link.expires_ms, "revoked": link.revoked_ms is not None,
            "opened": link.opened, "last_opened_day": link.last_opened_day, "leads_on": link.leads_on,
        } for link in links],
    }  # fmt: skip
