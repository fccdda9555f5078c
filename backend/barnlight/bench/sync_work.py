"""What a phone pushes while its costs are measured: sessions with their pieces, and one check answered anew."""

from __future__ import annotations

import secrets
import time
from typing import Any

from barnlight.bench.sync_server import Caller
from barnlight.domain import clock

BATCH = 500
CHECK = "lens.glass.haze"


class Maker:
    """One device that makes changes the way the app does; everything in them is invented."""

    def __init__(self, caller: Caller) -> None:
        self.caller = caller
        self._stamp: str | None = None
        self._answer, self._base = "", None
        self._waiting: list[dict[str, Any]] = []

    def sessions(self, count: int) -> None:
        """Sales with a lens each, looked at and one check answered."""
        for number in range(count):
            session, piece, visit, answer = (secrets.token_hex(16) for _ in range(4))
            self._record("session", session, title=f"Sale {number}", day="2026-05-02")
            self._record("piece", piece, kind="lens", title=f"Lens {number}")
            self._record("visit", visit, session=session, piece=piece)
            self._record("answer", answer, visit=visit, check=CHECK, place="", result=_result(0))
            self._answer, self._base = answer, self._waiting[-1]["id"]
            if len(self._waiting) >= BATCH - 10:
                self._send()
        self._send()

    def changes(self, count: int) -> None:
        """That many changes, in records of ten fields or so."""
        for start in range(0, count, 10):
            record = secrets.token_hex(16)
            for number in range(start, min(start + 10, count)):
                self._waiting.append(self._change("answer", record, "result", _result(number), None))
            if len(self._waiting) >= BATCH - 10:
                self._send()
        self._send()

    def check_answered(self) -> dict[str, Any]:
        """A person answers one check anew: what the phone then has to push."""
        change = self._change("answer", self._answer, "result", _result(time.time_ns() % 1_000_000), self._base)
        self._base = change["id"]
        return {"epoch": None, "changes": [change]}

    def push(self, body: dict[str, Any]) -> tuple[int, int]:
        """Push it. Returns the bytes there and back."""
        said, sent, got = self.caller.post("/api/changes", body)
        [result] = said["results"]
        assert result["result"] == "ok", result
        return sent, got

    def _record(self, kind: str, record: str, /, **values: Any) -> None:
        self._waiting += [self._change(kind, record, field, value, None) for field, value in values.items()]

    def _send(self) -> None:
        if self._waiting:
            said = self.caller.post("/api/changes", {"epoch": None, "changes": self._waiting})[0]
            refused = [result for result in said["results"] if result["result"] != "ok"]
            assert not refused, refused[0]
            self._waiting = []

    def _change(self, kind: str, record: str, field: str, value: Any, base: str | None) -> dict[str, Any]:
        self._stamp = clock.tick(self._stamp, time.time_ns() // 1_000_000, self.caller.device)
        return {"id": secrets.token_hex(16), "space": self.caller.space, "kind": kind, "record": record, "field": field, "value": value,
                "stamp": self._stamp, "base": base, "settles": [], "device": self.caller.device, "author": "Bench", "schema": 1}


def _result(number: int) -> dict[str, Any]:
    return {"outcome": "in_order", "at": {"ms": 1_780_000_000_000 + number, "offset_min": 0}}
