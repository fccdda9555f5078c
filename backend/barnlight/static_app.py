"""Serves the built web app: its files as they are, hashed ones for ever, the rest checked each time."""

import gzip
import hashlib
import mimetypes
import re
from pathlib import Path

from flask import Blueprint, Flask, Response, request

from barnlight.errors import NotReady

DIST = Path(__file__).parent / "webapp_dist"
# Vite's mark of a file whose name changes with its content.
HASHED = re.compile(r"assets/.+-[\w-]{8}\.\w+")
KINDS = {".webmanifest": "application/manifest+json", ".js": "text/javascript", ".svg": "image/svg+xml", ".woff2": "font/woff2"}
SQUEEZED = {".html", ".js", ".css", ".svg", ".json", ".webmanifest"}


class BuiltFile:
    """One file of the web app, read and squeezed once, when the server starts."""

    def __init__(self, path: Path, name: str) -> None:
        self.plain = path.read_bytes()
        self.squeezed = gzip.compress(self.plain, mtime=0) if path.suffix in SQUEEZED else None
        self.etag = hashlib.sha256(self.plain).hexdigest()[:32]
        self.kind = KINDS.get(path.suffix) or mimetypes.guess_type(name)[0] or "application/octet-stream"
        self.caching = "public, max-age=31536000, immutable" if HASHED.fullmatch(name) else "no-cache"

    def answer(self) -> Response:
        """The file for the current request: squeezed where the browser takes it, 304 where it has it."""
        squeeze = self.squeezed is not None and request.accept_encodings["gzip"] > 0
        response = Response(self.squeezed if squeeze else self.plain, mimetype=self.kind)
        response.headers["Cache-Control"] = self.caching
        if self.squeezed is not None:
            response.vary.add("Accept-Encoding")
        if squeeze:
            response.content_encoding = "gzip"
        response.set_etag(f"{self.etag}{'-gz' if squeeze else ''}")
        return response.make_conditional(request)


def register_static_app(app: Flask, folder: Path = DIST) -> None:
    """One route a file, so that every other address stays an honest 404."""
    blueprint = Blueprint("web_app", __name__)
    names = sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())
    files = {name: BuiltFile(folder / name, name) for name in names if not name.startswith(".")}
    for number, (name, file) in enumerate(files.items()):
        blueprint.add_url_rule(f"/{name}", endpoint=f"file_{number}", view_func=file.answer)
    blueprint.add_url_rule("/", endpoint="start", view_func=files["index.html"].answer if "index.html" in files else _not_built)
    app.register_blueprint(blueprint)


def _not_built() -> Response:
    raise NotReady("The web app is not built here.", hint="Run `npm ci` and `npm run build` in webapp/, or install the package.")
