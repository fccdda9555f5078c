"""Put a backup into an empty folder, or in place of a store that is kept beside; devices then send what it lacks."""

import argparse
from pathlib import Path

from barnlight.config import Config
from barnlight.errors import ConfigError
from barnlight.services import Services, wall_clock_ms


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", nargs="?", type=lambda text: Path(text).expanduser(), metavar="FILE", help="the backup")
    parser.add_argument("--replace", action="store_true", help="the folder holds a store: keep it beside, under another name")
    parser.add_argument("--by-hand", action="store_true", help="the store was put back by other means, such as pg_restore: only let devices offer again")


def run(given: argparse.Namespace, config: Config) -> int:
    """Raises BarnlightError; then nothing has changed."""
    from barnlight.backup import restoring
    from barnlight.store import erased_list

    if given.by_hand == (given.file is not None):
        raise ConfigError("Name the backup to restore, or say --by-hand.", field="file")
    if given.by_hand:
        erased = restoring.make_current(Services.open(config), erased_list.read(config.data_dir / erased_list.NAME))
    else:
        done = restoring.restore(given.file, config, replace_it=given.replace, now_ms=wall_clock_ms())
        for space in done.manifest["spaces"]:
            print(f"Restored {space['name']}: {space['changes']} changes")
        erased = done.erased
        if done.before is not None:
            print(f"What was there before is in {done.before}")
    if erased:
        print(f"Taken out again, because they were erased since: {erased} records")
    print("Every device sends what this copy lacks when it next reaches the server, but for photos and sounds it has let go of since.")
    print("Devices shut out and links taken back since the copy was made hold again: look at `barnlight devices` and the reports.")
    return 0
