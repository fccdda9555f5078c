"""A page where anyone who holds a file can ask whether it is the one published; it needs no pairing and keeps nothing."""

from __future__ import annotations

from flask import Response, request
from flask_smorest import Blueprint

from barnlight.api.description import shows
from barnlight.api.limits import limiter
from barnlight.report.proof import proof
from barnlight.report.render import evidence_page, style
from barnlight.services import services

blueprint = Blueprint("evidence", __name__, url_prefix="/evidence", description="Whether a file is as published")

BELOW = "/evidence/"
HEADERS = {
    "Content-Security-Policy": "default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
    "X-Robots-Tag": "noindex, nofollow, noarchive",
    "Cache-Control": "private, no-store",
}


@blueprint.after_app_request
def _private(response: Response) -> Response:
    if request.path.startswith(BELOW):
        response.headers.update(HEADERS)
    return response


@blueprint.get("/")
@blueprint.doc(**shows("text/html"))
def ask() -> Response:
    """The page with the question."""
    return Response(evidence_page({"asked": None}), mimetype="text/html")


@blueprint.post("/")
@blueprint.doc(**shows("text/html"))
@limiter.limit("30 per minute")
def look_up() -> Response:
    """The answer for one file."""
    given = request.files.get("file")
    data = given.read() if given else b""
    with services().database.read() as db:
        return Response(evidence_page({"asked": proof(db, data)}), mimetype="text/html")


@blueprint.get("/style.css")
@blueprint.doc(**shows("text/css"))
def sheet() -> Response:
    """The style of the page."""
    return Response(style(), mimetype="text/css")
