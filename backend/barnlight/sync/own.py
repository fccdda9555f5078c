"""Changes the server itself makes, such as naming a report it has published."""

from __future__ import annotations

import secrets
from typing import Any

from sqlalchemy.orm import Session

from barnlight.domain import clock
from barnlight.store import records, spaces
from barnlight.sync.push import push_into

AUTHOR = "server"


def write(db: Session, space: str, kind: str, record: str, values: dict[str, Any], now_ms: int) -> None:
    """Give fields of one record values, as ordinary changes that every device pulls. `db` must be open for writing.

    Raises ValueError if the catalogue does not allow a value: that is a fault of the server.
    """
    db.flush()  # what the caller has added comes before it
    book = spaces.lock(db, space)
    held = next((found["fields"] for found in records.load(db, space, ids=[record])), {})
    stamp = book.clock
    made = []
    for field, value in values.items():
        stamp = clock.tick(stamp, now_ms, book.id)  # the space's own id stands for the server's device
        made.append({
            "id": secrets.token_hex(16), "space": space, "kind": kind, "record": record, "field": field, "value": value, "stamp": stamp,
            "base": held.get(field, {}).get("change"), "settles": [], "device": book.id, "author": AUTHOR, "schema": 1,
        })
    refused = [result for result in push_into(db.connection(), space, book.id, made, now_ms, by_server=True)[1] if result["result"] != "ok"]
    if refused:
        raise ValueError(refused[0].get("message", refused[0]["result"]))
