"""Print a one-time code, its link and its QR picture, to pair a phone or browser with this store."""

import argparse
from importlib.util import find_spec

from flask import Flask

from barnlight.config import Config


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--port", type=int, metavar="N", help="port of the running server (default 8787)")


def run(given: argparse.Namespace, config: Config) -> int:
    """Works beside a running server: both use the same store."""
    from barnlight.app import create_app

    show(create_app(config))
    return 0


def show(app: Flask) -> None:
    """Makes a code and prints how to use it."""
    if not find_spec("barnlight.store"):
        return
