"""Writes one session, with all that belongs to it and its whole history, in the open export format."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from sqlalchemy.orm import Session

from barnlight import __version__
from barnlight.errors import NotFound
from barnlight.exchange.form import DOCUMENT, FORMAT, VERSION, media_path
from barnlight.services import Services
from barnlight.store import changes as history
from barnlight.store import records


def export_session(services: Services, space: str, session: str, folder: Path) -> dict[str, Any]:
    """Write the export into `folder` (made if missing) and return its document. Private fields are in it: it is the person's own.

    Files that never reached this server are listed in the document and missing in the folder. Raises NotFound.
    """
    with services.database.read() as db:
        found = _reached(db, space, session)
        if not found:
            raise NotFound("There is no such session here.")
        made = history.of_records(db, space, [record["id"] for record in found])
    files = {record["file"]["hash"]: record for record in found if record.get("file")}
    document = {
        "format": FORMAT, "version": VERSION, "made_by": f"Barnlight {__version__}", "about": "One session with all that belongs to it",
        "changes": [{name: value for name, value in change.items() if name != "number"} for change in made],
        "media": [_listed(record) for _, record in sorted(files.items())],
    }
    (folder / "media").mkdir(parents=True, exist_ok=True)
    for entry in document["media"]:
        if services.blobs.has(space, entry["hash"]):
            media_path(folder, entry).write_bytes(services.blobs.read(space, entry["hash"]))
    (folder / DOCUMENT).write_text(json.dumps(document, ensure_ascii=False, indent=1), encoding="utf-8")
    return document


def _reached(db: Session, space: str, session: str) -> list[dict[str, Any]]:
    """The plain records of the session, its deals and dealings, and its seller."""
    by_kind = records.of_session(db, space, session)
    if not by_kind:
        return []
    pieces = [piece["id"] for piece in by_kind.get("piece", [])]
    own = records.children(db, space, [session, *pieces], ["deal", "dealing"])
    sellers = records.load(db, space, "seller", [each["seller"] for each in by_kind["session"] if each.get("seller")])
    return [record for some in by_kind.values() for record in some] + [records.plain(record) for record in own + sellers]


def _listed(record: dict[str, Any]) -> dict[str, Any]:
    file = record["file"]
    return {"hash": file["hash"], "type": file["type"], "bytes": file["bytes"], "made_by_code": record.get("origin") == "made_by_code"}
