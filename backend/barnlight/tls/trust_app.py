"""What the plain port serves beside HTTPS: the page that leads to trust, the certificate, and the way to the secure address."""

from __future__ import annotations

from collections.abc import Callable

from flask import Flask, redirect, request
from werkzeug.wrappers import Response

from barnlight.api.trust import ToTrust, trust_pages
from barnlight.error_handlers import register_error_handlers
from barnlight.security_headers import register_security_headers


def create_trust_app(current: Callable[[], ToTrust]) -> Flask:
    """`current` tells what there is to trust at the moment of each request."""
    app = Flask(__name__, static_folder=None)
    app.register_blueprint(trust_pages(current))

    @app.get("/<path:_anything>")
    def _to_https(_anything: str) -> Response:
        to_trust = current()
        host = request.host.rsplit(":", 1)[0] if not request.host.endswith("]") else request.host
        # Only to ourselves: the name that was asked for, if it is one of ours, for that one the phone has found.
        base = next((each for each in to_trust.addresses if each.startswith(f"https://{host}:")), to_trust.addresses[0])
        response = redirect(base + request.full_path.rstrip("?"))
        response.headers["Cache-Control"] = "no-store"
        return response

    register_error_handlers(app)
    register_security_headers(app, insist_on_https=False)
    return app
