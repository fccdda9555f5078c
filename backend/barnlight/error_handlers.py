"""Turns every failure of a request, ours or the framework's, into the one JSON error shape."""

import logging
from collections.abc import Iterator
from typing import Any

from flask import Flask, Response, json, request
from werkzeug.exceptions import HTTPException, InternalServerError

from barnlight.errors import BadInput, BarnlightError, error_body

log = logging.getLogger(__name__)

# What the framework's own refusals mean in plain words; keyed by status.
PLAIN = {
    400: ("bad_request", "The request could not be read.", "Check that the body is valid JSON."),
    404: ("not_found", "There is nothing at this address.", None),
    405: ("method_not_allowed", "This address does not take that method.", "The Allow header lists those it takes."),
    406: ("not_acceptable", "The answer cannot be given in the form asked for.", None),
    413: ("too_large", "The request is larger than this server takes.", "Send less at once."),
    415: ("wrong_kind", "The body is not of a kind that is taken here.", "Send JSON with Content-Type: application/json."),
    422: ("bad_input", "The request has a field that cannot be taken.", None),
    429: ("too_many_requests", "Too many tries in a short time.", "Wait as long as Retry-After says, then try again."),
    500: ("internal", "Something went wrong on the server; nothing you sent was half stored.", "Try again. If it stays, look at the server's log."),
}
KEPT_HEADERS = ("Allow", "Retry-After", "WWW-Authenticate", "Location")


def register_error_handlers(app: Flask) -> None:
    """Must run after the API is registered, whose own handlers it replaces."""
    app.register_error_handler(BarnlightError, _ours)
    app.register_error_handler(HTTPException, _framework)
    app.register_error_handler(ValueError, _value)
    app.register_error_handler(Exception, _unexpected)


def _ours(error: BarnlightError) -> Response:
    body = error_body(error.code, error.message, error.field, error.hint, **error.more)
    return _answer(error.status, body)


def _framework(error: HTTPException) -> Response:
    status = error.code or 500
    if status < 400:
        return error.get_response()
    code, message, hint = PLAIN.get(status, (f"http_{status}", error.description or error.name, None))
    field, why = _first_field(getattr(error, "data", None) or {})
    answer = _answer(status, error_body(code, why or message, field, hint))
    # The limiter and the router put what the caller needs to know into headers: those must survive.
    for name, value in error.get_response().headers.items():
        if name in KEPT_HEADERS:
            answer.headers[name] = value
    return answer


def _value(error: ValueError) -> Response:
    # Python reads no number of more than 4300 digits, in whatever JSON it stands, and tells so in words only.
    if "integer string conversion" in str(error):
        return _ours(BadInput("A number in the request has too many digits."))
    return _unexpected(error)


def _unexpected(error: Exception) -> Response:
    # The rule, not the address: an address may hold the secret of a share link.
    log.error("%s %s failed", request.method, request.url_rule, exc_info=error)
    return _framework(InternalServerError())


def _answer(status: int, body: dict[str, Any]) -> Response:
    return Response(json.dumps(body), status=status, content_type="application/json")


def _first_field(data: dict[str, Any]) -> tuple[str | None, str | None]:
    """The first field a schema complained about, as `changes.3.stamp`, and its complaint."""
    places = {"json", "query", "form", "headers", "json_or_form"}
    for path, words in _complaints(data.get("messages") or {}):
        path = path[1:] if path and path[0] in places else path
        return ".".join(part for part in path if part != "_schema") or None, words
    return None, None


def _complaints(messages: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], str]]:
    if isinstance(messages, dict):
        for key, inner in messages.items():
            yield from _complaints(inner, (*path, str(key)))
    elif isinstance(messages, list):
        yield from ((path, str(words)) for words in messages)
    else:
        yield path, str(messages)
