"""How long the phone's leak finder takes in Chromium: `python -m barnlight.bench.leaks_speed`.

It runs on the page's own thread, for the browser's throttling spares workers. Needs Node, the web app's packages, Playwright
and a Chromium.
"""

from __future__ import annotations

import argparse
import base64
import statistics
import subprocess
import tempfile
from pathlib import Path

from barnlight.bench.shutter_speed import FLAGS, WEBAPP
from barnlight.demo.leak_picture import picture

SIZES = ((2048, 1536), (4032, 3024))
STEPS = (("decodeMs", "decoded"), ("reduceMs", "read and reduced"), ("findMs", "looked through"))


def timed(jpegs: list[bytes], rounds: int, slower: float, browser: str | None) -> list[list[dict[str, float]]]:
    """Times of every round of every picture, in milliseconds; the first round warms up and is left out."""
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        subprocess.run(["node", "tools/bench_leaks.mjs", folder], cwd=WEBAPP, check=True)
        page = playwright.chromium.launch(executable_path=browser, args=FLAGS).new_page()
        page.add_script_tag(path=Path(folder) / "bench.js")
        page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": slower})
        found = []
        for jpeg in jpegs:
            text = base64.b64encode(jpeg).decode()
            found.append([page.evaluate("(text) => bench.time(text)", text) for _ in range(rounds + 1)][1:])
        return found


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=7)
    parser.add_argument("--slower", type=float, default=1, help="how many times slower the processor is made")
    parser.add_argument("--browser", default=next((path for path in ("/usr/bin/chromium",) if Path(path).exists()), None))
    asked = parser.parse_args()
    jpegs = [picture(3, size=size, kind="bellows", spoilt=None).jpeg for size in SIZES]
    for size, rounds in zip(SIZES, timed(jpegs, asked.rounds, asked.slower, asked.browser), strict=True):
        print(f"{size[0]} x {size[1]}, {rounds[0]['points']:.0f} places, Chromium {asked.slower:g} times slower: median, slowest of {len(rounds)}")
        for name, label in STEPS:
            values = [one[name] for one in rounds]
            print(f"  {label:18} {statistics.median(values):7.1f}, {max(values):7.1f} ms")


if __name__ == "__main__":
    main()
