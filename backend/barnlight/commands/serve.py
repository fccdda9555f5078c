"""Serve the store: the web app, its API and the report pages."""

from __future__ import annotations

import argparse
import logging
import signal
import sys
from dataclasses import replace
from typing import TYPE_CHECKING

from barnlight.config import Config
from barnlight.listening import MANY_LINES, listen
from barnlight.tls.options import add_https_options, with_https_options

if TYPE_CHECKING:
    from flask import Flask

    from barnlight.tls.house import House

# Waitress reads a body before the app can refuse it in the one error shape; above this many times the app's limit it
# refuses by itself, so that a stranger's endless body does not fill the disk.
WAITRESS_READS = 2


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--host", help="name or address to listen on (default localhost; with --https every address of this computer)")
    parser.add_argument("--port", type=int, metavar="N", help="port to listen on (default 8787)")
    parser.add_argument("--demo", action="store_true", help="load the sample sessions first, once")
    add_https_options(parser)


def run(given: argparse.Namespace, config: Config) -> int:
    """Serves until it is told to stop."""
    from barnlight.app import create_app
    from barnlight.backup.schedule import Schedule
    from barnlight.commands import demo, pair
    from barnlight.services import Services

    logging.basicConfig(level=logging.WARNING, format="%(asctime)s %(levelname)s %(name)s: %(message)s")
    config = with_https_options(given, config)
    if given.demo:
        config = replace(config, space_name=demo.SPACE_NAME)
    server = _secure(config) if config.https else Plain(config)
    services = Services.open(server.config)
    if given.demo:
        demo.load(services)
    app = create_app(services)
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
    print(f"Barnlight is at {services.config.address}", flush=True)
    server.say()
    pair.show(services)
    if config.backup_dir:
        Schedule(services).start()
    server.run(app)
    return 0


def _secure(config: Config) -> House:
    from barnlight.tls.house import House

    return House(config)


class Plain:
    """HTTP, for this computer itself and for a proxy before it."""

    def __init__(self, config: Config) -> None:
        self.config = config
        self._sockets = listen(config.host, config.port)

    def say(self) -> None:
        """There is nothing to add."""

    def run(self, app: Flask) -> None:
        """Serves until it is told to stop."""
        import waitress

        waitress.create_server(
            app,
            sockets=self._sockets,
            threads=self.config.threads,
            max_request_body_size=WAITRESS_READS * self.config.max_request_bytes,
            # What a proxy says of scheme and sender counts only where the settings speak of a proxy.
            clear_untrusted_proxy_headers=self.config.proxy_hops == 0,
            ident=None,
            **MANY_LINES,
        ).run()
