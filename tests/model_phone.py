"""The protocol as a phone keeps it, in memory: what the machine of test_sync_machine.py runs three of."""

from __future__ import annotations

import random
from collections.abc import Callable
from io import BytesIO
from typing import Any

from phones import change_of, sha256
from PIL import Image

from barnlight.domain import clock

LONGEST_TITLE = 120  # records.json; a longer one is refused


def picture(number: int) -> bytes:
    """A small JPEG of noise, the same for the same number."""
    out = BytesIO()
    Image.frombytes("RGB", (24, 16), random.Random(number).randbytes(24 * 16 * 3)).save(out, "JPEG")
    return out.getvalue()


class ModelPhone:
    """History, outbox, cursor and clock, saved together; photos until they are confirmed, and longer if wished."""

    def __init__(self, space: str, device: str, seed: int) -> None:
        self.space, self.device = space, device
        self.random = random.Random(seed)
        self.history: dict[str, dict[str, Any]] = {}
        self.outbox: list[str] = []
        self.refused: set[str] = set()
        self.cursor, self.clock = 0, None
        self.wall_offset_ms = 0
        self.photos: dict[str, bytes] = {}
        self.waiting: list[str] = []
        self.confirmed: set[str] = set()

    def of_field(self, record: str, field: str) -> list[dict[str, Any]]:
        return [change for change in self.history.values() if (change["record"], change["field"]) == (record, field)]

    def winner(self, record: str, field: str) -> dict[str, Any] | None:
        return max(self.of_field(record, field), key=lambda change: (change["stamp"], change["id"]), default=None)

    def edit(self, record: str, field: str, value: Any, now_ms: int, number: int, kind: str = "piece") -> dict[str, Any]:
        seen = self.winner(record, field)
        self.clock = clock.tick(self.clock, now_ms + self.wall_offset_ms, self.device)
        made = change_of(self.space, self.device, self.clock, kind, record, field, value, id=f"{number:032x}", base=seen and seen["id"])
        self.history[made["id"]] = made
        self.outbox.append(made["id"])
        return made

    def batch(self) -> list[dict[str, Any]]:
        """What waits, the oldest first."""
        return [self.history[change] for change in self.outbox]

    def told(self, results: list[dict[str, Any]]) -> None:
        for result in results:
            change = self.history[result["id"]]
            is_bad = isinstance(change["value"], str) and len(change["value"]) > LONGEST_TITLE
            assert result["result"] in (("refused",) if is_bad else ("ok", "duplicate")), result
            if is_bad:
                self.refused.add(change["id"])
            if "stamp" in result:
                self.history[result["id"]] = {**change, "stamp": result["stamp"]}
            if result["id"] in self.outbox:
                self.outbox.remove(result["id"])
        if not self.outbox:  # the one moment a clock may be lowered: to the largest stamp held
            self.clock = max((change["stamp"] for change in self.history.values()), default=self.clock)

    def received(self, page: dict[str, Any], now_ms: int) -> None:
        for change in page["changes"]:
            self.history.setdefault(change["id"], {name: value for name, value in change.items() if name != "number"})  # as the app: what is known stays
            self.clock = clock.receive(self.clock, change["stamp"], now_ms + self.wall_offset_ms, self.device)
        self.cursor = page["next"]

    def keep_photo(self, data: bytes) -> str:
        self.photos[sha256(data)] = data
        self.waiting.append(sha256(data))
        return sha256(data)

    def upload(self, put: Callable[[str, bytes], bool]) -> None:
        """Send the oldest photo that waits; only the server's word that it is kept counts."""
        if self.waiting and put(self.waiting[0], self.photos[self.waiting[0]]):
            self.confirmed.add(self.waiting.pop(0))

    def free(self) -> None:
        """The person wants the room: what is confirmed goes."""
        for photo in self.confirmed & self.photos.keys():
            del self.photos[photo]
