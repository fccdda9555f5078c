"""A TLS socket that knows how far its client lags behind: what a worker waits with it beyond what the bytes moved are worth."""

from __future__ import annotations

import ssl
import time
from collections.abc import Callable
from typing import Any

# A phone on a poor line still moves some 40 kB a second (own judgement); who moves less keeps a worker waiting.
LEAST_BYTES_A_SECOND = 32 * 1024
# Written so much at a time, each with the whole of the silence allowed: one answer of many megabytes may take longer than that.
PIECE_BYTES = 64 * 1024


class PacedSocket(ssl.SSLSocket):
    """Only waiting for the client counts, whatever the app takes; moving much does not earn a rest."""

    _waits_since: float | None = None
    _behind_s = 0.0

    def start_pace(self) -> None:
        """A new turn begins: what was before does not count."""
        self._behind_s = 0.0

    @property
    def lags_s(self) -> float:
        """How far behind the client is now; nothing while it is not waited for. May be asked from any thread."""
        since = self._waits_since
        return 0.0 if since is None else self._behind_s + time.monotonic() - since

    def do_handshake(self, block: bool = False) -> None:
        self._paced(super().do_handshake, block)

    def read(self, len: int = 1024, buffer: Any = None) -> Any:  # noqa: A002 - the library's own name
        """Every way of receiving ends here."""
        return self._paced(super().read, len, buffer)

    def send(self, data: Any, flags: int = 0) -> int:
        """All of it."""
        with memoryview(data) as view:
            for start in range(0, len(view), PIECE_BYTES):
                with view[start : start + PIECE_BYTES] as piece:
                    self._paced(super().send, piece, flags)
            return len(view)

    def _paced(self, move: Callable[..., Any], *given: Any) -> Any:
        self._waits_since, moved = time.monotonic(), 0
        try:
            done = move(*given)
            moved = done if isinstance(done, int) else len(done or b"")
            return done
        finally:
            self._behind_s = max(0.0, self.lags_s - moved / LEAST_BYTES_A_SECOND)
            self._waits_since = None
