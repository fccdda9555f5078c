"""Measure the open times of a shutter in a sound file and print them as JSON."""

import argparse
import json
import sys
from pathlib import Path
from typing import Any

from barnlight.config import Config

NOT_SOUND = 2
# A file is asked for its size before it is read: three minutes of eight channels at 24 bits and 48 kHz are less.
MOST_FILE_BYTES = 256 * 1024 * 1024


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", type=Path, metavar="FILE", help="a sound file, best a WAV")
    parser.add_argument("--marked", metavar="1/50", help="the marked speed that was set; without it much less can be told")
    parser.add_argument("--series", default="current", metavar="NAME", help="the shutter's series of marks: current (default), older or odd")
    parser.add_argument("--json", action="store_true", help="print JSON, the only form there is")


def run(given: argparse.Namespace, config: Config) -> int:
    """0, or 2 with one sentence on standard error for anything that cannot be measured."""
    del config
    try:
        print(json.dumps(timing(given.file, given.marked, given.series), indent=2, allow_nan=False))
    except OSError as error:
        print(f"barnlight: {given.file} cannot be read: {error.strerror}.", file=sys.stderr)
        return NOT_SOUND
    except ValueError as error:
        print(f"barnlight: {error} {getattr(error, 'hint', None) or ''}".rstrip(), file=sys.stderr)
        return NOT_SOUND
    return 0


def timing(path: Path, marked: str | None, series_id: str) -> dict[str, Any]:
    """The measurement of a file beside the exact time of its mark. Raises ValueError or OSError."""
    from barnlight import catalogue
    from barnlight.domain.exposure import error_stops, nominal_seconds, parse_mark
    from barnlight.domain.shutter_beside import measure_beside
    from barnlight.media.audio import read_sound

    data = catalogue.load()
    series = next((one for one in data["series"] if one["id"] == series_id), None)
    if series is None:
        raise ValueError(f'There is no series "{series_id}"; there are {", ".join(one["id"] for one in data["series"])}.')
    marked_s = None if marked is None else parse_mark(marked)
    if marked is not None and marked_s is None:
        raise ValueError(f'"{marked}" is no marked speed; write it like 1/50 or 2s.')
    if path.stat().st_size > MOST_FILE_BYTES:
        raise ValueError(f"{path} is larger than {MOST_FILE_BYTES // 1024 // 1024} MiB. Cut it to the firings of one speed.")
    samples, rate_hz = read_sound(path.read_bytes())
    result = measure_beside(samples, rate_hz, marked_s, data["shutter_timing"])
    nominal_s = None if marked is None else nominal_seconds(marked, series)
    known = nominal_s is not None and result["open_time_s"] is not None
    return {**result, "nominal_s": nominal_s, "error_stops": error_stops(result["open_time_s"], nominal_s) if known else None}
