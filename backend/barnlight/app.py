"""The app factory: the list of parts one server is made of, nothing else."""

from flask import Flask
from werkzeug.middleware.proxy_fix import ProxyFix

from barnlight import __version__
from barnlight.api import changes, erase, evidence, health, measure, media, pairing, reports, shares
from barnlight.api.description import described_api
from barnlight.api.guard import register_guard
from barnlight.api.limits import register_limits
from barnlight.error_handlers import register_error_handlers
from barnlight.security_headers import register_security_headers
from barnlight.services import Services
from barnlight.static_app import register_static_app

API = (health, pairing, changes, media, measure, reports, shares, evidence, erase)


def create_app(services: Services) -> Flask:
    """A server over an open store."""
    config = services.config
    app = Flask(__name__, static_folder=None)
    app.extensions["barnlight"] = services
    app.config.update(
        MAX_CONTENT_LENGTH=config.max_request_bytes,
        RATELIMIT_ENABLED=config.rate_limits,
        RATELIMIT_HEADERS_ENABLED=True,
        RATELIMIT_STORAGE_URI="memory://",
        API_TITLE="Barnlight",
        API_VERSION=__version__,
        OPENAPI_VERSION="3.1.0",
        OPENAPI_URL_PREFIX="/api",
        OPENAPI_JSON_PATH="openapi.json",
    )
    if config.proxy_hops:
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=config.proxy_hops, x_proto=config.proxy_hops, x_host=config.proxy_hops)
    register_limits(app)
    register_guard(app)
    api = described_api(app)
    for part in API:
        api.register_blueprint(part.blueprint)
    register_static_app(app)
    register_error_handlers(app)
    register_security_headers(app, insist_on_https=not config.https)
    return app
