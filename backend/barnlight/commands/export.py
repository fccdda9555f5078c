"""Write one session, or the whole book, into a zip of plain JSON, photos and sounds that anybody can read."""

import argparse
from pathlib import Path

from barnlight.config import Config
from barnlight.services import Services


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", type=lambda text: Path(text).expanduser(), metavar="FILE.zip", help="the file to write")
    parser.add_argument("--session", metavar="ID|NAME", help="only this session, by its name, its place or the begin of its id, with all that belongs to it")
    parser.add_argument("--space", metavar="NAME", help="the book meant, where this server holds several (default: the first)")


def run(given: argparse.Namespace, config: Config) -> int:
    """Raises BarnlightError; then there is no new file."""
    from barnlight.exchange.exporting import export_zip
    from barnlight.store import naming

    services = Services.open(config)
    space, session = services.space(given.space), None
    if given.session is not None:
        with services.database.read() as db:
            session = naming.find(db, space, "session", given.session)
    document = export_zip(services, space, given.file, session)
    missing = sum(not services.blobs.has(space, entry["hash"]) for entry in document["media"])
    print(f"Wrote {given.file}: {len(document['changes'])} changes and {len(document['media']) - missing} photos and sounds.")
    print("Sellers, prices and private notes are in it: to show a piece to others, make a report instead.")
    if missing:
        print(f"{missing} photos and sounds are still on a phone, so they are not in it.")
    return 0
