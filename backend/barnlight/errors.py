"""The error classes of the server and the one JSON shape in which every error leaves it."""

from typing import Any


class BarnlightError(Exception):
    """A refusal meant for a person: `message` is a plain sentence, `hint` says what to do, `field` says where.

    `more` holds further facts for the program that asked, e.g. the hashes of missing photos.
    """

    status = 500
    code = "internal"

    def __init__(
        self, message: str, *, code: str | None = None, field: str | None = None, hint: str | None = None, **more: Any
    ) -> None:
        super().__init__(message)
        self.message = message
        self.code = code or self.code
        self.field = field
        self.hint = hint
        self.more = more


class ConfigError(BarnlightError):
    """A setting or command line that cannot be used."""

    code = "config"


class BadInput(BarnlightError):
    """The request is understood but what it says cannot be taken."""

    status, code = 400, "bad_input"


class NotPaired(BarnlightError):
    """The device is unknown here or was removed."""

    status, code = 401, "not_paired"


class Forbidden(BarnlightError):
    """The request comes from the wrong place."""

    status, code = 403, "forbidden"


class NotFound(BarnlightError):
    """There is nothing by that name."""

    status, code = 404, "not_found"


class Conflict(BarnlightError):
    """The request does not fit what the store holds now."""

    status, code = 409, "conflict"


class Gone(BarnlightError):
    """It was here and was withdrawn or has run out."""

    status, code = 410, "gone"


class TooLarge(BarnlightError):
    """More bytes, pixels or seconds than are taken."""

    status, code = 413, "too_large"


class WrongKind(BarnlightError):
    """A file that is not of a kind that is taken."""

    status, code = 415, "wrong_kind"


class StoreFull(BarnlightError):
    """The server's disk is full; nothing was lost, the phone keeps its copy."""

    status, code = 507, "store_full"


class NotReady(BarnlightError):
    """A part the server needs is missing or cannot be reached."""

    status, code = 503, "not_ready"


def error_body(code: str, message: str, field: str | None = None, hint: str | None = None, **more: Any) -> dict[str, Any]:
    """The one shape: {"error": {"code", "message", "field"?, "hint"?}}."""
    optional = {"field": field, "hint": hint, **more}
    return {"error": {"code": code, "message": message, **{key: value for key, value in optional.items() if value is not None}}}
