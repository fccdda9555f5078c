"""A house for tests of HTTPS: `barnlight serve --https` as a process, and a client that trusts one authority and nothing else.

Import `house`, `authority` and `caller` to stand in one that a whole file shares: what one test breaks, those after it notice.
"""

from __future__ import annotations

import http.client
import json
import os
import re
import secrets
import socket
import ssl
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
from free_port import free_port

ROOT = Path(__file__).resolve().parent.parent
NAME = "barn.example"
STARTS_WITHIN_S = 180
# A line to a busy machine; whoever waits longer waits for something broken.
PATIENCE_S = 60
# A caller must not outwait the server's own patience with a silent client (30 s): workers that such clients hold would be free by then.
CALLER_WAITS_S = 25


def trusting(authority: Path) -> ssl.SSLContext:
    """Checks chain and name against this authority alone, strictly by RFC 5280."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    context.load_verify_locations(authority)
    context.verify_flags |= ssl.VERIFY_X509_STRICT
    return context


class Caller:
    """Opens https://NAME:PORT on this machine, whatever the machine thinks NAME is."""

    def __init__(self, port: int, context: ssl.SSLContext, name: str) -> None:
        self.port, self.context, self.name = port, context, name

    def connect(self) -> ssl.SSLSocket:
        """A connection after its handshake; raises ssl.SSLError where chain or name do not hold."""
        return self.context.wrap_socket(socket.create_connection(("127.0.0.1", self.port), CALLER_WAITS_S), server_hostname=self.name)

    def ask(self, method: str, path: str, body: object = None, headers: Mapping[str, str] | None = None) -> http.client.HTTPResponse:
        """One request; the answer is read, its bytes are in `.body`."""
        line = http.client.HTTPSConnection(self.name, self.port)
        line.sock = self.connect()
        line.request(method, path, None if body is None else json.dumps(body), {"Content-Type": "application/json", "X-Barnlight": "1", **(headers or {})})
        answer = line.getresponse()
        answer.body = answer.read()  # type: ignore[attr-defined]
        line.close()
        return answer

    def pair(self, code: str) -> http.client.HTTPResponse:
        """Exchanges a pairing code for a cookie."""
        return self.ask("POST", "/api/pair", {"code": code, "device": secrets.token_hex(16), "device_name": "A tester's phone"})


class Serving:
    """The command as a process over `data`; `words` is what it has said."""

    def __init__(self, data: Path, *options: str, **settings: str) -> None:
        self.data, self.port, self.trust_port = data, free_port(), free_port()
        self._said = data.with_suffix(".words")
        command = [sys.executable, "-m", "barnlight", "serve", "--data", str(data), "--port", str(self.port), *options]
        environment = {"PYTHONPATH": str(ROOT / "backend"), "PYTHONUTF8": "1", "BARNLIGHT_TRUST_PORT": str(self.trust_port), **settings}
        with self._said.open("wb") as out:
            self.process = subprocess.Popen(command, stdout=out, stderr=out, env={**os.environ, **environment})
        until = time.monotonic() + STARTS_WITHIN_S
        ports = (self.port, self.trust_port) if "--https" in options else (self.port,)
        while not ("It works once" in self.words and all(map(listens, ports))):
            assert self.process.poll() is None and time.monotonic() < until, self.words
            time.sleep(0.05)

    @property
    def words(self) -> str:
        return self._said.read_text("utf-8")

    @property
    def code(self) -> str:
        """The pairing code it printed."""
        return re.search(r"#/pair/(\S+)", self.words).group(1)

    def stop(self) -> int:
        """Asks it to stop; its exit code."""
        self.process.terminate()
        try:
            return self.process.wait(PATIENCE_S)
        finally:
            self.process.kill()
            self.process.wait()


def listens(port: int) -> bool:
    """Whether somebody accepts connections there."""
    try:
        socket.create_connection(("127.0.0.1", port), 1).close()
    except OSError:
        return False
    return True


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    """A server with HTTPS for `barn.example`."""
    running = Serving(tmp_path_factory.mktemp("house") / "store", "--https", "--name", NAME)
    yield running
    running.stop()


@pytest.fixture(scope="module")
def authority(house: Serving) -> Path:
    return house.data / "tls" / "authority.pem"


@pytest.fixture(scope="module")
def caller(house: Serving, authority: Path) -> Caller:
    return Caller(house.port, trusting(authority), NAME)
