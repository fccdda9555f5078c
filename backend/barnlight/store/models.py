"""The tables: spaces and who may enter them, the history of changes, the records they add up to, media, reports."""

from __future__ import annotations

from typing import Any

from sqlalchemy import JSON, BigInteger, Boolean, ForeignKey, ForeignKeyConstraint, Index, Integer, LargeBinary, String, UniqueConstraint
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

ID = String(32)
SHA256 = String(64)


class Base(DeclarativeBase):
    """All tables; moments are UTC milliseconds."""

    type_annotation_map = {dict[str, Any]: JSON, list[Any]: JSON}


class Space(Base):
    """One book of records, sealed from the others. Its row is the lock of its history."""

    __tablename__ = "spaces"
    id: Mapped[str] = mapped_column(ID, primary_key=True)
    name: Mapped[str] = mapped_column(String(120))
    epoch: Mapped[str] = mapped_column(ID)
    last_number: Mapped[int] = mapped_column(BigInteger, default=0)
    clock: Mapped[str | None] = mapped_column(String(64))  # the latest stamp the space has accepted
    created_ms: Mapped[int] = mapped_column(BigInteger)


class Device(Base):
    """A phone or browser that may enter a space by its token, which only its hash is kept of."""

    __tablename__ = "devices"
    space: Mapped[str] = mapped_column(ForeignKey("spaces.id"), primary_key=True)
    id: Mapped[str] = mapped_column(ID, primary_key=True)
    name: Mapped[str] = mapped_column(String(80))
    token_hash: Mapped[str] = mapped_column(SHA256, unique=True)
    paired_ms: Mapped[int] = mapped_column(BigInteger)
    seen_ms: Mapped[int] = mapped_column(BigInteger)
    revoked_ms: Mapped[int | None] = mapped_column(BigInteger)


class PairCode(Base):
    """A one-time code that lets a device into a space."""

    __tablename__ = "pair_codes"
    code_hash: Mapped[str] = mapped_column(SHA256, primary_key=True)
    space: Mapped[str] = mapped_column(ForeignKey("spaces.id"))
    expires_ms: Mapped[int] = mapped_column(BigInteger)
    used_ms: Mapped[int | None] = mapped_column(BigInteger)


class Change(Base):
    """One field of one record given one value: the history, only ever added to."""

    __tablename__ = "changes"
    space: Mapped[str] = mapped_column(ForeignKey("spaces.id"), primary_key=True)
    number: Mapped[int] = mapped_column(BigInteger, primary_key=True, autoincrement=False)
    id: Mapped[str] = mapped_column(ID)
    kind: Mapped[str] = mapped_column(String(40))
    record: Mapped[str] = mapped_column(ID)
    field: Mapped[str] = mapped_column(String(40))
    value: Mapped[Any] = mapped_column(JSON)
    stamp: Mapped[str] = mapped_column(String(64))
    sent_stamp: Mapped[str | None] = mapped_column(String(64))  # its own, if it was re-stamped
    base: Mapped[str | None] = mapped_column(ID)
    settles: Mapped[list[Any]]
    device: Mapped[str] = mapped_column(ID)
    author: Mapped[str] = mapped_column(String(80))
    schema: Mapped[int] = mapped_column(Integer)
    more: Mapped[dict[str, Any]]  # properties a newer app gave it, passed on as they came
    deferred: Mapped[bool] = mapped_column(Boolean, default=False)
    sender: Mapped[str] = mapped_column(ID)  # the device that pushed it; need not have made it
    received_ms: Mapped[int] = mapped_column(BigInteger)
    __table_args__ = (UniqueConstraint("space", "id"), Index("changes_of_field", "space", "record", "field"))


class Record(Base):
    """What the changes of one record add up to: `fields` is {name: {value, change, stamp, author}}."""

    __tablename__ = "records"
    space: Mapped[str] = mapped_column(ForeignKey("spaces.id"), primary_key=True)
    id: Mapped[str] = mapped_column(ID, primary_key=True)
    kind: Mapped[str] = mapped_column(String(40))
    fields: Mapped[dict[str, Any]]
    __table_args__ = (Index("records_of_kind", "space", "kind"),)


