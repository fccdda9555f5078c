"""Servers that speak TLS by themselves, on the app's own factory, as ratios to the plain server: speed, slow clients, huge bodies, stopping.

    python -m barnlight.bench.tls_servers

Each runs as a process of its own; the load comes from this one, on the same machine, so that the ratios are kinder to slow servers than a
bare figure would be. A server whose package is not installed is left out, and said: `pip install barnlight[bench]` brings them.
"""

from __future__ import annotations

import argparse
import importlib.util
import signal
import socket
import subprocess
import sys
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

from barnlight.bench import tls_load as load
from barnlight.bench.tls_candidates import CANDIDATES
from barnlight.tls.authority import authority_in
from barnlight.tls.leaf import leaf_in
from barnlight.tls.names import names_here

STARTS_WITHIN_S = 60
STOPS_WITHIN_S = 20


def free_port() -> int:
    """A port nobody listens on right now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


class Running:
    """One candidate as a process, over a store of its own."""

    def __init__(self, name: str, folder: Path) -> None:
        self.port = free_port()
        now, names = datetime.now(UTC), names_here()
        authority, _ = authority_in(folder / "tls", names, now)
        leaf, _ = leaf_in(folder / "tls", authority, names, now)
        self.client = load.Client(self.port, folder / "tls" / "authority.pem" if CANDIDATES[name].tls else None)
        words = [sys.executable, "-m", "barnlight.bench.tls_candidates", name, str(self.port), str(folder / "store"), str(leaf)]
        self.process = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=(folder / "words").open("wb"))
        until = time.monotonic() + STARTS_WITHIN_S
        while not self.client.answers():
            if self.process.poll() is not None or time.monotonic() > until:
                raise RuntimeError((folder / "words").read_text())
            time.sleep(0.1)

    def stop(self) -> str:
        """Seconds it took to end after SIGTERM, and its exit code."""
        begun = time.monotonic()
        self.process.send_signal(signal.SIGTERM)
        try:
            code = self.process.wait(STOPS_WITHIN_S)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()
            return "killed"
        return f"{time.monotonic() - begun:.1f} s, {code}"


def measure(name: str, seconds: float) -> dict[str, object]:
    """Every figure of one candidate."""
    with tempfile.TemporaryDirectory() as folder:
        running = Running(name, Path(folder))
        try:
            return {
                "posts": running.client.rate(load.POST, seconds),
                "uploads": running.client.rate(load.UPLOAD, seconds),
                "shakes": running.client.handshakes(seconds / 2),
                "slow": running.client.beside_slow_ones(),
                "huge": load.huge_body(running.client, running.process.pid),
                "empty": running.client.empty_answers(),
                "stop": running.stop(),
            }
        finally:
            running.process.kill()
            running.process.wait()


def main() -> None:
    """Prints the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--seconds", type=float, default=3.0, help="how long each load runs")
    parser.add_argument("--only", action="append", choices=CANDIDATES, help="this one beside the plain server (may be given again)")
    given = parser.parse_args()
    loads = f"{'posts':>8}{'p99 ms':>8}{'400 kB':>8}{'p99 ms':>8}{'new TLS/s':>11}"
    print(f"{'server':28}{loads}  {'beside slow clients, s':30}{'1 GB body':26}{'204 304 HEAD':14}stop")
    base: dict[str, object] | None = None
    for name, candidate in CANDIDATES.items():
        if base is not None and given.only and name not in given.only:
            continue
        if importlib.util.find_spec(candidate.package) is None:
            print(f"{name:28}not installed")
            continue
        got = measure(name, given.seconds)
        base = base or got
        row = "".join(f"{got[kind].per_s / base[kind].per_s:8.2f}{got[kind].p99_ms:8.1f}" for kind in ("posts", "uploads"))  # type: ignore[attr-defined]
        print(f"{name:28}{row}{got['shakes']:>11}  {got['slow']:30}{got['huge']:26}{got['empty']:14}{got['stop']}", flush=True)
    assert base is not None
    print(f"1.00 is {base['posts'].per_s:.0f} posts and {base['uploads'].per_s:.0f} uploads of 400 kB a second.")  # type: ignore[attr-defined]


if __name__ == "__main__":
    main()
