"""Two books on one server, and how to look across the wall: what B holds, what A may ask, and an answer without its own ids."""

from __future__ import annotations

import re
import secrets
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
from flask import Flask
from phones import FROM_APP, Phone, sha256
from report_bundle import Book, plant_everything
from sqlalchemy import ColumnElement, Table, select
from werkzeug.test import TestResponse

from barnlight.media.audio import to_wav
from barnlight.services import Services
from barnlight.store import devices, spaces
from barnlight.store.models import Base, PairCode, Publication, Space

SIZE = 20_000  # samples of every sound here: no answer may differ by its size
# What an answer may hold that is another each time: ids, hashes, codes, links' secrets, tags of a version.
BY_CHANCE = re.compile(r"[0-9a-f]{32,64}|\b[2-9A-HJ-NP-Z]{4}-[2-9A-HJ-NP-Z]{4}\b|/r/[\w-]{32}/|barnlight=[\w-]{43}; Expires=[^;]+|\"[01]{29}\"")


def a_sound() -> bytes:
    """Noise of one size, no two alike."""
    return to_wav(np.random.default_rng(secrets.randbits(64)).normal(0, 0.01, SIZE), 48_000)


@dataclass
class Target:
    """What a device of another book tries to get at: things of the other book, or such as exist nowhere."""

    space: str
    device: str
    epoch: str
    session: str
    piece: str
    photo: str
    change: str
    seller: str
    erased: str
    publication: str
    link: str
    file: bytes  # a sound, kept
    begun: bytes  # a sound of which 500 bytes have arrived
    words: list[str] = field(default_factory=list)  # that no answer may hold

    @property
    def hash(self) -> str:
        return sha256(self.file)


def nowhere() -> Target:
    """Things of the right form that no book holds."""
    ids = {name: secrets.token_hex(16) for name in Target.__dataclass_fields__ if name not in ("file", "begun", "words")}
    return Target(**ids, file=a_sound(), begun=a_sound())


def new_book(app: Flask, name: str) -> Phone:
    """The one device of a new book."""
    services: Services = app.extensions["barnlight"]
    with services.database.write() as db:
        code, _ = devices.make_code(db, spaces.make(db, name, services.now_ms()).id, services.now_ms())
    return Phone(app, f"Phone of {name}").pair(code)


def full_book(app: Flask) -> tuple[Target, Phone]:
    """A book with everything in it: records, history, files, half a file, a report with its link, and something erased."""
    phone = new_book(app, "Shop next door")
    made = plant_everything(Book(phone))
    report = phone.post("/api/reports", {"session": made["session"], "recipient": "Recipient next door"}).json
    shown = phone.get(f"/api/reports?session={made['session']}").json[0]
    gone, file, begun = secrets.token_hex(16), a_sound(), a_sound()
    phone.push(phone.edit("session", gone, "title", "Erased next door"))
    assert phone.post("/api/erase", {"kind": "session", "id": gone, "dry_run": False}).status_code == 200
    assert phone.put_media(file, "audio/wav").status_code == 200
    headers = {**FROM_APP, "X-Offset": "0", "X-Total": str(len(begun))}
    assert phone.http.put(f"/api/media/{sha256(begun)}", data=begun[:500], content_type="audio/wav", headers=headers).json["bytes"] == 500
    held = phone.pull()
    first = {change["kind"]: change for change in reversed(held["changes"])}
    words = ["next door", "planted", "Lens of nobody", "Shutter cleaned", report["link"].rstrip("/").rsplit("/", 1)[1]]
    target = Target(
        space=phone.space, device=phone.device, epoch=held["epoch"], session=made["session"], piece=made["piece"], photo=first["photo"]["record"],
        change=first["session"]["id"], seller=first["seller"]["record"], erased=gone, publication=report["publication"],
        link=shown["links"][0]["id"], file=file, begun=begun, words=words,
    )  # fmt: skip
    return target, phone


def all_of(services: Services, space: str) -> tuple[dict[str, list[Any]], dict[str, bytes]]:
    """Every row and every byte that a book holds."""
    rows = {}
    with services.database.read() as db:
        for table in Base.metadata.sorted_tables:
            if table is PairCode.__table__:
                continue  # those that ran out are cleared away by whoever makes the next
            rows[table.name] = sorted(map(repr, db.execute(select(table).where(_is_of(table, space)))))
    files: list[Path] = [path for path in services.config.media_dir.rglob("*") if path.is_file() and space in path.parts]
    return rows, {str(path): path.read_bytes() for path in files}


def _is_of(table: Table, space: str) -> ColumnElement[bool]:
    """Whether a row belongs to the book: by itself, or by the report that it is about."""
    if "space" in table.c:
        return table.c.space == space
    if "publication" in table.c:
        return table.c.publication.in_(select(Publication.id).where(Publication.space == space))
    assert table is Space.__table__, f"how does a row of {table.name} belong to a book?"
    return table.c.id == space


def said(answer: TestResponse) -> tuple[int, dict[str, str], str]:
    """All that an answer tells, with everything that is another each time made alike."""
    headers = {name: BY_CHANCE.sub("#", value) for name, value in answer.headers.items() if name != "Date"}
    return answer.status_code, headers, BY_CHANCE.sub("#", answer.data.decode("latin-1"))
