"""How long the phone's engine takes for 6 s of sound, in Chromium slowed down: `python -m barnlight.bench.shutter_speed`.

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

import numpy as np

from barnlight.bench.shutter_recordings import sound

WEBAPP = Path(__file__).parents[3] / "webapp"
SECONDS = 6
LIMIT_MS = 60
WARM_UP = 3
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
CALL = """([text, rate, marked]) => {
  const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  return bench.time(new Float32Array(bytes.buffer), rate, marked);
}"""


def six_seconds(seed: int) -> tuple[np.ndarray, int, float]:
    """(samples, samples a second, marked speed in seconds): three firings, repeated to fill the time."""
    samples, rate_hz, case = sound("three", seed, seed)
    return np.resize(samples, SECONDS * rate_hz).astype(np.float32), rate_hz, case.marked_s


def timed(count: int, slower: float, browser: str | None) -> list[dict[str, float]]:
    """Times of `count` recordings, in milliseconds, after the page has warmed up as it does in use."""
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        subprocess.run(["node", "tools/bench_timing.mjs", "bundle", folder], cwd=WEBAPP, check=True)
        page = playwright.chromium.launch(executable_path=browser, args=FLAGS).new_page()
        page.add_script_tag(path=Path(folder) / "bench.js")
        page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": slower})
        found = []
        for seed in range(count + WARM_UP):
            samples, rate_hz, marked_s = six_seconds(seed)
            found.append(page.evaluate(CALL, [base64.b64encode(samples.tobytes()).decode(), rate_hz, marked_s]))
        return found[WARM_UP:]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--recordings", type=int, default=20)
    parser.add_argument("--slower", type=float, default=4, help="how many times slower the processor is made")
    parser.add_argument("--browser", default=next((path for path in ("/usr/bin/chromium",) if Path(path).exists()), None))
    asked = parser.parse_args()
    found = timed(asked.recordings, asked.slower, asked.browser)
    print(f"{SECONDS} s of sound at 48 kHz, Chromium {asked.slower:g} times slower, {len(found)} recordings: median, slowest")
    for name, label in (("measureMs", "measured at its mark"), ("besideMs", "with the unmarked reading beside it"), ("passMs", "one plain pass")):
        values = [one[name] for one in found]
        print(f"  {label:38} {statistics.median(values):7.1f}, {max(values):7.1f} ms")
    median_ms = statistics.median(one["measureMs"] for one in found)
    passes = median_ms / max(statistics.median(one["passMs"] for one in found), 1e-3)
    print(f"  a measurement is {passes:.0f} plain passes; under {LIMIT_MS} ms: {'met' if median_ms < LIMIT_MS else 'NOT MET'}")


if __name__ == "__main__":
    main()
