"""The load for `tls_servers`: a client on bare sockets, so that it costs little beside the server it measures."""

from __future__ import annotations

import socket
import ssl
import threading
import time
from dataclasses import dataclass
from pathlib import Path

THREADS = 4
SLOW_CLIENTS = 80
OTHER = "127.0.0.2"  # the slow ones come from another machine than the quick one, as it were
GB = 1024**3


@dataclass(frozen=True)
class Rate:
    """Requests a second, and the time that 99 of 100 stayed below, in ms."""

    per_s: float
    p99_ms: float


def message(method: str, path: str, body: bytes = b"", kind: str = "application/json") -> bytes:
    """One request as bytes."""
    head = f"{method} {path} HTTP/1.1\r\nHost: localhost\r\nContent-Type: {kind}\r\nContent-Length: {len(body)}\r\n\r\n"
    return head.encode() + body


POST = message("POST", "/bench/json", b'{"a": 1, "b": [2, 3]}')
UPLOAD = message("PUT", "/bench/body", bytes(400_000), "application/octet-stream")


class Client:
    """Speaks to one server on this machine; with an authority over TLS, whose chain and name it checks."""

    def __init__(self, port: int, authority: Path | None) -> None:
        self.port = port
        self.context = ssl.create_default_context(cafile=authority) if authority else None

    def connect(self, timeout_s: float = 30, source: str = "127.0.0.1") -> socket.socket:
        """A connection ready for requests, from an address of this machine."""
        bare = socket.create_connection(("127.0.0.1", self.port), timeout_s, (source, 0))
        bare.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        return self.context.wrap_socket(bare, server_hostname="localhost") if self.context else bare

    def answers(self) -> bool:
        """Whether the server is up."""
        try:
            with self.connect(5) as line:
                return ask(line, message("GET", "/healthz"))[0] == 200
        except OSError:
            return False

    def rate(self, request: bytes, seconds: float) -> Rate:
        """What it answers on four connections that stay open."""
        times: list[float] = []
        until = time.perf_counter() + seconds

        def work() -> None:
            with self.connect() as line:
                while (begun := time.perf_counter()) < until:
                    assert ask(line, request)[0] == 200
                    times.append(time.perf_counter() - begun)

        workers = [threading.Thread(target=work) for _ in range(THREADS)]
        for each in workers:
            each.start()
        for each in workers:
            each.join()
        return Rate(len(times) / seconds, 1000 * sorted(times)[len(times) * 99 // 100])

    def handshakes(self, seconds: float) -> str:
        """New connections with one request each, a second, one after the other."""
        done, until = 0, time.perf_counter() + seconds
        while time.perf_counter() < until:
            with self.connect() as line:
                ask(line, POST)
            done += 1
        return f"{done / seconds:.0f}"

    def beside_slow_ones(self) -> str:
        """The longest of ten quick requests beside a silent client, beside many that dribble a head, and beside many that dribble a body."""
        return ", ".join(f"{kind} {self._beside(kind):.1f}" for kind in ("mute", "head", "body"))

    def _beside(self, kind: str) -> float:
        stop, lines = threading.Event(), []
        for _ in range(SLOW_CLIENTS):
            try:
                if kind == "mute":
                    lines.append(socket.create_connection(("127.0.0.1", self.port), 3, (OTHER, 0)))
                else:
                    lines.append(self.connect(3, OTHER))
                    lines[-1].sendall(UPLOAD[:20] if kind == "head" else UPLOAD[:1000])
            except OSError:  # it let nobody in any more
                break

        def dribble() -> None:
            while not stop.wait(1):
                for line in lines:
                    try:
                        line.sendall(b"0")
                    except OSError:
                        pass

        dribbler = threading.Thread(target=dribble) if kind != "mute" else None
        if dribbler:
            dribbler.start()
        slowest = 0.0
        for _ in range(10):
            begun = time.perf_counter()
            try:
                with self.connect(8) as line:
                    ask(line, POST)
            except OSError:
                slowest = 99.0
                break
            slowest = max(slowest, time.perf_counter() - begun)
        stop.set()
        if dribbler:
            dribbler.join()
        for line in lines:
            line.close()
        time.sleep(2)
        return slowest

    def empty_answers(self) -> str:
        """Whether answers without a body arrive as such."""
        got = []
        for request, wanted in ((message("GET", "/bench/empty/204"), 204), (message("GET", "/bench/empty/304"), 304), (message("HEAD", "/healthz"), 200)):
            try:
                with self.connect(3) as line:
                    got.append(ask(line, request, bodiless=True)[0] == wanted)
            except (OSError, ValueError):
                got.append(False)
        return "right" if all(got) else "wrong"


def ask(line: socket.socket, request: bytes, bodiless: bool = False) -> tuple[int, bytes]:
    """Sends one request, reads its answer: status and body."""
    line.sendall(request)
    return read(line, bodiless)


def read(line: socket.socket, bodiless: bool = False) -> tuple[int, bytes]:
    """Reads one answer: status and body. Raises OSError if the line closes before it is whole."""
    data = b""
    while b"\r\n\r\n" not in data:
        piece = line.recv(65536)
        if not piece:
            raise ConnectionError("closed")
        data += piece
    head, _, body = data.partition(b"\r\n\r\n")
    fields = dict(each.lower().split(b": ", 1) for each in head.split(b"\r\n")[1:])
    status = int(head.split()[1])
    if b"content-length" in fields and not bodiless:
        while len(body) < int(fields[b"content-length"]):
            body += line.recv(65536)
    elif not bodiless:
        while not body.endswith(b"0\r\n\r\n"):
            body += line.recv(65536)
    return status, body


def huge_body(client: Client, pid: int) -> str:
    """Status of a 1 GB body, and by how many MB the server's memory grew meanwhile."""
    before, answer = resident_mb(pid), "none"
    head = f"PUT /bench/body HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/octet-stream\r\nContent-Length: {GB}\r\n\r\n"
    sent, most = 0, before
    with client.connect() as line:
        try:
            line.sendall(head.encode())
            while sent < GB:
                line.sendall(bytes(1024 * 1024))
                sent += 1024 * 1024
                most = max(most, resident_mb(pid))
        except OSError:
            pass
        try:
            answer = str(read(line)[0])
        except (OSError, ValueError):
            pass
    return f"{answer} after {sent / 2**20:.0f} MB, +{most - before:.0f} MB"


def resident_mb(pid: int) -> float:
    """Memory of the process and its children in MB (Linux)."""
    total = 0
    for each in (pid, *children(pid)):
        text = Path(f"/proc/{each}/status").read_text()
        total += int(text.split("VmRSS:")[1].split()[0])
    return total / 1024


def children(pid: int) -> list[int]:
    """Processes that it started."""
    return [int(each) for task in Path(f"/proc/{pid}/task").iterdir() for each in (task / "children").read_text().split()]
