"""The page that walks a phone through trusting this house's certificate authority, and the certificate itself: public, no script."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from flask import Blueprint, Response, make_response, render_template

POLICY = "default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
FILE_NAME = "barnlight-authority.crt"


@dataclass(frozen=True)
class ToTrust:
    """What there is to trust: the authority's name and certificate (DER), its SHA-256 fingerprint, its last day, the names it may vouch for
    beside addresses of home networks, and the secure addresses of this server, the one to open first."""

    name: str
    certificate: bytes
    fingerprint: str
    ends: str
    may_vouch_for: tuple[str, ...]
    addresses: tuple[str, ...]

    @property
    def fingerprint_parts(self) -> list[str]:
        """The fingerprint in eight parts of four bytes: as many as an eye compares at once."""
        return [self.fingerprint[at : at + 11] for at in range(0, 95, 12)]


def trust_pages(current: Callable[[], ToTrust]) -> Blueprint:
    """The page at / and /trust, its style and the certificate."""
    pages = Blueprint("trust", __name__, template_folder="templates")

    @pages.get("/")
    @pages.get("/trust")
    def page() -> Response:
        return make_response(render_template("trust.html", to=current(), file_name=FILE_NAME))

    @pages.get("/trust.css")
    def style() -> Response:
        return Response(render_template("trust.css"), mimetype="text/css")

    @pages.get(f"/{FILE_NAME}")
    def certificate() -> Response:
        # The kind and ending by which phones know that it is something to install, not to show.
        return Response(current().certificate, mimetype="application/x-x509-ca-cert", headers={"Content-Disposition": f"inline; filename={FILE_NAME}"})

    @pages.after_request
    def _headers(response: Response) -> Response:
        response.headers["Content-Security-Policy"] = POLICY
        response.headers["Cache-Control"] = "no-store"
        return response

    return pages
