"""Find bright points in a photo of a dark room, candidates for light leaks, and say whether it can be judged."""

import argparse
import json
import sys
from pathlib import Path
from typing import Any

from barnlight.config import Config

NOT_A_PICTURE = 2
# Asked for before the file is read; a photo of the most pixels taken is smaller.
MOST_FILE_BYTES = 256 * 1024 * 1024


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", type=Path, metavar="FILE", help="a photo as the camera made it: JPEG, PNG or WebP")
    parser.add_argument("--json", action="store_true", help="print JSON instead of lines to read")


def run(given: argparse.Namespace, config: Config) -> int:
    """0, or 2 with one sentence on standard error for anything that is no picture."""
    del config
    try:
        found = leaks(given.file)
    except OSError as error:
        print(f"barnlight: {given.file} cannot be read: {error.strerror}.", file=sys.stderr)
        return NOT_A_PICTURE
    except ValueError as error:
        print(f"barnlight: {error} {getattr(error, 'hint', None) or ''}".rstrip(), file=sys.stderr)
        return NOT_A_PICTURE
    print(json.dumps(found, indent=2, allow_nan=False) if given.json else "\n".join(lines(found)))
    return 0


def leaks(path: Path) -> dict[str, Any]:
    """What the leak finder says of a file, in pixels of the upright full picture. Raises ValueError or OSError."""
    from barnlight import catalogue
    from barnlight.domain.leak_finder import find_leaks
    from barnlight.media.leak_photo import upright_pixels

    if path.stat().st_size > MOST_FILE_BYTES:
        raise ValueError(f"{path} is larger than {MOST_FILE_BYTES // 1024 // 1024} MiB. Choose a photo as the camera made it.")
    return find_leaks(upright_pixels(path.read_bytes()), catalogue.load()["leaks"])


def lines(found: dict[str, Any]) -> list[str]:
    """The same to read: the verdict, then a line a place."""
    from barnlight import catalogue

    words = catalogue.load()["leaks"]["reasons"]
    said = [words[reason] for reason in found["reasons"]] or ["This photo can be judged."]
    if found["sharpness"] == "cannot_tell" and found["usable"]:
        said.append("It has no edges that would tell whether it is sharp.")
    for number, point in enumerate(found["points"], 1):
        said.append(f"{number:3}  {point['kind']:6}  x {point['x']:.0f}  y {point['y']:.0f}  {point['strength']:.0f} times the noise")
    if found["limit_code"] is not None:
        said.append(f"Nothing else brighter than about {found['limit_code']:.0f} of 255 levels above its surroundings in this photo.")
    return said
