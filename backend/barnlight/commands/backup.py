"""Write the whole store into one file, also while the server runs, and check that file."""

import argparse
from pathlib import Path

from barnlight.config import MIB, Config
from barnlight.services import Services


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("target", type=lambda text: Path(text).expanduser(), metavar="FILE|DIR", help="the file to write, or a folder for a file named by the moment")
    parser.add_argument("--check", action="store_true", help="only read an existing backup and say whether it is whole")


def run(given: argparse.Namespace, config: Config) -> int:
    """Exit code 1 if photos or sounds are missing in the store itself."""
    from barnlight.backup import form, writing

    if given.check:
        files = form.check(given.target)["files"]
        print(f"The backup is whole: the database and {len(files) - 1} photos and sounds.")
        return 0
    made = writing.write_backup(Services.open(config), given.target)
    print(f"Wrote and checked {made.path}: the database and {made.files} photos and sounds, {made.bytes / MIB:.1f} MiB.")
    print("It holds everything, private notes too: keep it where only you can read it.")
    for sha256 in made.missing:
        print(f"Missing or spoilt in the store, so not in the backup: {sha256}")
    return 1 if made.missing else 0
