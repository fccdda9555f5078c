"""The server that speaks TLS: cheroot, which shakes hands in a worker here, and lets no one client hold all the workers."""

from __future__ import annotations

import contextlib
import logging
import socket
import ssl
import sys
import threading
import time
from pathlib import Path
from typing import Any

from cheroot.server import HTTPConnection
from cheroot.ssl.builtin import BuiltinSSLAdapter
from cheroot.wsgi import Server

from barnlight.tls.pace import PacedSocket
from barnlight.tls.request import MOST_HEADER_BYTES, TlsRequest, piece_by_piece
from barnlight.tls.turns import Turns

log = logging.getLogger(__name__)

# A worker waits with its client, so there are many.
WORKERS = 64
# How long a client may be silent in the middle of a request, and how long an idle connection is kept.
SILENCE_S = 30
STOPS_WITHIN_S = 5
# How often it is looked whether somebody slow keeps others waiting.
HURRIES_EVERY_S = 0.25
# Connections that may wait to be let in; cheroot's five fill up while one page loads.
BACKLOG = 256


def tls_context(leaf: Path) -> ssl.SSLContext:
    """TLS 1.2 and 1.3 with this certificate."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    context.load_cert_chain(leaf)
    context.sslsocket_class = PacedSocket
    return context


class TlsLine(HTTPConnection):
    """One connection, whose first turn begins with the TLS handshake."""

    RequestHandlerClass = TlsRequest
    shaken = False

    def communicate(self) -> bool:
        """One request and its answer; whether the connection stays open."""
        self.socket.start_pace()
        try:
            return self._shake() and super().communicate()
        finally:
            for following in self.server.turns.give_back(self):
                self.server.requests.put(following)

    @property
    def lags_s(self) -> float:
        """How long its client has kept a worker waiting in this turn."""
        return self.socket.lags_s

    def cut(self) -> None:
        """Wakes the worker that waits for this client; to it the client seems to have gone."""
        with contextlib.suppress(OSError):
            socket.socket.shutdown(self.socket, socket.SHUT_RDWR)  # not the TLS way, which is not for two threads at once

    def _shake(self) -> bool:
        if not self.shaken:
            try:
                self.socket.do_handshake()
            except OSError:  # silent for too long, not TLS, or a phone that does not trust us yet: nothing of that is our fault
                return False
            self.shaken = True
        return True


class LateHandshake(BuiltinSSLAdapter):
    """Cheroot's own adapter shakes hands in the thread through which every connection comes in: one silent client would hold up all."""

    def __init__(self, context: ssl.SSLContext) -> None:
        self.context = context

    def wrap(self, sock: socket.socket) -> tuple[ssl.SSLSocket, dict[str, str]]:
        """The connection before its handshake, and what the app is told of it."""
        return self.context.wrap_socket(sock, server_side=True, do_handshake_on_connect=False), {"wsgi.url_scheme": "https"}


class TlsServer(Server):
    """Serves an app over TLS on one socket that is bound already."""

    ConnectionClass = TlsLine

    def __init__(self, bound: socket.socket, app: Any, context: ssl.SSLContext) -> None:
        super().__init__(
            bound.getsockname()[:2], piece_by_piece(app), numthreads=WORKERS, timeout=SILENCE_S, shutdown_timeout=STOPS_WITHIN_S,
            request_queue_size=BACKLOG, server_name="Barnlight",
        )  # fmt: skip
        # Taken over by every connection: without it an answer in two parts waits 40 ms for the client's word on the first.
        bound.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self._bound = bound
        self.turns = Turns(WORKERS)
        self.max_request_header_size = MOST_HEADER_BYTES
        self.ssl_adapter = LateHandshake(context)

    def run_until_interrupted(self) -> None:
        """Serves until a signal raises in this thread, which only waits and hurries the slow: it never breaks into the server's own work."""
        serving = threading.Thread(target=self.start, name="https", daemon=True)
        serving.start()
        try:
            while serving.is_alive():
                serving.join(HURRIES_EVERY_S)
                self.turns.hurry()
        except KeyboardInterrupt:
            pass  # Ctrl-C is the usual way to end it
        finally:
            while serving.is_alive() and not self.ready:  # stopping one that is not yet up would leave its workers behind
                time.sleep(0.05)
            self.stop()
            serving.join(STOPS_WITHIN_S)

    def take_over(self, leaf: Path) -> None:
        """Shows this certificate to every new connection; those that are open go on."""
        self.ssl_adapter.context = tls_context(leaf)

    def bind(self, family: int, type: int, proto: int = 0) -> socket.socket:  # noqa: A002 - cheroot's own name
        """The socket that was handed over, instead of one of cheroot's making."""
        self.socket = self._bound
        return self.socket

    def process_conn(self, conn: TlsLine) -> None:
        """Gives the connection to a worker as soon as its client has one to spare."""
        match self.turns.take(conn):
            case "now":
                super().process_conn(conn)
            case "never":
                conn.close()
        for each in self.turns.surplus():
            each.close()

    def error_log(self, msg: str = "", level: int = logging.INFO, traceback: bool = False) -> None:
        """What cheroot has to say goes where the rest goes; that a client broke off is no news."""
        broke_off = isinstance(sys.exc_info()[1], ssl.SSLError | ConnectionError | TimeoutError)
        log.log(logging.DEBUG if broke_off else level, msg, exc_info=traceback)
