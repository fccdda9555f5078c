"""Measure the open times of a shutter in a sound file and print them as JSON."""

import argparse
import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from barnlight.config import Config

NOT_SOUND = 2
# As shells count a command that was told to stop.
STOPPED = 130


def add_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", type=Path, metavar="FILE", help="a sound file, best a WAV, of any length up to six hours")
    parser.add_argument("--marked", metavar="1/50", help="the marked speed that was set; without it much less can be told")
    parser.add_argument("--series", default="current", metavar="NAME", help="the shutter's series of marks: current (default), older or odd")
    parser.add_argument("--json", action="store_true", help="print JSON, the only form there is")


def run(given: argparse.Namespace, config: Config) -> int:
    """0, or 2 with one sentence on standard error for anything that cannot be measured; 130 when stopped by Ctrl-C."""
    del config
    try:
        print(json.dumps(timing(given.file, given.marked, given.series, _show_progress), indent=2, allow_nan=False))
    except KeyboardInterrupt:
        print("\nbarnlight: stopped; nothing was measured.", file=sys.stderr)
        return STOPPED
    except OSError as error:
        print(f"barnlight: {given.file} cannot be read: {error.strerror}.", file=sys.stderr)
        return NOT_SOUND
    except ValueError as error:
        print(f"barnlight: {error} {getattr(error, 'hint', None) or ''}".rstrip(), file=sys.stderr)
        return NOT_SOUND
    return 0


def timing(path: Path, marked: str | None, series_id: str, tell: Callable[[float], None]) -> dict[str, Any]:
    """The measurement of a file beside the exact time of its mark; all moments count from the start of the file.

    `stretch` is {from_s, to_s} of a recording too long to be measured as a whole, otherwise None. `tell` hears the share of
    a long file gone through. Raises ValueError or OSError.
    """
    from barnlight import catalogue
    from barnlight.domain.exposure import error_stops, nominal_seconds, parse_mark
    from barnlight.domain.shutter_beside import measure_beside
    from barnlight.domain.shutter_stretch import best_stretch, shifted
    from barnlight.media.long_sound import read_stretches

    data = catalogue.load()
    constants = data["shutter_timing"]
    series = next((one for one in data["series"] if one["id"] == series_id), None)
    if series is None:
        raise ValueError(f'There is no series "{series_id}"; there are {", ".join(one["id"] for one in data["series"])}.')
    marked_s = None if marked is None else parse_mark(marked)
    if marked is not None and marked_s is None:
        raise ValueError(f'"{marked}" is no marked speed; write it like 1/50 or 2s.')
    parts, is_long = read_stretches(path, constants["stretch"], tell)
    measured = [measure_beside(part.samples, part.rate_hz, marked_s, constants) for part in parts]
    best = best_stretch(measured)
    part, result = parts[best], shifted(measured[best], parts[best].from_s)
    nominal_s = None if marked is None else nominal_seconds(marked, series)
    known = nominal_s is not None and result["open_time_s"] is not None
    error = error_stops(result["open_time_s"], nominal_s) if known else None
    return {**result, "stretch": {"from_s": part.from_s, "to_s": part.to_s} if is_long else None, "nominal_s": nominal_s, "error_stops": error}


def _show_progress(share: float) -> None:
    """One line that writes over itself, where somebody watches."""
    if sys.stderr.isatty():
        print(f"\rlooking for the firings: {share:4.0%}", end="\r\033[K" if share == 1 else "", file=sys.stderr, flush=True)
