"""Remove photos and sounds that nothing has named for 30 days, and what uploads that were cut short left behind."""

import argparse

from barnlight.config import MIB, Config
from barnlight.services import Services


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--yes", action="store_true", help="do it; without this the command only says what would go")


def run(given: argparse.Namespace, config: Config) -> int:
    """Works beside a running server."""
    from barnlight.store import orphans, spaces

    services = Services.open(config)
    now_ms = services.now_ms()
    with services.database.write() as db:
        found = [orphan for space in spaces.every(db) for orphan in orphans.unnamed(db, space.id, now_ms)]
        found += orphans.unknown(db, services.blobs, now_ms)
        if given.yes:
            orphans.forget(db, found)
    print(f"{len(found)} photos and sounds are named by nothing, {sum(orphan.bytes for orphan in found) / MIB:.1f} MiB")
    if not given.yes:
        print("Nothing is removed yet. Say --yes to remove them.")
        return 0
    for orphan in found:
        orphans.clear(services.database, services.blobs, orphan.space, [orphan.sha256])
    print(f"They are removed, and {services.partials.drop_old() + services.blobs.drop_arriving(now_ms)} uploads that were cut short.")
    return 0
