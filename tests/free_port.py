"""A port for a server that a test starts, kills and starts again."""

from __future__ import annotations

import random
import socket
from contextlib import suppress


def free_port() -> int:
    """One that nobody listens on. It lies below those that a system lends to outgoing lines (Linux from 32768, others from 49152):
    one of these may be lent to a browser while the server does not hold it."""
    while True:
        port = random.randrange(20_000, 32_000)
        with suppress(OSError), socket.create_server(("127.0.0.1", port)):
            return port
