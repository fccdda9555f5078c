"""Steps of the two commands: run a tool with progress on screen, make a virtual environment, say a failure in one sentence."""

import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

TICK_S = 0.2
ALIVE_EVERY_S = 10


class Stop(Exception):
    """Why the command cannot go on: one sentence for the person at the keyboard."""


# What a tool's own words mean for the person; the first match wins.
KNOWN_FAILURES = [
    (r"No space left on device|ENOSPC|Errno 28|not enough space", "The disk is full: free about 1 GB and start again."),
    (r"ensurepip is not\s+available|No module named '?(venv|ensurepip)", "Python lacks its venv part: on Debian or Ubuntu run `apt install python3-venv`, then start again."),
    (
        r"name resolution|NewConnectionError|ConnectTimeout|ReadTimeout|ProxyError|Network is unreachable|ENOTFOUND|EAI_AGAIN|ECONNREFUSED|ETIMEDOUT|Connection refused",
        "The packages cannot be fetched: this first start needs the internet (later starts do not). Connect and start again.",
    ),
    (r"Permission denied|EACCES|Read-only file system", "A file cannot be written here: check that this folder is yours, then start again."),
    (r"requires a different Python|Requires-Python", "This Python is too old for a package: Python 3.11 or newer is needed."),
]


class Steps:
    """Prints numbered steps with their seconds, and keeps every tool's full words in one log file."""

    def __init__(self, log: Path) -> None:
        self.log = log
        self.begun = time.monotonic()
        self.number = 0
        self.live = sys.stdout.isatty()
        log.parent.mkdir(parents=True, exist_ok=True)
        log.write_bytes(b"")

    def say(self, words: str) -> None:
        print(words, flush=True)

    def run(self, title: str, command: Sequence[str | Path], cwd: Path, environment: dict[str, str] | None = None) -> None:
        """Runs a tool quietly, showing that it is alive; raises Stop with a plain sentence when it fails."""
        self.number += 1
        start, shown = time.monotonic(), 0.0
        if not self.live:
            self.say(f"{self.number}. {title} ...")
        from_byte = self.log.stat().st_size
        with self.log.open("ab") as out:
            tool = subprocess.Popen([str(word) for word in command], cwd=cwd, env=environment or clean_environment(), stdout=out, stderr=out, stdin=subprocess.DEVNULL)
            try:
                while tool.poll() is None:
                    time.sleep(TICK_S)
                    passed = time.monotonic() - start
                    if self.live:
                        print(f"\r{self.number}. {title} ... {passed:.0f} s", end="", flush=True)
                    elif passed - shown >= ALIVE_EVERY_S:
                        shown = passed
                        self.say(f"   still at it, {passed:.0f} s")
            except BaseException:
                tool.terminate()
                tool.wait()
                raise
        seconds = time.monotonic() - start
        if tool.returncode != 0:
            if self.live:
                print()
            with self.log.open("rb") as written:
                written.seek(from_byte)
                raise Stop(explain(title, written.read().decode("utf-8", "replace"), self.log))
        self.say(f"\r{self.number}. {title}: {seconds:.1f} s   " if self.live else f"   done, {seconds:.1f} s")


def explain(title: str, words: str, log: Path) -> str:
    """The one sentence for what a failed tool wrote."""
    for pattern, sentence in KNOWN_FAILURES:
        if re.search(pattern, words):
            return sentence
    return f"This step failed: {title}. What the tool said is in {log}."


def clean_environment(**more: str) -> dict[str, str]:
    """The environment for pip and Python: nothing of the person's own set-up leaks in, and no network wait is endless."""
    kept = {name: value for name, value in os.environ.items() if name not in ("PYTHONPATH", "PYTHONHOME", "VIRTUAL_ENV", "PIP_TARGET", "PIP_PREFIX")}
    quiet = {"PIP_DISABLE_PIP_VERSION_CHECK": "1", "PIP_NO_INPUT": "1", "PIP_USER": "0", "PIP_RETRIES": "2", "PIP_TIMEOUT": "30"}
    return {**kept, **quiet, **more}


def venv_python(venv: Path) -> Path:
    """The interpreter inside a virtual environment."""
    return venv / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def base_mark(root: Path) -> str:
    """What a virtual environment is tied to: this Python and this folder."""
    return f"{sys.base_prefix} {sys.version_info[:2]} {root}"


def ensure_installed(steps: Steps, root: Path, venv: Path, sources: str, wanted: str = ".") -> bool:
    """Makes `venv` and installs the package there unless that was done for the same `sources`; True if anything was done."""
    mark, done = venv / "barnlight_base", venv / "barnlight_sources"
    if _read(mark) == base_mark(root) and _read(done) == f"{wanted} {sources}" and venv_python(venv).exists():
        return False
    if _read(mark) != base_mark(root) or not venv_python(venv).exists():
        if venv.exists():
            shutil.rmtree(venv)
        steps.run("Making a virtual environment", [sys.executable, "-m", "venv", venv], cwd=root)
        mark.write_text(base_mark(root), encoding="utf-8")
    done.unlink(missing_ok=True)
    steps.run("Installing Barnlight and building its web app", [venv_python(venv), "-m", "pip", "install", "--editable", wanted], cwd=root)
    done.write_text(f"{wanted} {sources}", encoding="utf-8")
    return True


def _read(path: Path) -> str:
    return path.read_text(encoding="utf-8") if path.is_file() else ""
