"""Puts the security headers on every answer, errors and static files included."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from flask import Flask

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIEnvironment

CONTENT_SECURITY_POLICY = "; ".join([
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "font-src 'self'",
    "img-src 'self' blob: data:",
    "media-src 'self' blob:",
    "connect-src 'self'",
    "worker-src 'self'",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
])

# The app needs these three and nothing else; a link it opens gets none of them.
PERMISSIONS = "camera=(self), microphone=(self), screen-wake-lock=(self), geolocation=(), payment=(), usb=(), serial=(), midi=()"

HEADERS = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Permissions-Policy": PERMISSIONS,
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
_ALWAYS = tuple((name.lower(), (name, value)) for name, value in HEADERS.items())


def register_security_headers(app: Flask, *, insist_on_https: bool = True) -> None:
    """A view may set a stricter value of its own (a share link allows no script): that one stays.

    `insist_on_https` forbids plain HTTP to this host name for a year, on all its ports: right for a domain, wrong for a computer
    in the house, whose plain port leads to trust and whose name other programs serve under too.
    """
    answer = app.wsgi_app

    # Around the framework, not a step of it: it holds for whatever answers, and every request pays less for it.
    def with_headers(environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        def start(status: str, headers: list[tuple[str, str]], *failure: Any) -> Any:
            own = {name.lower() for name, _ in headers}
            given = [pair for name, pair in _ALWAYS if name not in own]
            if "cache-control" not in own and environ.get("PATH_INFO", "").startswith("/api/"):
                given.append(("Cache-Control", "no-store"))
            if insist_on_https and environ["wsgi.url_scheme"] == "https" and "strict-transport-security" not in own:
                given.append(("Strict-Transport-Security", "max-age=31536000"))
            return start_response(status, headers + given, *failure)

        return answer(environ, start)

    app.wsgi_app = with_headers
