"""What a recipient sees behind a share link: the frozen page, its style, its photos and its PDF, and nothing else."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import UTC, datetime

from flask import Response, request
from flask_smorest import Blueprint

from barnlight.api.description import shows
from barnlight.api.limits import limiter
from barnlight.domain.report_words import moment_day
from barnlight.errors import NotFound, NotReady
from barnlight.media.image import for_report
from barnlight.report.live_link import with_live_link
from barnlight.report.one_file import one_file
from barnlight.report.pdf import make_pdf
from barnlight.report.publishing import RENDITION
from barnlight.report.render import closed_page, newer_page
from barnlight.services import services
from barnlight.store import evidence, publications, shares
from barnlight.store.models import Publication, ShareLink

blueprint = Blueprint("shares", __name__, url_prefix="/r/<token>", description="Shared reports")

BELOW = "/r/"
HEADERS = {
    "Content-Security-Policy": "default-src 'none'; style-src 'self'; img-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    "Referrer-Policy": "no-referrer",
    "X-Robots-Tag": "noindex, nofollow, noarchive",
    "Cache-Control": "private, no-store",
}


class Closed(Exception):
    """The link shows nothing, or nothing any more."""

    def __init__(self, status: int, title: str, happened: str, todo: str) -> None:
        super().__init__(title)
        self.status, self.title, self.happened, self.todo = status, title, happened, todo


@dataclass(frozen=True)
class Opened:
    """A link that holds, and the version it was given for."""

    link: ShareLink
    made: Publication


@blueprint.errorhandler(Closed)
def _closed(closed: Closed) -> Response:
    return Response(closed_page(closed.title, closed.happened, closed.todo), closed.status, mimetype="text/html")


@blueprint.after_app_request
def _private(response: Response) -> Response:
    """A share link is not to be found, kept, framed or passed on by the browser; nor are refusals that no view was asked for."""
    if request.path.startswith(BELOW):
        response.headers.update(HEADERS)
    return response


# Only misses count, so that a recipient may read as often as they like; a secret of 192 bits is not guessed anyway.
limit_misses = limiter.limit("60 per minute", deduct_when=lambda response: response.status_code == 404)


@blueprint.get("/")
@blueprint.doc(**shows("text/html"))
@limit_misses
def report(token: str) -> Response:
    """The page, or first the word that a newer version exists; opening it is counted by day."""
    opened = _open(token)
    if request.method == "GET":
        here = services()
        with here.database.write() as db:
            shares.count_opening(db, opened.link.id, datetime.fromtimestamp(here.now_ms() / 1000, UTC).date().isoformat())
    newest = _newer_than(opened.made)
    return Response(opened.made.html if newest is None else newer_page(_newer_view(opened, newest)), mimetype="text/html")


@blueprint.get("/page")
@blueprint.doc(**shows("text/html"))
@limit_misses
def page(token: str) -> Response:
    """The page as it was given to this recipient, whatever is newer."""
    return Response(_open(token).made.html, mimetype="text/html")


@blueprint.get("/style.css")
@blueprint.doc(**shows("text/css"))
@limit_misses
def style(token: str) -> Response:
    """The style sheet as it was when the report was made."""
    return Response(_open(token).made.css, mimetype="text/css")


@blueprint.get("/photo/<sha256>.jpg")
@blueprint.doc(**shows("image/jpeg"))
@limit_misses
def photo(token: str, sha256: str) -> Response:
    """One photo of the report at its size; a photo that the report does not show is not here."""
    return _photo(_open(token).made, sha256)


@blueprint.get("/report.pdf")
@blueprint.doc(**shows("application/pdf"))
@limit_misses
def pdf(token: str) -> Response:
    """The report as a PDF, made once a link and then kept."""
    opened = _open(token)
    try:
        data = _kept_pdf(opened.link) or _new_pdf(opened, token)
    except NotReady as error:
        if request.accept_mimetypes.best_match(["application/json", "text/html"]) != "text/html":
            raise
        raise Closed(error.status, "No PDF from this server", error.message, error.hint or "") from None
    return _as_file(data, "application/pdf", f"condition-report-version-{opened.made.version}.pdf", "inline")


@blueprint.get("/report.html")
@blueprint.doc(**shows("text/html"))
@limit_misses
def whole(token: str) -> Response:
    """The report as one file to keep, its photos in it."""
    made = _open(token).made
    data = one_file(made.html, made.css, _photos(made)).encode()
    with services().database.write() as db:
        evidence.note(db, made, [(hashlib.sha256(data).hexdigest(), evidence.ONE_FILE)])
    return _as_file(data, "text/html", f"condition-report-version-{made.version}.html", "attachment")


@blueprint.get("/newer/")
@blueprint.doc(**shows("text/html"))
@limit_misses
def newer(token: str) -> Response:
    """The newest version, where the sender lets this link lead on."""
    return Response(_leading_on(token).html, mimetype="text/html")


@blueprint.get("/newer/style.css")
@blueprint.doc(**shows("text/css"))
@limit_misses
def newer_style(token: str) -> Response:
    """Its style sheet."""
    return Response(_leading_on(token).css, mimetype="text/css")


@blueprint.get("/newer/photo/<sha256>.jpg")
@blueprint.doc(**shows("image/jpeg"))
@limit_misses
def newer_photo(token: str, sha256: str) -> Response:
    """One of its photos."""
    return _photo(_leading_on(token), sha256)


def _open(token: str) -> Opened:
    """The link and its report. Raises Closed."""
    here = services()
    with here.database.read() as db:
        found = shares.find(db, token)
    if found is None:
        raise Closed(404, "There is no report here", "This link leads to no report: a part of it may be missing or mistyped.", "Ask whoever sent it for the whole link.")
    link, made = found
    if not shares.is_open(link, here.now_ms()):
        ran_out = f"It was given for a time, which ran out on {_day(link.expires_ms)}."
        happened = ran_out if link.revoked_ms is None else "It was taken back by whoever sent it."
        raise Closed(410, "This link has ended", happened, "Ask whoever sent it to you for a new one. A PDF or a one-file copy that you kept stays good.")
    return Opened(link, made)


def _newer_than(made: Publication) -> Publication | None:
    """The newest version, if there is a newer one; asked only where it matters, for it is a whole page and its data."""
    with services().database.read() as db:
        newest = publications.newest(db, made.space, made.about)
    return newest if newest.version > made.version else None


def _leading_on(token: str) -> Publication:
    opened = _open(token)
    newest = _newer_than(opened.made) if opened.link.leads_on else None
    if newest is None:
        raise Closed(404, "This link does not lead further", "It was given for one version.", "Ask whoever sent it to you for the newer one.")
    return newest


def _newer_view(opened: Opened, newest: Publication) -> dict:
    """What the page in front of an old version says."""
    return {
        "title": opened.made.title, "version": opened.made.version, "published": _day(opened.made.published_ms), "newest": newest.version,
        "newest_published": _day(newest.published_ms), "leads_on": opened.link.leads_on,
    }  # fmt: skip


def _day(ms: int) -> str:
    return moment_day({"ms": ms, "offset_min": 0})


def _photo(made: Publication, sha256: str) -> Response:
    if sha256 not in made.media:
        raise NotFound("This report has no such photo.")
    return Response(_rendition(made, sha256), mimetype="image/jpeg")


def _photos(made: Publication) -> dict[str, bytes]:
    return {f"photo/{sha256}.jpg": _rendition(made, sha256) for sha256 in made.media}


def _rendition(made: Publication, sha256: str) -> bytes:
    try:
        return services().blobs.derived(made.space, sha256, RENDITION, for_report)
    except FileNotFoundError:
        raise NotFound("This photo is no longer on the server.") from None


def _as_file(data: bytes, kind: str, name: str, how: str) -> Response:
    response = Response(data, mimetype=kind)
    response.headers["Content-Disposition"] = f'{how}; filename="{name}"'
    return response


def _kept_pdf(link: ShareLink) -> bytes | None:
    with services().database.read() as db:
        return db.get_one(ShareLink, link.id).pdf


def _new_pdf(opened: Opened, token: str) -> bytes:
    html = with_live_link(opened.made.html, f"{services().config.address}/r/{token}/")
    data = make_pdf(html, opened.made.css, _photos(opened.made))
    sha256 = hashlib.sha256(data).hexdigest()
    with services().database.write() as db:
        entry = db.get_one(ShareLink, opened.link.id)
        entry.pdf, entry.pdf_hash = data, sha256
        evidence.note(db, opened.made, [(sha256, evidence.PDF)])
    return data
