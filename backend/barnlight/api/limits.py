"""Slows down the guessing of secrets; counts in memory, one process at a time."""

from __future__ import annotations

from flask import Flask
from flask_limiter import Limiter
from flask_limiter.util import get_remote_address

# A code has 31^8 forms and lives 15 minutes: at this pace a guess has no chance, and a person has tries to spare.
GUESSES = "10 per minute;60 per hour"

limiter = Limiter(key_func=get_remote_address)


def register_limits(app: Flask) -> None:
    """Set up the counters; RATELIMIT_ENABLED switches them off."""
    limiter.init_app(app)