class Parent(Base):
    """That a record names another as its parent in a field, so that the children of a record are found at once."""

    __tablename__ = "parents"
    space: Mapped[str] = mapped_column(String(32), primary_key=True)
    child: Mapped[str] = mapped_column(ID, primary_key=True)
    field: Mapped[str] = mapped_column(String(40), primary_key=True)
    parent: Mapped[str] = mapped_column(ID)
    __table_args__ = (
        ForeignKeyConstraint(["space", "child"], ["records.space", "records.id"], ondelete="CASCADE"),
        Index("parents_of_children", "space", "parent"),
    )


class Media(Base):
    """A photo or sound whose bytes are on disk, checked."""

    __tablename__ = "media"
    space: Mapped[str] = mapped_column(ForeignKey("spaces.id"), primary_key=True)
    hash: Mapped[str] = mapped_column(SHA256, primary_key=True)
    type: Mapped[str] = mapped_column(String(40))
    bytes: Mapped[int] = mapped_column(BigInteger)
    created_ms: Mapped[int] = mapped_column(BigInteger)


class Erased(Base):
    """A record that a person had erased: nothing of it but its id is left, and nobody can bring it back."""

    __tablename__ = "erased"
    space: Mapped[str] = mapped_column(ForeignKey("spaces.id"), primary_key=True)
    record: Mapped[str] = mapped_column(ID, primary_key=True)
    kind: Mapped[str] = mapped_column(String(40))
    erased_ms: Mapped[int] = mapped_column(BigInteger)
    numbers: Mapped[list[Any]]  # those its changes had; they are not given again


class Publication(Base):
    """A frozen report: the plain data it shows and its page, as they were when it was made."""

    __tablename__ = "publications"
    id: Mapped[str] = mapped_column(ID, primary_key=True)
    space: Mapped[str] = mapped_column(ForeignKey("spaces.id"), index=True)
    about: Mapped[str] = mapped_column(ID, index=True)  # the session or piece
    about_kind: Mapped[str] = mapped_column(String(40))
    version: Mapped[int] = mapped_column(Integer)
    title: Mapped[str] = mapped_column(String(120))
    published_ms: Mapped[int] = mapped_column(BigInteger)
    view: Mapped[dict[str, Any]]
    html: Mapped[str]
    css: Mapped[str]
    media: Mapped[list[Any]]  # the hashes of the photos it shows, and no others


class Evidence(Base):
    """The hash of something a publication gave out: its page, a PDF, a photo, a recording."""

    __tablename__ = "evidence"
    publication: Mapped[str] = mapped_column(ForeignKey("publications.id"), primary_key=True)
    sha256: Mapped[str] = mapped_column(SHA256, primary_key=True)
    what: Mapped[str] = mapped_column(String(20), primary_key=True)
    __table_args__ = (Index("evidence_by_hash", "sha256"),)


class ShareLink(Base):
    """A link to a publication for one recipient; only the hash of its secret is kept."""

    __tablename__ = "links"
    id: Mapped[str] = mapped_column(ID, primary_key=True)
    space: Mapped[str] = mapped_column(ForeignKey("spaces.id"), index=True)
    publication: Mapped[str] = mapped_column(ForeignKey("publications.id"), index=True)
    token_hash: Mapped[str] = mapped_column(SHA256, unique=True)
    recipient: Mapped[str] = mapped_column(String(120))
    created_ms: Mapped[int] = mapped_column(BigInteger)
    expires_ms: Mapped[int] = mapped_column(BigInteger)
    revoked_ms: Mapped[int | None] = mapped_column(BigInteger)
    opened: Mapped[int] = mapped_column(Integer, default=0)
    leads_on: Mapped[bool] = mapped_column(default=False)  # whether its reader may go on to a newer version
    last_opened_day: Mapped[str | None] = mapped_column(String(10))
    pdf: Mapped[bytes | None] = mapped_column(LargeBinary, deferred=True)
    pdf_hash: Mapped[str | None] = mapped_column(SHA256)
