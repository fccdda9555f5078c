"""What the served OpenAPI says of all operations alike: how a device is known, the form of ids in addresses, the one error shape."""

from __future__ import annotations

from typing import Any

from apispec import BasePlugin
from flask import Flask
from flask_smorest import Api
from marshmallow import INCLUDE, Schema, fields

ABOUT = """JSON in and out; an error is always {"error": {"code", "message", "field"?, "hint"?}}.

A paired device is known by its cookie. Writes need the header `X-Barnlight: 1` besides, and a browser's Sec-Fetch-Site must be
same-origin or none: no foreign page can send these. JSON bodies of a paired device may be squeezed with gzip. What changes, stamps and numbers
mean is said in the protocol, backend/barnlight/sync/README.md."""

ID = {"type": "string", "pattern": "^[0-9a-f]{32}$"}
IN_ADDRESSES = {
    "device": ID, "publication": ID, "link": ID, "sha256": {"type": "string", "pattern": "^[0-9a-f]{64}$"},
    "token": {"type": "string", "minLength": 1, "description": "the secret of a share link"},
}  # fmt: skip
COOKIES = {"device": "__Host-barnlight", "device_on_localhost": "barnlight"}
# Who asks these need not be paired.
OPEN = ("/healthz", "/api/pair")
OPEN_BELOW = ("/r/", "/evidence/")


class ErrorTold(Schema):
    class Meta:
        unknown = INCLUDE  # some errors carry facts for the program that asked, e.g. `missing`

    code = fields.String(required=True)
    message = fields.String(required=True, metadata={"description": "a plain sentence"})
    field = fields.String()
    hint = fields.String(metadata={"description": "what to do"})


class Error(Schema):
    error = fields.Nested(ErrorTold, required=True)


class DescribedApi(Api):
    """The API with its own error shape in the description."""

    ERROR_SCHEMA = Error


class InCommon(BasePlugin):
    """Adds to every operation what is not said at each."""

    def path_helper(self, path: str | None = None, parameters: list[Any] | None = None, **_: Any) -> None:
        for one in parameters or ():
            if one["in"] == "path" and one["name"] in IN_ADDRESSES:
                one["schema"] = IN_ADDRESSES[one["name"]]

    def operation_helper(self, path: str | None = None, operations: dict[str, Any] | None = None, **_: Any) -> None:
        is_open = path in OPEN or (path or "").startswith(OPEN_BELOW)
        for operation in (operations or {}).values():
            operation["security"] = [] if is_open else [{scheme: []} for scheme in COOKIES]


def shows(kind: str) -> dict[str, Any]:
    """For an address that people open: what it shows, and that a refusal may be a page too."""
    refusal = {"text/html": {"schema": {"type": "string"}}, "application/json": {"schema": Error}}
    return {"responses": {
        200: {"description": "What was asked for", "content": {kind: {"schema": {"type": "string"}}}},
        "default": {"description": "Why not", "content": refusal},
    }}  # fmt: skip


def described_api(app: Flask) -> Api:
    """The API of the app, whose description is served with it."""
    api = DescribedApi(app, spec_kwargs={"extra_plugins": [InCommon()], "info": {"description": ABOUT}})
    for scheme, name in COOKIES.items():
        api.spec.components.security_scheme(scheme, {"type": "apiKey", "in": "cookie", "name": name})
    return api
