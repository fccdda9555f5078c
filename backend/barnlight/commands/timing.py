"""Measure open times in sound files with the server's own code; one JSON line a file."""

import argparse
import json
import sys
from pathlib import Path

from barnlight.config import Config


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE", help="WAV recordings")
    parser.add_argument("--marked", type=float, metavar="SECONDS", help="the speed that was set, in seconds, e.g. 0.02 for 1/50")


def run(given: argparse.Namespace, config: Config) -> int:
    """Measures every file that can be read; 1 if one could not."""
    from barnlight import catalogue
    from barnlight.domain.shutter_timing import measure
    from barnlight.media import RefusedMedia
    from barnlight.media.audio import read_sound

    constants, failed = catalogue.load()["shutter_timing"], False
    for path in given.files:
        try:
            samples, rate_hz = read_sound(path.read_bytes())
        except (OSError, RefusedMedia) as error:
            print(f"{path}: {getattr(error, 'strerror', None) or error}", file=sys.stderr)
            failed = True
            continue
        print(json.dumps({"file": str(path), **measure(samples, rate_hz, given.marked, constants)}))
    return int(failed)
