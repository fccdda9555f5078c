"""Slows down the guessing of secrets; counts in memory, one process at a time."""

from __future__ import annotations

from ipaddress import IPv6Address, ip_address

from flask import Flask, Response, request
from flask_limiter import Limiter

# A code has 31^8 forms and lives 15 minutes: at this pace a guess has no chance, and a person has tries to spare.
GUESSES = "10 per minute;60 per hour"
NETWORK_BITS = 64
# The parts of the API some of whose addresses have a limit.
LIMITED = ("pairing", "shares", "evidence")


def network() -> str:
    """Who is counted as one: an IPv4 address, or the network of an IPv6 one, which has 2^64 addresses to choose from."""
    try:
        address = ip_address((request.remote_addr or "").split("%")[0])
    except ValueError:
        return "unknown"
    if not isinstance(address, IPv6Address):
        return str(address)
    return str(address.ipv4_mapped or (int(address) >> (128 - NETWORK_BITS)))


def guesses_from_all() -> str:
    """Wrong codes from everywhere together.

    3,000 guesses at one code come right once in 280 million times; to hold up pairing (nothing else) by using these up
    takes more than 200 networks.
    """
    return "3000 per 15 minutes"


def everyone() -> str:
    """All who ask are counted together."""
    return "everyone"


def was_wrong(response: Response) -> bool:
    """Whether the answer was a refusal of what was guessed."""
    return response.status_code == 400


limiter = Limiter(key_func=network)


def register_limits(app: Flask) -> None:
    """Set up the counters; RATELIMIT_ENABLED switches them off."""
    limiter.init_app(app)
    if not limiter.enabled:
        return
    # Looked for where there are some: changes and media are asked for often, by paired devices only, and have none.
    for hooks in (app.before_request_funcs, app.after_request_funcs, app.teardown_request_funcs):
        hook = hooks[None].pop()
        for name in LIMITED:
            hooks.setdefault(name, []).append(hook)
