"""Writes one session, or the whole book, with its whole history in the open export format: into a folder or one zip."""

from __future__ import annotations

import json
import os
import tempfile
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from sqlalchemy.orm import Session

from barnlight import __version__
from barnlight.errors import Conflict, NotFound, NotReady
from barnlight.exchange.form import DOCUMENT, FORMAT, SUFFIX, VERSION, is_own_name, media_name
from barnlight.services import Services
from barnlight.store import changes as history
from barnlight.store import records
from barnlight.store.kinds import declared

Document = dict[str, Any]


def export_session(services: Services, space: str, session: str, folder: Path) -> Document:
    """Write the export into `folder` (made if missing) and return its document. Private fields are in it: it is the person's own.

    Files that never reached this server are listed in the document and missing in the folder. Raises NotFound.
    """
    document = document_of(services, space, session)
    (folder / "media").mkdir(parents=True, exist_ok=True)
    _write(services, space, document, lambda name, data: (folder / name).write_bytes(data))
    return document


def export_zip(services: Services, space: str, path: Path, session: str | None = None) -> Document:
    """The same into one zip, of one session or of all there is. Raises NotFound, Conflict or NotReady; then there is no new file."""
    if path.exists():
        raise Conflict(f"{path} is there already; an export never overwrites.", hint="Choose another name.")
    document = document_of(services, space, session)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=path.parent, prefix=".barnlight-export-") as work:
            unnamed = Path(work) / "export.zip"
            unnamed.touch(mode=0o600)  # private notes are in it
            with unnamed.open("wb") as stream:
                with zipfile.ZipFile(stream, "w") as archive:
                    _write(services, space, document, lambda name, data: _add(archive, name, data))
                stream.flush()
                os.fsync(stream.fileno())
            unnamed.replace(path)
    except OSError as error:
        raise NotReady(f"The export {path} could not be written: {error.strerror}.", hint="Choose another folder or make room there.") from None
    return document


def document_of(services: Services, space: str, session: str | None) -> Document:
    """What an export of one session, or of the whole book, says. Raises NotFound."""
    with services.database.read() as db:
        if session is None:
            made = history.every(db, space)
        elif found := _reached(db, space, session):
            made = history.of_records(db, space, sorted(found))
        else:
            raise NotFound("There is no such session here.")
    return {
        "format": FORMAT, "version": VERSION, "made_by": f"Barnlight {__version__}",
        "about": "A whole book" if session is None else "One session with all that belongs to it",
        "changes": [{name: value for name, value in change.items() if name != "number"} for change in made],
        "media": _media(made),
    }


def _write(services: Services, space: str, document: Document, add: Callable[[str, bytes], object]) -> None:
    """The files before the document, one at a time in memory."""
    for entry in document["media"]:
        if services.blobs.has(space, entry["hash"]):
            add(media_name(entry), services.blobs.read(space, entry["hash"]))
    add(DOCUMENT, json.dumps(document, ensure_ascii=False, indent=1).encode())


def _add(archive: zipfile.ZipFile, name: str, data: bytes) -> None:
    archive.writestr(name, data, zipfile.ZIP_DEFLATED if name == DOCUMENT else zipfile.ZIP_STORED)


def _reached(db: Session, space: str, session: str) -> set[str]:
    """The session, its seller, its looks and deals, their pieces and all that hangs on these, taken off or not.

    A look at the same piece in another session is that session's. Empty if there is no such session.
    """
    first = records.load(db, space, "session", [session])
    if not first:
        return set()
    kinds = [kind for kind, shape in declared()["kinds"].items() if not shape.get("server_only")]
    in_it = records.children(db, space, [session], kinds)
    pieces = records.load(db, space, "piece", records.named(map(records.plain, in_it), "piece"))
    found = {session, *(seller["id"] for seller in records.load(db, space, "seller", records.named(map(records.plain, first), "seller")))}
    newest = {record["id"] for record in in_it + pieces} - found
    while newest:
        found |= newest
        newest = {child["id"] for child in records.children(db, space, newest, [kind for kind in kinds if kind != "visit"])} - found
    return found


def _media(made: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Every photo and sound that the changes name, each once, in the order of their hashes."""
    drawn = {change["record"] for change in made if (change["field"], change["value"]) == ("origin", "made_by_code")}
    files = {}
    for change in made:
        file = change["value"]
        # A field of this name may be a newer app's, and hold anything.
        if change["field"] == "file" and isinstance(file, dict) and file.get("type") in SUFFIX and is_own_name(media_name(file)):
            files[file["hash"]] = {"hash": file["hash"], "type": file["type"], "bytes": file.get("bytes"), "made_by_code": change["record"] in drawn}
    return [entry for _, entry in sorted(files.items())]
