"""Erase a session or a seller for good, everywhere: history, reports, photos and sounds; says first what would go."""

import argparse
from typing import Any

from barnlight.config import MIB, Config
from barnlight.services import Services

KINDS = ("session", "seller")


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("kind", choices=KINDS)
    parser.add_argument("which", metavar="ID|NAME", help="its name, a session's place, or the begin of its id")
    parser.add_argument("--yes", action="store_true", help="do it; without this the command only says what would go")
    parser.add_argument("--space", metavar="NAME", help="the book meant, where this server holds several (default: the first)")


def run(given: argparse.Namespace, config: Config) -> int:
    """Works beside a running server. Raises BarnlightError."""
    from barnlight.backup.restoring import kept_before
    from barnlight.exchange import erasure
    from barnlight.store import naming

    services = Services.open(config)
    space = services.space(given.space)
    with services.database.read() as db:
        record = naming.find(db, space, given.kind, given.which)
    done = erasure.erase(services, space, given.kind, record, dry_run=not given.yes)
    show(done, given.yes)
    if not given.yes:
        print("Nothing is erased yet. Say --yes to erase it; it cannot be brought back.")
        return 0
    print(f"The ids are listed in {', '.join(done['lists']) or 'the store alone'}. Backups made before now still hold it: keep that list beside them, restoring reads it.")
    for folder in done["unlisted"]:
        print(f"The list could not be written into {folder}: copy it there, or a copy of before now, restored from there, brings it back.")
    for folder in kept_before(config.data_dir):
        print(f"{folder} was put aside by a restore and may hold it whole: delete it when you no longer need it.")
    print("Phones drop it when they next reach this server. Files that were exported or saved by a phone are for you to delete.")
    return 0


def show(done: dict[str, Any], has_gone: bool) -> None:
    """What went, or would go, a line each."""
    print("Erased:" if has_gone else "This would be erased:")
    for kind, count in done["records"].items():
        print(f"  {count} {kind.replace('_', ' ')}")
    print(f"  {done['changes']} changes of their history")
    print(f"  {done['media']} photos and sounds, {done['media_bytes'] / MIB:.1f} MiB")
    for report in done["reports"]:
        print(f"  report {report['title']!r}, version {report['version']}, with its links")
    for stays in done["stays"]:
        print(f"  (the {stays['kind']} {stays['title']!r} stays, without its seller: look whether its own words name them)")
