"""Load the sample sessions into the store; what is there already stays."""

import argparse
import time
from dataclasses import replace
from pathlib import Path

from barnlight.config import Config
from barnlight.errors import BadInput, NotFound
from barnlight.exchange.form import DOCUMENT
from barnlight.services import Services

SPACE_NAME = "Demo"
PACKAGED = Path(__file__).parents[1] / "sample_sessions"
IN_CHECKOUT = Path(__file__).parents[3] / "sample_sessions"


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--from", dest="stories", type=Path, metavar="DIR", help="folder of unpacked exports (default: the samples that come with Barnlight)")


def run(given: argparse.Namespace, config: Config) -> int:
    """Opens the store, loads, and ends."""
    load(Services.open(replace(config, space_name=SPACE_NAME)), given.stories)
    return 0


def load(services: Services, stories: Path | None = None) -> None:
    """Loads every story that this store has not had; one that was cut short is taken up again. Raises BarnlightError."""
    from barnlight.exchange.importing import import_folder, is_imported

    folder = stories or (PACKAGED if PACKAGED.is_dir() else IN_CHECKOUT)
    found = sorted(document.parent for document in folder.glob(f"*/{DOCUMENT}"))
    if not found:
        raise NotFound(f"There are no sample sessions in {folder}.", hint="Choose the folder that holds them with `barnlight demo --from DIR`.")
    space = services.space()
    for story in found:
        if is_imported(services, space, story):
            continue
        begun = time.monotonic()
        done = import_folder(services, space, story)
        if done.refused or done.media_missing:
            raise BadInput(f"The sample session {story.name} is damaged: {len(done.refused)} changes and {len(done.media_missing)} files could not be taken.")
        print(f"Loaded the sample session {story.name}: {done.changes.total()} changes, {done.media} files, {time.monotonic() - begun:.1f} s", flush=True)
