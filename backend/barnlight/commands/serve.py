"""Serve the store: the web app, its API and the report pages."""

import argparse
import errno
import logging
import os
import signal
import socket
import sys
from dataclasses import replace

from barnlight.config import MIB, Config
from barnlight.errors import ConfigError

# Waitress reads a body before the app can refuse it in the one error shape; above this it refuses by itself.
WAITRESS_BODY_LIMIT = 256 * MIB


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--host", help="name or address to listen on (default localhost)")
    parser.add_argument("--port", type=int, metavar="N", help="port to listen on (default 8787)")
    parser.add_argument("--demo", action="store_true", help="load the sample sessions first, once")


def run(given: argparse.Namespace, config: Config) -> int:
    """Serves until it is told to stop."""
    import waitress

    from barnlight.app import create_app
    from barnlight.backup.schedule import Schedule
    from barnlight.commands import demo, pair
    from barnlight.services import Services

    logging.basicConfig(level=logging.WARNING, format="%(asctime)s %(levelname)s %(name)s: %(message)s")
    sockets = listen(config.host, config.port)
    services = Services.open(replace(config, space_name=demo.SPACE_NAME) if given.demo else config)
    if given.demo:
        demo.load(services)
    server = waitress.create_server(
        create_app(services),
        sockets=sockets,
        threads=config.threads,
        max_request_body_size=WAITRESS_BODY_LIMIT,
        # What a proxy says of scheme and sender counts only where the settings speak of a proxy.
        clear_untrusted_proxy_headers=config.proxy_hops == 0,
        ident=None,
    )
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
    print(f"Barnlight is at {config.address}", flush=True)
    pair.show(services)
    if config.backup_dir:
        Schedule(services).start()
    server.run()
    return 0


def listen(host: str, port: int) -> list[socket.socket]:
    """Bound sockets for every address that `host` stands for and this computer has (localhost: IPv4 and IPv6)."""
    try:
        found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE)
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
                raise ConfigError(f"Port {port} is in use: stop what uses it, or choose another with --port.", field="port") from None
            # A computer without IPv6 still lists ::1 as a name of its own.
    if not bound:
        raise ConfigError(f"This computer cannot listen on {host}:{port}.", field="host")
    return bound
