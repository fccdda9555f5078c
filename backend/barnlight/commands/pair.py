"""Print a one-time code, its link and its QR picture, to pair a phone or browser with this store."""

import argparse

from barnlight.config import Config
from barnlight.services import Services
from barnlight.store import devices
from barnlight.terminal_qr import print_qr
from barnlight.tls.names import names_here
from barnlight.tls.options import add_https_options, secure_config, with_https_options

MINUTE_MS = 60_000


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--port", type=int, metavar="N", help="port of the running server (default 8787)")
    add_https_options(parser)
    parser.add_argument("--space", metavar="NAME", help="the book to let it into, where this server holds several (default: the first)")


def run(given: argparse.Namespace, config: Config) -> int:
    """Works beside a running server: both use the same store."""
    config = with_https_options(given, config)
    if config.https:
        config = secure_config(config, names_here(config.names_wanted))
    print_qr(show(Services.open(config), given.space))
    return 0


def show(services: Services, named: str | None = None) -> str:
    """Makes a code for the book of that name, or the first, prints how to use it and returns its link. Raises NotFound or BadInput."""
    space, now_ms = services.space(named), services.now_ms()
    with services.database.write() as db:
        code, expires_ms = devices.make_code(db, space, now_ms)
    link = f"{services.config.address}/#/pair/{code}"
    print(f"To pair a phone or browser, open {link}")
    print(f"or type the code {code} there. It works once, within {(expires_ms - now_ms) // MINUTE_MS} minutes.", flush=True)
    return link
