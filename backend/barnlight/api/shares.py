"""What a recipient sees behind a share link: the frozen page, its style, its photos and its PDF, and nothing else."""

from __future__ import annotations

import hashlib
from datetime import UTC, datetime

from flask import Response, request
from flask_smorest import Blueprint

from barnlight.api.limits import limiter
from barnlight.errors import NotFound
from barnlight.media.image import for_report
from barnlight.report.pdf import make_pdf
from barnlight.report.render import closed_page
from barnlight.services import services
from barnlight.store import shares
from barnlight.store.models import Publication, ShareLink

blueprint = Blueprint("shares", __name__, url_prefix="/r/<token>", description="Shared reports")

RENDITION = "report.jpg"
HEADERS = {
    "Content-Security-Policy": "default-src 'none'; style-src 'self'; img-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    "Referrer-Policy": "no-referrer",
    "X-Robots-Tag": "noindex, nofollow, noarchive",
    "Cache-Control": "private, no-store",
}


class Closed(Exception):
    """The link shows nothing, or nothing any more."""

    def __init__(self, status: int, title: str, words: str) -> None:
        super().__init__(title)
        self.status, self.title, self.words = status, title, words


@blueprint.errorhandler(Closed)
def _closed(closed: Closed) -> Response:
    return Response(closed_page(closed.title, closed.words), closed.status, mimetype="text/html")


@blueprint.after_request
def _private(response: Response) -> Response:
    """A share link is not to be found, kept, framed or passed on by the browser."""
    response.headers.update(HEADERS)
    return response


# Only misses count, so that a recipient may read as often as they like; a secret of 192 bits is not guessed anyway.
limit_misses = limiter.limit("60 per minute", deduct_when=lambda response: response.status_code == 404)


@blueprint.get("/")
@limit_misses
def report(token: str) -> Response:
    """The page; opening it is counted by day."""
    link, made = _open(token)
    if request.method == "GET":
        here = services()
        with here.database.write() as db:
            shares.count_opening(db, link.id, datetime.fromtimestamp(here.now_ms() / 1000, UTC).date().isoformat())
    return Response(made.html, mimetype="text/html")


@blueprint.get("/style.css")
@limit_misses
def style(token: str) -> Response:
    """The style sheet as it was when the report was made."""
    return Response(_open(token)[1].css, mimetype="text/css")


@blueprint.get("/photo/<sha256>.jpg")
@limit_misses
def photo(token: str, sha256: str) -> Response:
    """One photo of the report at its size; a photo that the report does not show is not here."""
    _, made = _open(token)
    if sha256 not in made.media:
        raise NotFound("This report has no such photo.")
    return Response(_rendition(made, sha256), mimetype="image/jpeg")


@blueprint.get("/report.pdf")
@limit_misses
def pdf(token: str) -> Response:
    """The report as a PDF, made once a link and then kept."""
    link, made = _open(token)
    data = _kept_pdf(link) or _new_pdf(link, made)
    response = Response(data, mimetype="application/pdf")
    response.headers["Content-Disposition"] = f'inline; filename="condition-report-version-{made.version}.pdf"'
    return response


def _open(token: str) -> tuple[ShareLink, Publication]:
    """The link and its report. Raises Closed."""
    here = services()
    with here.database.read() as db:
        found = shares.find(db, token)
    if found is None:
        raise Closed(404, "There is no report here", "The link may have been cut or mistyped. Ask whoever sent it for the whole link.")
    link, made = found
    if not shares.is_open(link, here.now_ms()):
        words = "It was taken back by its sender." if link.revoked_ms is not None else "It was given for a time that has run out."
        raise Closed(410, "This link has ended", f"{words} Ask the sender for a new one.")
    return link, made


def _rendition(made: Publication, sha256: str) -> bytes:
    try:
        return services().blobs.derived(made.space, sha256, RENDITION, for_report)
    except FileNotFoundError:
        raise NotFound("This photo is no longer on the server.") from None


def _kept_pdf(link: ShareLink) -> bytes | None:
    with services().database.read() as db:
        return db.get_one(ShareLink, link.id).pdf


def _new_pdf(link: ShareLink, made: Publication) -> bytes:
    photos = {f"photo/{sha256}.jpg": _rendition(made, sha256) for sha256 in made.media}
    data = make_pdf(made.html, made.css, photos)
    with services().database.write() as db:
        entry = db.get_one(ShareLink, link.id)
        entry.pdf, entry.pdf_hash = data, hashlib.sha256(data).hexdigest()
    return data
