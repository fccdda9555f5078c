"""Phone and server on the same reduced pixels: `python -m barnlight.bench.leaks_agreement --seeds 2001-2020 [FILE ...]`. Needs Node.

Pictures are written as PPM with their reduced form beside them, and looked through by both; further photos may be named.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np

from barnlight import catalogue
from barnlight.bench.leaks_pictures import simulated
from barnlight.bench.shutter import seeds_of
from barnlight.bench.shutter_speed import WEBAPP
from barnlight.domain.leak_finder import find_in
from barnlight.domain.leak_reduce import area_reduced, reduced_size
from barnlight.media.leak_photo import upright_pixels

WITHIN_PX = 3
LEAST_SHARE = 0.95


def write_ppm(path: Path, pixels: np.ndarray) -> str:
    height, width = pixels.shape[:2]
    path.write_bytes(f"P6\n{width} {height}\n255\n".encode() + pixels.tobytes())
    return str(path)


def matched(server: dict, phone: dict) -> int:
    """Points of the server's that the phone has within 3 px."""
    return sum(any(np.hypot(one["x"] - other["x"], one["y"] - other["y"]) <= WITHIN_PX for other in phone["points"]) for one in server["points"])


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", default="2001-2020")
    parser.add_argument("files", nargs="*", type=Path, help="further photos")
    asked = parser.parse_args()
    constants = catalogue.load()["leaks"]
    pictures = [upright_pixels(file.read_bytes()) for file in asked.files] + [simulated(seed)[0] for seed in seeds_of(asked.seeds)]
    entries, servers = [], []
    with tempfile.TemporaryDirectory() as folder:
        for index, full in enumerate(pictures):
            working = area_reduced(full, reduced_size(full.shape[1], full.shape[0], constants["working"]["long_edge"]))
            servers.append(find_in(working, full, constants))
            paths = [write_ppm(Path(folder) / f"{index}-{name}.ppm", pixels) for name, pixels in (("working", working), ("full", full))]
            entries.append(dict(zip(("working", "full"), paths, strict=True)))
        listed = Path(folder) / "list.json"
        listed.write_text(json.dumps(entries), encoding="utf-8")
        ran = subprocess.run(["node", "tools/leaks.mjs", "--list", str(listed)], cwd=WEBAPP, check=True, capture_output=True, text=True)
    phones = json.loads(ran.stdout)
    alike = sum((one["usable"], one["reasons"], one["sharpness"]) == (other["usable"], other["reasons"], other["sharpness"])
                for one, other in zip(servers, phones, strict=True))
    points = sum(len(one["points"]) for one in servers)
    both = sum(matched(one, other) for one, other in zip(servers, phones, strict=True))
    only_phone = sum(len(other["points"]) - matched(other, one) for one, other in zip(servers, phones, strict=True))
    same = sum(one == other for one, other in zip(servers, phones, strict=True))
    print(f"{alike} of {len(servers)} with the same verdict; {both} of {points} points within {WITHIN_PX} px; {only_phone} on the phone only; {same} alike to the last digit")
    return 0 if alike == len(servers) and both >= LEAST_SHARE * points and only_phone <= (1 - LEAST_SHARE) * points else 1


if __name__ == "__main__":
    sys.exit(main())
