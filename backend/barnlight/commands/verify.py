"""Check that the store is whole: history, records, photos and sounds; changes nothing."""

import argparse

from barnlight.config import Config
from barnlight.services import Services


def add_options(parser: argparse.ArgumentParser) -> None:
    del parser


def run(given: argparse.Namespace, config: Config) -> int:
    """Prints every fault it finds; the exit code is 1 if there is one."""
    from barnlight.store import spaces, verify

    services, found = Services.open(config), 0
    with services.database.read() as db:
        for space in spaces.every(db):
            for fault in verify.faults(db, services.blobs, space):
                print(f"{space.name}: {fault}", flush=True)
                found += 1
            for note in verify.notes(db, services.blobs, space, services.now_ms()):
                print(f"{space.name}: {note}", flush=True)
            print(f"{space.name}: {space.last_number} changes looked at", flush=True)
    print("The store is whole." if found == 0 else f"{found} faults. Keep this folder as it is, and restore a copy elsewhere.", flush=True)
    return 1 if found else 0
