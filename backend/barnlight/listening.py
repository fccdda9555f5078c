"""Binds the ports of a server before anything else is done, so that a taken one is said at once."""

from __future__ import annotations

import errno
import os
import socket

from barnlight.errors import ConfigError

# How waitress takes connections. It stops listening at its limit, a hundred by default, which slow clients soon hold; select, where
# a system has no poll, takes 512.
MANY_LINES = {"connection_limit": 500, "asyncore_use_poll": True}


def listen(host: str, port: int) -> list[socket.socket]:
    """Bound sockets for every address that `host` stands for and this computer has (localhost: IPv4 and IPv6; "": all)."""
    try:
        found = socket.getaddrinfo(host or None, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE)
    except socket.gaierror:
        raise ConfigError(f"There is no address called {host!r} to listen on.", field="host") from None
    bound = []
    for family, kind, protocol, _, address in found:
        each = socket.socket(family, kind, protocol)
        if os.name != "nt":  # there it would let two servers share the port
            each.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        if family == socket.AF_INET6:
            each.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_V6ONLY, 1)
        try:
            each.bind(address)
            bound.append(each)
        except OSError as error:
            each.close()
            if error.errno == errno.EADDRINUSE:
                for other in bound:
                    other.close()
                raise in_use(port) from None
            # A computer without IPv6 still lists ::1 as a name of its own.
    if not bound:
        raise ConfigError(f"This computer cannot listen on {host}:{port}.", field="host")
    return bound


def listen_once(host: str, port: int) -> socket.socket:
    """One bound socket for a server that takes but one: the first address of `host`; "" is every address, of both families where it can be."""
    if host:
        first, *others = listen(host, port)
        for each in others:
            each.close()
        return first
    for both in (True, False):
        try:
            family = socket.AF_INET6 if both else socket.AF_INET
            return socket.create_server(("", port), family=family, dualstack_ipv6=both)
        except (OSError, ValueError) as error:
            if getattr(error, "errno", None) == errno.EADDRINUSE:
                raise in_use(port) from None
    raise ConfigError(f"This computer cannot listen on port {port}.", field="port")


def in_use(port: int) -> ConfigError:
    """What is said of a port that another program has."""
    return ConfigError(f"Port {port} is in use: stop what uses it, or choose another with --port.", field="port")
