"""Who may enter: one-time codes, the tokens they are exchanged for, and the list of devices."""

from __future__ import annotations

import hashlib
import secrets
from typing import Literal

from sqlalchemy import Row, bindparam, select
from sqlalchemy.orm import Session

from barnlight.store.engine import Database
from barnlight.store.models import Device, PairCode
from barnlight.store.prepared import Prepared

# No 0 O 1 I L: read aloud or typed from a screen, each is taken for another.
ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
CODE_LENGTH = 8
CODE_MS = 15 * 60 * 1000
SEEN_EVERY_MS = 60 * 60 * 1000

Refusal = Literal["unknown", "used", "expired"]


def make_code(db: Session, space: str, now_ms: int) -> tuple[str, int]:
    """A new code for one device, shown as XXXX-XXXX, and the moment it runs out. Old codes are cleared away."""
    for old in db.scalars(select(PairCode).where(PairCode.expires_ms < now_ms - CODE_MS)):
        db.delete(old)
    code = "".join(secrets.choice(ALPHABET) for _ in range(CODE_LENGTH))
    db.add(PairCode(code_hash=_hash(code), space=space, expires_ms=now_ms + CODE_MS))
    return f"{code[:4]}-{code[4:]}", now_ms + CODE_MS


def redeem(db: Session, typed: str, device: str, name: str, now_ms: int) -> tuple[str, Device] | Refusal:
    """Exchange a code, typed with or without dash and in any case, for the device's token. A code works once.

    A device that was in the space before gets a new token; its old one stops working.
    """
    code = db.get(PairCode, _hash("".join(typed.upper().replace("-", " ").split())), with_for_update=True)
    if code is None:
        return "unknown"
    if code.used_ms is not None:
        return "used"
    if now_ms >= code.expires_ms:
        return "expired"
    code.used_ms = now_ms
    token = secrets.token_urlsafe(32)
    entry = Device(space=code.space, id=device, name=name, token_hash=_hash(token), paired_ms=now_ms, seen_ms=now_ms, revoked_ms=None)
    return token, db.merge(entry)


# Asked before every request.
_BY_TOKEN = Prepared(
    select(Device.space, Device.id, Device.name, Device.seen_ms).where(Device.token_hash == bindparam("token_hash"), Device.revoked_ms.is_(None))
)


def by_token(database: Database, token: str) -> Row | None:
    """Space, id, name and `seen_ms` of the device that holds this token, unless it was revoked."""
    with database.engine.connect() as line:  # a session would cost more than the question
        return next(iter(_BY_TOKEN.rows(line, token_hash=_hash(token))), None)


def is_stale(device: Row, now_ms: int) -> bool:
    """Whether the moment it was last seen is worth writing down again."""
    return now_ms - device.seen_ms >= SEEN_EVERY_MS


def seen(db: Session, space: str, device: str, now_ms: int) -> None:
    """Note that the device was here."""
    db.get_one(Device, (space, device)).seen_ms = now_ms


def of_space(db: Session, space: str) -> list[Device]:
    """The devices that may enter, the oldest first."""
    rows = select(Device).where(Device.space == space, Device.revoked_ms.is_(None)).order_by(Device.paired_ms, Device.id)
    return list(db.scalars(rows))


def rename(db: Session, space: str, device: str, name: str) -> bool:
    """Call the device otherwise in the list; False if it is not in the space."""
    entry = _inside(db, space, device)
    if entry is None:
        return False
    entry.name = name
    return True


def revoke(db: Session, space: str, device: str, now_ms: int) -> bool:
    """Shut the device out from now on; False if it is not in the space."""
    entry = _inside(db, space, device)
    if entry is None:
        return False
    entry.revoked_ms = now_ms
    return True


def _inside(db: Session, space: str, device: str) -> Device | None:
    entry = db.get(Device, (space, device))
    return None if entry is None or entry.revoked_ms is not None else entry


def _hash(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()
