"""Phone and server on the same recordings: `python -m barnlight.bench.shutter_agreement --seed 201`. Needs Node.

The sounds are written as WAV, read back and measured by both engines; any further files may be named.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from barnlight import catalogue
from barnlight.bench.shutter_recordings import KINDS, sound
from barnlight.bench.shutter_speed import WEBAPP
from barnlight.domain.shutter_timing import measure
from barnlight.media.audio import read_sound, to_wav

AGREE_S = 5e-5
TIMES = ("open_time_s", "low_s", "high_s", "other_s")


def difference(server: dict[str, Any], phone: dict[str, Any]) -> str | None:
    """What differs, or None."""
    for name in ("verdict", "reason"):
        if server[name] != phone[name]:
            return f"{name}: {server[name]} and {phone[name]}"
    hints = [one["buzz"] and (one["buzz"]["ticks"], one["buzz"]["uneven"]) for one in (server, phone)]
    if hints[0] != hints[1]:
        return f"buzz: {hints[0]} and {hints[1]}"
    if len(server["firings"]) != len(phone["firings"]):
        return f"{len(server['firings'])} and {len(phone['firings'])} firings"
    for one, other in zip([server, *server["firings"]], [phone, *phone["firings"]], strict=True):
        for name in TIMES:
            if (one[name] is None) != (other[name] is None) or (one[name] is not None and abs(one[name] - other[name]) > AGREE_S):
                return f"{name}: {one[name]} and {other[name]}"
    return None


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seed", type=int, default=201)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("files", nargs="*", type=Path, help="further sound files (WAV), measured with and without 1/50")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        entries = [{"file": str(file.resolve()), "marked_s": marked_s} for file in asked.files for marked_s in (0.02, None)]
        for index in range(asked.count):
            samples, rate_hz, case = sound(KINDS[index % len(KINDS)], asked.seed, index)
            file = Path(folder) / f"{index}.wav"
            file.write_bytes(to_wav(samples, rate_hz))
            entries.append({"file": str(file), "marked_s": None if index % 7 == 0 else case.marked_s})
        listed = Path(folder) / "list.json"
        listed.write_text(json.dumps(entries), encoding="utf-8")
        ran = subprocess.run(["node", "tools/bench_timing.mjs", "measure", listed], cwd=WEBAPP, check=True, capture_output=True, text=True)
        phones = json.loads(ran.stdout)
        constants = catalogue.load()["shutter_timing"]
        differing = 0
        for entry, phone in zip(entries, phones, strict=True):
            server = measure(*read_sound(Path(entry["file"]).read_bytes()), entry["marked_s"], constants)
            found = difference(server, phone)
            if found:
                differing += 1
                print(f"{Path(entry['file']).name}, marked {entry['marked_s']}: {found}")
    print(f"{len(entries) - differing} of {len(entries)} measured alike: same verdict, times within {AGREE_S * 1000:.2f} ms")
    return 1 if differing else 0


if __name__ == "__main__":
    sys.exit(main())
