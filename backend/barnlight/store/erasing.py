"""Takes records out of the store for good: history, records, reports that show them, and the photos and sounds only they name."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, bindparam, delete, insert, select
from sqlalchemy.orm import Session

from barnlight.store import records
from barnlight.store.batches import AT_ONCE, Among, in_batches
from barnlight.store.kinds import declared, owned_by
from barnlight.store.models import Change, Erased, Evidence, Media, Parent, Publication, Record, ShareLink

KINDS = ("session", "seller")


@dataclass
class Reach:
    """What one erasure takes: `records` is {id: kind}; `loose` are records that stay but name one of them."""

    space: str
    records: dict[str, str]
    changes: int = 0
    reports: list[dict[str, Any]] = field(default_factory=list)
    links: int = 0
    media: dict[str, int] = field(default_factory=dict)  # hash: bytes
    named: set[str] = field(default_factory=set)  # hashes that nothing else names, also of files that are not here yet
    loose: list[dict[str, Any]] = field(default_factory=list)


def belonging(db: Session, space: str, kind: str, record: str) -> dict[str, str]:
    """The session or seller with all that belongs to it, as {id: kind}: for a session also the pieces met nowhere else."""
    found = _with_children(db, space, {one: kind for one in (_same_person(db, space, record) if kind == "seller" else [record])})
    if kind == "session":
        pieces = _pieces_of(db, space, found)
        visits = records.children(db, space, pieces, ["visit"])
        elsewhere = {records.plain(visit).get("piece") for visit in visits if visit["id"] not in found}
        found = _with_children(db, space, {**found, **{piece: "piece" for piece in pieces if piece not in elsewhere}})
    return found


def reach(db: Session, space: str, chosen: dict[str, str]) -> Reach:
    """All that goes with these records; nothing is done yet."""
    going = Reach(space, dict(chosen))
    named = {sha256 for change in _files(db, space) if change.record in chosen for sha256 in _hash_in(change)}
    named -= {sha256 for change in _files(db, space) if change.record not in chosen for sha256 in _hash_in(change)}
    going.named = named
    shown_in = {*chosen, *_pieces_of(db, space, chosen)}
    columns = select(Publication.id, Publication.title, Publication.version, Publication.about, Publication.media)
    for row in db.execute(columns.where(Publication.space == space).order_by(Publication.published_ms)):
        if row.about in shown_in or named.intersection(row.media):
            going.reports.append({"id": row.id, "title": row.title, "version": row.version})
            going.records[row.id] = "publication"
    going.links = len(list(in_batches(db, select(ShareLink.id), ShareLink.publication, [report["id"] for report in going.reports])))
    going.changes = len(list(in_batches(db, select(Change.number).where(Change.space == space), Change.record, going.records)))
    going.media = {row.hash: row.bytes for row in in_batches(db, select(Media).where(Media.space == space), Media.hash, named)}
    going.loose = _loose(db, space, going.records)
    return going


def carry_out(db: Session, going: Reach, now_ms: int) -> None:
    """Delete the rows and remember the ids. The bytes come off the disk after the transaction, by `DiskBlobs.remove`."""
    space, ids = going.space, list(going.records)
    numbers: dict[str, list[int]] = {record: [] for record in ids}
    for start in range(0, len(ids), AT_ONCE):
        some = ids[start : start + AT_ONCE]
        for record, number in db.execute(select(Change.record, Change.number).where(Change.space == space, Change.record.in_(some))):
            numbers[record].append(number)
        db.execute(delete(Change).where(Change.space == space, Change.record.in_(some)))
        db.execute(delete(Parent).where(Parent.space == space, Parent.child.in_(some)))
        db.execute(delete(Record).where(Record.space == space, Record.id.in_(some)))
    for report in going.reports:
        db.execute(delete(ShareLink).where(ShareLink.publication == report["id"]))
        db.execute(delete(Evidence).where(Evidence.publication == report["id"]))
        db.execute(delete(Publication).where(Publication.id == report["id"]))
    for sha256 in going.media:
        db.execute(delete(Media).where(Media.space == space, Media.hash == sha256))
    remember(db, space, going.records, now_ms, numbers)


def remember(db: Session, space: str, gone: dict[str, str], now_ms: int, numbers: dict[str, list[int]] | None = None) -> None:
    """Note that these records ({id: kind}) may never come back; those noted before stay as they are."""
    known = erased_among(db.connection(), space, gone)
    rows = [
        {"space": space, "record": record, "kind": kind, "erased_ms": now_ms, "numbers": (numbers or {}).get(record, [])}
        for record, kind in gone.items() if record not in known
    ]
    if rows:
        db.execute(insert(Erased), rows)


_ERASED = Among(select(Erased.record).where(Erased.space == bindparam("space")), Erased.record)


def erased_among(line: Connection, space: str, ids: Iterable[str]) -> set[str]:
    """Those of the ids that were erased."""
    return {row.record for row in _ERASED.rows(line, ids, space=space)}


def gone_parents(line: Connection, space: str, changes: Sequence[dict[str, Any]]) -> set[str]:
    """The erased records that these changes would hang something on."""
    return erased_among(line, space, [one["value"] for one in changes if hangs(one)])


def hangs(change: dict[str, Any]) -> bool:
    """Whether the change says to what other record its own belongs."""
    return isinstance(change["value"], str) and change["field"] in owned_by(change["kind"])


def swept_along(db: Session, space: str, changes: Sequence[dict[str, Any]], gone: set[str]) -> dict[str, str]:
    """Records that a batch would begin as part of what is `gone`, as {id: kind}: made by somebody who did not know yet."""
    swept: dict[str, str] = {}
    while new := {one["record"]: one["kind"] for one in changes if hangs(one) and one["record"] not in swept and one["value"] in gone | swept.keys()}:
        swept |= new
    placed = {record["id"] for record in records.load(db, space, ids=swept) if record["fields"].keys() & set(owned_by(record["kind"]))}
    return {record: kind for record, kind in swept.items() if record not in placed}


def _with_children(db: Session, space: str, found: dict[str, str]) -> dict[str, str]:
    """Everything that belongs to these, over any number of steps."""
    newest, later = found, _of_later_kinds(db, space)
    while newest:
        query = select(Parent.child, Parent.field, Record.kind).join(Record, (Record.space == Parent.space) & (Record.id == Parent.child))
        ids, below = list(newest), {child: kind for child, kind, named in later if named in newest}
        for start in range(0, len(ids), AT_ONCE):
            for child, name, kind in db.execute(query.where(Parent.space == space, Parent.parent.in_(ids[start : start + AT_ONCE]))):
                if name in owned_by(kind):
                    below[child] = kind
        newest = {child: kind for child, kind in below.items() if child not in found}
        found = found | newest
    return found


def _of_later_kinds(db: Session, space: str) -> list[tuple[str, str, str]]:
    """(record, kind, what a value of it names) of kinds that only newer apps know: which of their fields name a parent cannot be told."""
    rows = db.execute(select(Change.record, Change.kind, Change.value).where(Change.space == space, Change.deferred))
    return [(record, kind, value) for record, kind, value in rows if kind not in declared()["kinds"] and isinstance(value, str)]


def _same_person(db: Session, space: str, seller: str) -> set[str]:
    """The seller with all entries that were found to be the same person."""
    pairs = [(record["id"], records.plain(record).get("same_as")) for record in records.load(db, space, "seller")]
    same = {seller}
    while new := {other for pair in pairs if same & set(pair) for other in pair if other} - same:
        same |= new
    return same


def _pieces_of(db: Session, space: str, found: dict[str, str]) -> list[str]:
    """The pieces that the visits among these looked at."""
    visits = records.load(db, space, ids=[record for record, kind in found.items() if kind == "visit"])
    return sorted({piece for visit in visits if (piece := records.plain(visit).get("piece"))})


def _loose(db: Session, space: str, gone: dict[str, str]) -> list[dict[str, Any]]:
    """Sales that stay, though their seller goes: the person looks whether their own words name the seller."""
    found = records.children(db, space, [record for record, kind in gone.items() if kind == "seller"], ["session"])
    stays = [records.plain(session) for session in found if session["id"] not in gone]
    return [{"id": session["id"], "kind": "session", "title": session.get("title") or session.get("place") or ""} for session in stays]


def _files(db: Session, space: str) -> list[Change]:
    """Every change that names a photo or sound, also those overtaken since."""
    return list(db.scalars(select(Change).where(Change.space == space, Change.field == "file")))


def _hash_in(change: Change) -> list[str]:
    named = change.value.get("hash") if isinstance(change.value, dict) else None
    return [named] if isinstance(named, str) else []
