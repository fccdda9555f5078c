"""Passes bytes between a browser and a server, and counts them: what really goes over the wire, headers and all."""

from __future__ import annotations

import socket
import threading
from contextlib import suppress

CHUNK = 64 * 1024


class CountingLine:
    """Listens on a port of its own; `passed` is the bytes of both ways since the start or since it was set to 0."""

    def __init__(self, server_port: int) -> None:
        self._server_port = server_port
        self._listening = socket.create_server(("127.0.0.1", 0))
        self.port = self._listening.getsockname()[1]
        self.passed = 0
        self._lock = threading.Lock()
        threading.Thread(target=self._accept, daemon=True).start()

    def _accept(self) -> None:
        while True:
            near, _ = self._listening.accept()
            far = socket.create_connection(("localhost", self._server_port))
            for source, target in ((near, far), (far, near)):
                threading.Thread(target=self._pass, args=(source, target), daemon=True).start()

    def _pass(self, source: socket.socket, target: socket.socket) -> None:
        with suppress(OSError):  # one end is gone, as ends go
            while data := source.recv(CHUNK):
                with self._lock:
                    self.passed += len(data)
                target.sendall(data)
        for end in (source, target):
            with suppress(OSError):
                end.shutdown(socket.SHUT_RDWR)
            end.close()
