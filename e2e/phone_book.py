"""What lies in a phone's own database and in the server's, in one form, so that a test can hold them side by side."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from barnlight.config import Config
from barnlight.store import changes, records, spaces, verify
from barnlight.store.blobs import DiskBlobs
from barnlight.store.engine import Database
from hands import wait_until
from playwright.sync_api import Page

READ = """async () => {
  const opening = indexedDB.open("barnlight");
  const db = await new Promise((done, failed) => { opening.onsuccess = () => done(opening.result); opening.onerror = () => failed(opening.error); });
  const all = (table, ask) => new Promise((done, failed) => {
    const request = db.transaction(table).objectStore(table)[ask]();
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
  const [changes, records, outbox, uploads, refused, files] = await Promise.all([all("changes", "getAll"), all("records", "getAll"),
    all("outbox", "count"), all("uploads", "count"), all("refused", "getAll"), all("media", "getAllKeys")]);
  db.close();
  return { changes, records, waiting: outbox + uploads, refused, files };
}"""


@dataclass(frozen=True)
class Book:
    """Changes by id, the fields of records by id, how much waits to be sent, and the hashes of the files that are there."""

    changes: dict[str, dict[str, Any]]
    records: dict[str, dict[str, Any]]
    waiting: int
    files: set[str]


def of_phone(page: Page) -> Book:
    """What this phone holds."""
    found = page.evaluate(READ)
    assert found["refused"] == [], "the server takes what the app writes"
    return Book({change["id"]: change for change in found["changes"]}, {record["id"]: record["fields"] for record in found["records"]},
                found["waiting"], set(found["files"]))


def wait_until_held(page: Page, words: str) -> None:
    """Until some field of this phone's book says just that."""
    says = f"async (words) => (await ({READ})()).records.some(({{ fields }}) => Object.values(fields).some(({{ value }}) => value === words))"
    wait_until(page, says, words)


def of_server(data: Path) -> Book:
    """What the server's folder holds; checks by the server's own means that it is whole, and every file against its hash."""
    config = Config(data_dir=data)
    database, blobs = Database(config.database), DiskBlobs(config.media_dir)
    try:
        with database.read() as db:
            space = spaces.first(db)
            assert space is not None
            assert list(verify.faults(db, blobs, space)) == []
            history = changes.every(db, space.id)
            held = {record["id"]: record["fields"] for record in records.load(db, space.id)}
            files = {sha256 for of, sha256, *_ in blobs.every() if of == space.id}
            assert all(hashlib.sha256(blobs.read(space.id, sha256)).hexdigest() == sha256 for sha256 in files)
    finally:
        database.close()
    assert len({change["id"] for change in history}) == len(history), "each change exactly once"
    assert [change["number"] for change in history] == list(range(1, len(history) + 1))
    return Book({change["id"]: change for change in history}, held, 0, files)


def named_files(book: Book) -> set[str]:
    """The hashes that photos name."""
    return {fields["file"]["value"]["hash"] for fields in book.records.values() if isinstance(fields.get("file", {}).get("value"), dict)}
