"""Several books on one server, each sealed from the others: `space add NAME` begins one, `space list` shows them."""

import argparse

from barnlight.config import Config
from barnlight.services import Services


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("what", choices=["add", "list"])
    parser.add_argument("name", nargs="?", default="", metavar="NAME", help="for `add`: what phones that share the book call it")


def run(given: argparse.Namespace, config: Config) -> int:
    """Works beside a running server. Raises BadInput for a name that is missing or in use."""
    from barnlight.store import spaces

    services = Services.open(config)
    if given.what == "add":
        with services.database.write() as db:
            made = spaces.add(db, given.name, services.now_ms())
        print(f'The book {made.name!r} is there. To let a phone in: barnlight pair --space "{made.name}"')
        return 0
    with services.database.read() as db:
        for space, devices, changes in spaces.sizes(db):
            print(f"{space.id[:8]}  {space.name}  {devices} devices, {changes} changes")
    return 0
