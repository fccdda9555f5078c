"""The plain server as a process, against clients that send too much, or too slowly: refused early, its memory stays, others are served."""

from __future__ import annotations

import contextlib
import json
import os
import re
import socket
import subprocess
import threading
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from https_house import PATIENCE_S, Serving

MIB = 1024 * 1024
GB = 1000**3
MOST_SENT = 80 * MIB
MAY_GROW = 120 * MIB

Address = tuple[str, int]


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[subprocess.Popen, Address]]:
    """`barnlight serve`, for all tests here: whoever breaks it breaks those after it, too."""
    running = Serving(tmp_path_factory.mktemp("lines") / "store")
    yield running.process, ("127.0.0.1", running.port)
    running.process.kill()
    running.process.wait()


@pytest.fixture
def address(server: tuple[subprocess.Popen, Address]) -> Address:
    return server[1]


def most_memory(process: subprocess.Popen) -> int:
    """The most that the process ever held, in bytes (Linux: proc(5), VmHWM)."""
    return int(re.search(r"VmHWM:\s+(\d+) kB", Path(f"/proc/{process.pid}/status").read_text()).group(1)) * 1024


def pour(address: Address, head: str, piece: bytes, most: int) -> tuple[int, bytes]:
    """Sends the piece again and again until there is an answer. Returns how much was sent, and the answer."""
    sent, answer = 0, b""
    with socket.create_connection(address, PATIENCE_S) as line:
        line.sendall(head.encode())
        while sent < most and not answer:
            line.settimeout(PATIENCE_S)
            with contextlib.suppress(ConnectionError):  # it closed its ear; what it said before is still to be heard
                line.sendall(piece)
            sent += len(piece)
            line.settimeout(0.02)
            with contextlib.suppress(TimeoutError, ConnectionError):
                answer = line.recv(4096)
        line.settimeout(PATIENCE_S)
        with contextlib.suppress(TimeoutError, ConnectionError):
            while more := line.recv(4096):
                answer += more
    return sent, answer


def is_served(address: Address) -> bool:
    with urllib.request.urlopen(f"http://{address[0]}:{address[1]}/healthz", timeout=PATIENCE_S) as answer:
        return json.load(answer) == {"status": "ready"}


@pytest.mark.skipif(not os.path.exists("/proc"), reason="2026-11-25: only Linux tells a test the memory of a process so")
@pytest.mark.parametrize("asked", ["POST /api/pair", "POST /api/changes", "PUT /api/media/" + "0" * 64, "POST /evidence/", "POST /", "GET /healthz"])
@pytest.mark.parametrize("said", ["length", "pieces"])
def test_a_body_of_1_gb_is_refused_early(server: tuple[subprocess.Popen, Address], address: Address, asked: str, said: str) -> None:
    is_served(address)
    before = most_memory(server[0])
    length = f"Content-Length: {GB}" if said == "length" else "Transfer-Encoding: chunked"
    piece = bytes(MIB) if said == "length" else b"100000\r\n" + bytes(MIB) + b"\r\n"
    head = f"{asked} HTTP/1.1\r\nHost: localhost\r\nX-Barnlight: 1\r\nContent-Type: application/json\r\n{length}\r\n\r\n"
    sent, answer = pour(address, head, piece, GB)
    assert sent <= MOST_SENT, f"{sent / MIB:.0f} MiB were taken"
    assert re.match(rb"HTTP/1\.[01] 413 ", answer), answer[:200]
    assert most_memory(server[0]) - before < MAY_GROW
    assert is_served(address)


def test_a_little_too_much_is_refused_in_the_one_shape(address: Address) -> None:
    head = f"POST /api/pair HTTP/1.1\r\nHost: localhost\r\nX-Barnlight: 1\r\nConnection: close\r\nContent-Type: application/json\r\nContent-Length: {33 * MIB}\r\n\r\n"
    _, answer = pour(address, head, bytes(MIB), 33 * MIB)
    assert b" 413 " in answer and json.loads(answer.split(b"\r\n\r\n", 1)[1])["error"]["code"] == "too_large"


def dribble(address: Address, first: bytes, stop: threading.Event) -> None:
    """Begins a request and goes on with it one byte at a time."""
    with contextlib.suppress(OSError), socket.create_connection(address, PATIENCE_S) as line:
        line.sendall(first)
        while not stop.wait(0.5):
            line.sendall(b"x")


@pytest.mark.parametrize("first", [b"", b"GET / HTTP/1.1\r\nX-Slow: ", b"POST /api/pair HTTP/1.1\r\nHost: x\r\nContent-Length: 1000000\r\n\r\n{"],
                         ids=["silent", "head", "body"])  # fmt: skip
def test_slow_clients_hold_up_nobody(address: Address, first: bytes) -> None:
    """More than waitress takes unless told, many more than there are threads (the old trick of a slow head, and of a slow body)."""
    stop = threading.Event()
    slow = [threading.Thread(target=dribble, args=(address, first, stop), daemon=True) for _ in range(150)]
    try:
        for each in slow:
            each.start()
        time.sleep(1)
        for _ in range(10):
            assert is_served(address)  # within what it is given, long before the server hangs up on the slow ones
    finally:
        stop.set()
        for each in slow:
            each.join(5)
    assert is_served(address)
