"""One request over TLS: neither its header nor its body takes more memory than the app asks for, whatever length a client claims."""

from __future__ import annotations

import contextlib
import json
import re
from collections.abc import Iterable
from typing import Any, BinaryIO

from cheroot.server import ChunkedRFile, HTTPRequest

from barnlight.error_handlers import PLAIN
from barnlight.errors import error_body
from barnlight.security_headers import HEADERS

# Request line and header; those of the app have 2 kB. Cheroot by itself takes them without end.
MOST_HEADER_BYTES = 64 * 1024
# What the app did not read of a body is heard to its end up to here, so that the client hears the answer; then the line is closed.
MOST_LEFT_BYTES = 32 * 1024 * 1024
PIECE_BYTES = 64 * 1024
# The line before a chunk: its length in hex and what a client may add.
MOST_CHUNK_LINE_BYTES = 256
CHUNK_LINE = re.compile(rb"([0-9a-fA-F]{1,12})[ \t]*(?:;[^\r\n]*)?\r\n")


class TlsRequest(HTTPRequest):
    """Cheroot would read what the app left of a body into memory as one, or take what is left of a chunked one for the next request."""

    def send_headers(self) -> None:
        """Status and headers of the answer, once what is left of the body is out of the way or the line is to be closed."""
        if self.chunked_read or self.rfile.remaining > MOST_LEFT_BYTES:
            self.close_connection = True
        while not self.close_connection and self.rfile.remaining > 0:
            if not self.rfile.read(min(self.rfile.remaining, PIECE_BYTES)):
                self.close_connection = True
        super().send_headers()

    def simple_response(self, status: str, msg: str = "") -> None:
        """What is refused before the app is asked, as the app refuses: the one error shape with its headers, then the line is closed."""
        number = int(status[:3])
        code, message, hint = PLAIN.get(number, (f"http_{number}", f"{status[4:]}.", None))
        body = json.dumps(error_body(code, message, hint=hint)).encode()
        told = {"Content-Type": "application/json", "Content-Length": len(body), "Connection": "close", "Cache-Control": "no-store", **HEADERS}
        lines = [f"{self.server.protocol} {status}", *(f"{name}: {value}" for name, value in told.items()), "", ""]
        self.close_connection = True
        with contextlib.suppress(OSError):  # it may be gone already
            self.conn.wfile.write("\r\n".join(lines).encode("latin-1") + body)


class ChunkedBody:
    """A body in chunks (RFC 9112, 7.1), heard as it is read; what comes behind its last chunk is not."""

    def __init__(self, line: BinaryIO) -> None:
        self._line, self._left, self._ended = line, 0, False

    def read(self, size: int) -> bytes:
        """So many bytes, fewer at the end. Raises OSError for one that is cut or not in chunks."""
        data = bytearray()
        while len(data) < size and not self._is_over():
            piece = self._line.read(min(size - len(data), self._left))
            data += piece
            self._left -= len(piece)
            if not piece or (self._left == 0 and self._line.read(2) != b"\r\n"):
                raise OSError("the chunk does not end where it should")
        return bytes(data)

    def _is_over(self) -> bool:
        if self._left == 0 and not self._ended:
            said = CHUNK_LINE.fullmatch(self._line.readline(MOST_CHUNK_LINE_BYTES))
            if said is None:
                raise OSError("no length where a chunk should begin")
            self._left = int(said[1], 16)
            self._ended = self._left == 0
        return self._ended


def piece_by_piece(app: Any) -> Any:
    """The same app, which hears a chunked body as it reads: cheroot would hold each chunk as a whole, however long it says it is."""

    def hear(environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
        body = environ["wsgi.input"]
        if isinstance(body, ChunkedRFile):
            environ["wsgi.input"] = ChunkedBody(body.rfile)
        return app(environ, start_response)

    return hear
