"""Who is asking: the cookie a paired device carries, and the refusal when there is none that holds."""

from __future__ import annotations

from dataclasses import dataclass

from flask import Response, after_this_request, g, request
from flask_smorest import Blueprint

from barnlight.errors import Forbidden, NotPaired
from barnlight.services import services
from barnlight.store import devices

COOKIE_SECONDS = 400 * 24 * 3600  # browsers keep no cookie longer
LOOPBACK = ("localhost", "127.0.0.1", "::1")


@dataclass(frozen=True)
class Entered:
    """The device that asks, and the space it may see: never anything else."""

    space: str
    device: str
    name: str


def require_device() -> Entered:
    """The paired device behind this request. Raises NotPaired."""
    if "entered" not in g:
        g.entered = _entered()
    return g.entered


def only_devices(blueprint: Blueprint) -> None:
    """Ask who it is before anything of the request's body is read, at every address of the blueprint."""

    @blueprint.before_request
    def _ask() -> None:
        require_device()


def cookie_name() -> str:
    """Behind HTTPS a name that no other host and no plain page can set; browsers refuse that name without HTTPS."""
    return "__Host-barnlight" if request.is_secure else "barnlight"


def require_safe_address() -> None:
    """Refuse to hand a token over a line where it can be read: plain HTTP is for this computer itself. Raises Forbidden."""
    host = request.host.rsplit(":", 1)[0].strip("[]") if not request.host.endswith("]") else request.host.strip("[]")
    if not request.is_secure and host not in LOOPBACK:
        raise Forbidden(
            "This address is not secure, so no device can be paired over it.",
            code="not_secure", hint="Open it with https, or as http://localhost on the computer itself. Behind a proxy, set BARNLIGHT_PROXY_HOPS.",
        )


def give_cookie(response: Response, token: str) -> None:
    """Hand the device its token, out of reach of any script."""
    response.set_cookie(cookie_name(), token, max_age=COOKIE_SECONDS, secure=request.is_secure, httponly=True, samesite="Strict", path="/")


def _entered() -> Entered:
    here = services()
    now_ms, token = here.now_ms(), request.cookies.get(cookie_name(), "")
    device = devices.by_token(here.database, token)
    if device is None:
        raise NotPaired("This device is not paired with this server.", hint="Pair it again; what is on it stays.")
    entered = Entered(device.space, device.id, device.name)
    if devices.is_stale(device, now_ms):
        with here.database.write() as db:
            devices.seen(db, entered.space, entered.device, now_ms)

        @after_this_request
        def _keep_on(response: Response) -> Response:
            """A phone in use stays paired: its browser would drop the cookie after these days, though nobody shut it out."""
            give_cookie(response, token)
            return response

    return entered
