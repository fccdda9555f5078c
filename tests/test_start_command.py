"""The start command: what it checks before it works, and the one sentence it leaves when it cannot go on."""

import importlib
import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(autouse=True)
def _backend_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    """The command's files lie beside the package, not in it."""
    monkeypatch.syspath_prepend(str(ROOT / "backend"))


@pytest.fixture
def steps_module():
    return importlib.import_module("setup_steps")


@pytest.fixture
def build_module():
    return importlib.import_module("webapp_build")


def start(*words: str) -> subprocess.CompletedProcess:
    return subprocess.run([sys.executable, "backend/start.py", "--no-open", *words], cwd=ROOT, capture_output=True, text=True, timeout=300)


def test_port_in_use_is_said_before_anything_is_installed() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        ran = start("--port", str(port))
    assert ran.returncode == 1
    assert f"Port {port} is in use" in ran.stderr and f"--port {port + 1}" in ran.stderr
    assert "Traceback" not in ran.stderr and ran.stdout == ""


@pytest.mark.parametrize("port", ["0", "70000"])
def test_port_that_is_none(port: str) -> None:
    ran = start("--port", port)
    assert ran.returncode == 1 and "from 1 to 65535" in ran.stderr


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("OSError: [Errno 28] No space left on device", "disk is full"),
        ("npm error code ENOSPC", "disk is full"),
        ("The virtual environment was not created successfully because ensurepip is not\navailable.", "apt install python3-venv"),
        ("Failed to establish a new connection: [Errno -3] Temporary failure in name resolution", "internet"),
        ("npm error code EAI_AGAIN", "internet"),
        ("PermissionError: [Errno 13] Permission denied: '/x'", "cannot be written"),
        ("something nobody has seen before", "What the tool said is in"),
    ],
)
def test_a_tools_words_become_one_sentence(steps_module, tmp_path: Path, words: str, sentence: str) -> None:
    code = f"import sys; print({words!r}); sys.exit(3)"
    steps = steps_module.Steps(tmp_path / "log")
    with pytest.raises(steps_module.Stop, match=sentence):
        steps.run("Trying", [sys.executable, "-c", code], cwd=tmp_path)
    assert words in (tmp_path / "log").read_text()


def test_no_setting_of_the_person_leaks_into_the_installation(steps_module, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONPATH", "/elsewhere")
    monkeypatch.setenv("PIP_USER", "1")
    environment = steps_module.clean_environment()
    assert "PYTHONPATH" not in environment and environment["PIP_USER"] == "0"
    assert environment["PATH"] == os.environ["PATH"]


def test_fingerprint_follows_names_and_bytes_only(build_module, tmp_path: Path) -> None:
    folder = tmp_path / "web app"
    (folder / "node_modules").mkdir(parents=True)
    (folder / "a.ts").write_text("1")
    first = build_module.fingerprint(tmp_path, [folder])
    (folder / "node_modules" / "x.js").write_text("made by a tool")
    os.utime(folder / "a.ts", (1, 1))
    assert build_module.fingerprint(tmp_path, [folder]) == first
    (folder / "a.ts").write_text("2")
    second = build_module.fingerprint(tmp_path, [folder])
    (folder / "a.ts").rename(folder / "b.ts")
    assert len({first, second, build_module.fingerprint(tmp_path, [folder])}) == 3


def test_older_python_gets_a_sentence_not_a_syntax_error() -> None:
    # Nothing newer than Python 3.6 may stand in the two files an old Python reads before it reaches the check.
    import ast

    for name in ("backend/start.py", "tests/run.py"):
        ast.parse((ROOT / name).read_text("utf-8"), feature_version=(3, 6))
        text = (ROOT / name).read_text("utf-8")
        assert text.index("sys.version_info <") < text.index("import argparse")
