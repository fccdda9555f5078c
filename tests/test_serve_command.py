"""The serve command as a process: it answers, prints a pairing link that works, stops cleanly, says when a port is taken."""

import json
import os
import signal
import socket
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from free_port import free_port
from https_house import PATIENCE_S, ROOT, Serving

from barnlight.commands.serve import listen
from barnlight.errors import ConfigError


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Serving]:
    """A running server."""
    running = Serving(tmp_path / "a store")
    yield running
    running.process.kill()
    running.process.wait()


def test_it_prints_a_link_whose_code_pairs_one_device(server: Serving) -> None:
    address = f"http://127.0.0.1:{server.port}"
    assert f"http://localhost:{server.port}/#/pair/" in server.words
    body = json.dumps({"code": server.code, "device": "d" * 32, "device_name": "test phone"}).encode()
    request = urllib.request.Request(f"{address}/api/pair", body, {"Content-Type": "application/json", "X-Barnlight": "1"})
    with urllib.request.urlopen(request) as answer:
        assert answer.status == 200
        assert answer.headers["Set-Cookie"]
    with pytest.raises(urllib.error.HTTPError) as refused:
        urllib.request.urlopen(request)
    with refused.value as answer:
        assert 400 <= answer.code < 500 and "error" in json.load(answer)


@pytest.mark.skipif(os.name == "nt", reason="2026-11-25: Windows has no such signals")
@pytest.mark.parametrize("by", ["SIGTERM", "SIGINT"])
def test_it_stops_cleanly(server: Serving, by: str) -> None:
    server.process.send_signal(signal.Signals[by])
    assert server.process.wait(PATIENCE_S) == 0
    assert "Traceback" not in server.words


def test_a_taken_port_is_one_sentence() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        with pytest.raises(ConfigError, match="is in use"):
            listen("127.0.0.1", taken.getsockname()[1])


def test_a_name_that_is_nobody() -> None:
    with pytest.raises(ConfigError, match="no address called"):
        listen("no such name", 8787)


def test_localhost_is_both_families_where_there_are_two() -> None:
    port = free_port()
    bound = listen("localhost", port)
    try:
        families = {each.family for each in bound}
        assert socket.AF_INET in families
        assert len(bound) == len(families)
        assert {each.getsockname()[1] for each in bound} == {port}
    finally:
        for each in bound:
            each.close()


def test_the_start_waits_for_nothing_heavy() -> None:
    # Together these take seconds to load on a slow machine; whoever needs one loads it then.
    asked = "import sys, barnlight.app, barnlight.commands; print([name for name in ('scipy.signal', 'scipy.ndimage', 'weasyprint') if name in sys.modules])"
    ran = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, env={**os.environ, "PYTHONPATH": str(ROOT / "backend")})
    assert ran.stdout.strip() == "[]", ran.stderr
