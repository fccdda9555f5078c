"""`barnlight serve` as a process of its own on a store of its own, which a test may kill without warning."""

from __future__ import annotations

import http.client
import os
import re
import signal
import subprocess
import sys
import time
import urllib.request
from contextlib import suppress
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.append(str(ROOT / "tests"))

from free_port import free_port  # noqa: E402  (found by the line above)

STARTS_WITHIN_S = 180
DIST = ROOT / "backend" / "barnlight" / "webapp_dist"
# The server as it is, with another folder for the app's files.
WITH_APP = """
import sys, pathlib
from barnlight import static_app
static_app.register_static_app.__defaults__ = (pathlib.Path(sys.argv.pop(1)),)
from barnlight.cli import main
sys.exit(main())
"""


class Server:
    """Keeps its port and its data over `kill` and `start`."""

    def __init__(self, data: Path, demo: bool, app: Path | None = None) -> None:
        """`app`: a folder with another build of the web app, to serve instead of the package's own."""
        self.data, self.demo, self.app, self.port = data, demo, app, free_port()
        self.url = f"http://localhost:{self.port}"
        self.process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Returns when it answers; raises with what it said if it does not."""
        self.data.mkdir(parents=True, exist_ok=True)
        words = self._command("serve", "--port", str(self.port), *(["--demo"] if self.demo else []))
        said = self.data.with_suffix(".log")
        with said.open("ab") as log:
            self.process = subprocess.Popen(words, env=self._environment(), stdout=log, stderr=subprocess.STDOUT)
        until = time.monotonic() + STARTS_WITHIN_S
        while time.monotonic() < until and self.process.poll() is None:
            with suppress(OSError, http.client.HTTPException), urllib.request.urlopen(self.url + "/healthz", timeout=5):
                return
            time.sleep(0.1)
        raise RuntimeError("The server did not start:\n" + said.read_text())

    def kill(self) -> None:
        """As a power cut would: no word of warning."""
        if self.process and not self.is_dead():
            self.process.send_signal(signal.SIGKILL)
            self.process.wait()

    def is_dead(self) -> bool:
        """Whether it was killed, or ended by itself."""
        return self.process is None or self.process.poll() is not None

    def pair_code(self) -> str:
        """A fresh pairing code, made by the command a person would use."""
        said = subprocess.run(self._command("pair"), env=self._environment(), capture_output=True, text=True, check=True).stdout
        found = re.search(r"#/pair/([A-Z0-9]{4}-?[A-Z0-9]{4})", said)
        assert found, said
        return found.group(1)

    def _command(self, command: str, *more: str) -> list[str]:
        start = ["-c", WITH_APP, str(self.app)] if self.app else ["-m", "barnlight"]
        return [sys.executable, *start, command, "--data", str(self.data), *more]

    def _environment(self) -> dict[str, str]:
        # A whole suite pairs more phones from one address than the guard against guessing allows.
        ours = {"PYTHONPATH": str(ROOT / "backend"), "PYTHONUNBUFFERED": "1", "BARNLIGHT_PORT": str(self.port), "BARNLIGHT_RATE_LIMITS": "no"}
        return os.environ | ours
