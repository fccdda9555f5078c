"""List the paired phones and browsers, or shut one out, as when a phone is lost."""

import argparse
from datetime import UTC, datetime

from barnlight.config import Config
from barnlight.errors import NotFound
from barnlight.services import Services


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--revoke", metavar="ID", help="shut out the device whose id begins so")


def run(given: argparse.Namespace, config: Config) -> int:
    """Works beside a running server. Raises NotFound unless exactly one device is meant."""
    from barnlight.store import devices, spaces

    services = Services.open(config)
    with services.database.write() as db:
        found = [(space, device) for space in spaces.every(db) for device in devices.of_space(db, space.id)]
        if given.revoke is None:
            for space, device in found:
                seen = datetime.fromtimestamp(device.seen_ms / 1000, UTC)
                print(f"{device.id[:8]}  {space.name}  {device.name}  last here {seen:%Y-%m-%d %H:%M} UTC")
            return 0
        meant = [device for _, device in found if device.id.startswith(given.revoke)]
        if len(meant) != 1:
            raise NotFound(f"{len(meant)} devices have an id that begins with {given.revoke!r}.", hint="`barnlight devices` lists them.")
        devices.revoke(db, meant[0].space, meant[0].id, services.now_ms())
        print(f"{meant[0].name} is shut out; what is on it stays there.")
    return 0
