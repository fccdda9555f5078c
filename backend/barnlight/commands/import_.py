"""Take in a zip or folder made by `barnlight export` or saved by a phone: it is merged, and nothing is overwritten."""

import argparse
from collections import Counter
from pathlib import Path

from barnlight.config import Config
from barnlight.services import Services


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", type=lambda text: Path(text).expanduser(), metavar="FILE.zip", help="the export, packed or unpacked")
    parser.add_argument("--space", metavar="NAME", help="the book meant, where this server holds several (default: the first)")


def run(given: argparse.Namespace, config: Config) -> int:
    """Exit code 1 if a change was refused; the others are kept. Raises BarnlightError."""
    from barnlight.exchange.importing import import_folder, import_zip

    services = Services.open(config)
    bring_in = import_folder if given.file.is_dir() else import_zip
    done = bring_in(services, services.space(given.space), given.file)
    new = done.changes["ok"] + done.changes["deferred"]
    print(f"{new} changes are new, {done.changes['duplicate']} were here already; {done.media} photos and sounds are here.")
    for said, count in (("photos and sounds were not in the file", len(done.media_missing)), ("changes speak of reports that stay with their server", done.left_out)):
        if count:
            print(f"{count} {said}.")
    for words, count in Counter(refused["message"] for refused in done.refused).items():
        print(f"{count} refused: {words}")
    return 1 if done.refused else 0
