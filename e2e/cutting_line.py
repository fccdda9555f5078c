"""The line between one phone and the server: slow, able to be down, and able to strike at a chosen moment of a chosen request."""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass

CHUNK = 16 * 1024


@dataclass(frozen=True)
class Trap:
    """At the `nth` request whose first line begins so, `strike` is called after `delay_s`."""

    begins: bytes
    nth: int
    delay_s: float
    strike: Callable[[], None]


def hang_up(end: socket.socket) -> None:
    """Ends it, so that the thread that reads it wakes; closing alone would leave it waiting."""
    with suppress(OSError):
        end.shutdown(socket.SHUT_RDWR)


class Line:
    """Passes bytes both ways between a port of its own and the server's. Its port outlives every server, as an address does."""

    def __init__(self, server_port: int, bytes_a_second: int = 4_000_000) -> None:
        self._listening = socket.create_server(("127.0.0.1", 0))
        self.port = self._listening.getsockname()[1]
        self.url = f"http://localhost:{self.port}"
        self.struck = threading.Event()
        self._server_port, self._pause_s = server_port, CHUNK / bytes_a_second
        self._trap: Trap | None = None
        self._met = 0
        self._up = True
        self._ends: set[socket.socket] = set()
        self._lock = threading.Lock()
        threading.Thread(target=self._accept, daemon=True).start()

    def cut(self) -> None:
        """Nothing passes from now on, on the lines that are open neither."""
        with self._lock:
            self._up = False
            for end in self._ends:
                hang_up(end)

    def mend(self) -> None:
        """New lines pass again."""
        with self._lock:
            self._up = True

    def arm(self, trap: Trap) -> None:
        """Wait for that request; `struck` is set once the blow has fallen."""
        with self._lock:
            self._trap, self._met = trap, 0
            self.struck.clear()

    def disarm(self) -> None:
        """Let everything pass again."""
        with self._lock:
            self._trap = None

    def close(self) -> None:
        """Take the line down for good."""
        self._listening.close()

    def _accept(self) -> None:
        while True:
            try:
                phone, _ = self._listening.accept()
            except OSError:
                return  # the line was closed
            threading.Thread(target=self._join, args=(phone,), daemon=True).start()

    def _join(self, phone: socket.socket) -> None:
        try:
            server = socket.create_connection(("127.0.0.1", self._server_port), timeout=5)
            server.settimeout(None)
        except OSError:
            phone.close()
            return
        with self._lock:
            if not self._up:
                phone.close()
                server.close()
                return
            self._ends |= {phone, server}
        threading.Thread(target=self._pass, args=(server, phone, False), daemon=True).start()
        self._pass(phone, server, True)

    def _pass(self, source: socket.socket, target: socket.socket, is_request: bool) -> None:
        try:
            while data := source.recv(CHUNK):
                if is_request:
                    self._look(data)
                target.sendall(data)
                time.sleep(self._pause_s)
        except OSError:
            pass  # one end is gone, as ends go
        with self._lock:
            self._ends -= {source, target}
            for end in (source, target):
                hang_up(end)
                end.close()

    def _look(self, data: bytes) -> None:
        """Browsers begin each request in a packet of its own, so its first line stands at the start of what arrives."""
        with self._lock:
            trap = self._trap
            if trap is None or not data.startswith(trap.begins):
                return
            self._met += 1
            if self._met < trap.nth:
                return
            self._trap = None
        threading.Timer(trap.delay_s, self._strike, [trap]).start()

    def _strike(self, trap: Trap) -> None:
        trap.strike()
        self.struck.set()
