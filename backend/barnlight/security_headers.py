"""Puts the security headers on every answer, errors and static files included."""

from flask import Flask, Response, request

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


def register_security_headers(app: Flask, *, insist_on_https: bool = True) -> None:
    """A view may set a stricter value of its own (a share link allows no script): that one stays.

    `insist_on_https` forbids plain HTTP to this host name for a year, on all its ports: right for a domain, wrong for a computer
    in the house, whose plain port leads to trust and whose name other programs serve under too.
    """

    @app.after_request
    def _add(response: Response) -> Response:
        own = {name.lower() for name, _ in response.headers}
        response.headers.extend((name, value) for name, value in HEADERS.items() if name.lower() not in own)
        if request.path.startswith("/api/"):
            response.headers.setdefault("Cache-Control", "no-store")
        if request.is_secure and insist_on_https:
            response.headers.setdefault("Strict-Transport-Security", "max-age=31536000")
        return response
