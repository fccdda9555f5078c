"""The first tables: spaces, devices, the history, the records, media, reports and their links."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    op.create_table(
        "spaces",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("name", sa.String(length=120), nullable=False),
        sa.Column("epoch", sa.String(length=32), nullable=False),
        sa.Column("last_number", sa.BigInteger(), nullable=False),
        sa.Column("clock", sa.String(length=64), nullable=True),
        sa.Column("created_ms", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_table(
        "changes",
        sa.Column("space", sa.String(length=32), nullable=False),
        sa.Column("number", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("kind", sa.String(length=40), nullable=False),
        sa.Column("record", sa.String(length=32), nullable=False),
        sa.Column("field", sa.String(length=40), nullable=False),
        sa.Column("value", sa.JSON(), nullable=False),
        sa.Column("stamp", sa.String(length=64), nullable=False),
        sa.Column("sent_stamp", sa.String(length=64), nullable=True),
        sa.Column("base", sa.String(length=32), nullable=True),
        sa.Column("settles", sa.JSON(), nullable=False),
        sa.Column("device", sa.String(length=32), nullable=False),
        sa.Column("author", sa.String(length=80), nullable=False),
        sa.Column("schema", sa.Integer(), nullable=False),
        sa.Column("more", sa.JSON(), nullable=False),
        sa.Column("deferred", sa.Boolean(), nullable=False),
        sa.Column("sender", sa.String(length=32), nullable=False),
        sa.Column("received_ms", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["space"], ["spaces.id"]),
        sa.PrimaryKeyConstraint("space", "number"),
        sa.UniqueConstraint("space", "id"),
    )
    op.create_index("changes_of_field", "changes", ["space", "record", "field"])
    op.create_table(
        "devices",
        sa.Column("space", sa.String(length=32), nullable=False),
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.Column("token_hash", sa.String(length=64), nullable=False),
        sa.Column("paired_ms", sa.BigInteger(), nullable=False),
        sa.Column("seen_ms", sa.BigInteger(), nullable=False),
        sa.Column("revoked_ms", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(["space"], ["spaces.id"]),
        sa.PrimaryKeyConstraint("space", "id"),
        sa.UniqueConstraint("token_hash"),
    )
    op.create_table(
        "media",
        sa.Column("space", sa.String(length=32), nullable=False),
        sa.Column("hash", sa.String(length=64), nullable=False),
        sa.Column("type", sa.String(length=40), nullable=False),
        sa.Column("bytes", sa.BigInteger(), nullable=False),
        sa.Column("created_ms", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["space"], ["spaces.id"]),
        sa.PrimaryKeyConstraint("space", "hash"),
    )
    op.create_table(
        "pair_codes",
        sa.Column("code_hash", sa.String(length=64), nullable=False),
        sa.Column("space", sa.String(length=32), nullable=False),
        sa.Column("expires_ms", sa.BigInteger(), nullable=False),
        sa.Column("used_ms", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(["space"], ["spaces.id"]),
        sa.PrimaryKeyConstraint("code_hash"),
    )
    op.create_table(
        "publications",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("space", sa.String(length=32), nullable=False),
        sa.Column("about", sa.String(length=32), nullable=False),
        sa.Column("about_kind", sa.String(length=40), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("title", sa.String(length=120), nullable=False),
        sa.Column("published_ms", sa.BigInteger(), nullable=False),
        sa.Column("view", sa.JSON(), nullable=False),
        sa.Column("html", sa.String(), nullable=False),
        sa.Column("media", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["space"], ["spaces.id"]),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index("ix_publications_about", "publications", ["about"])
    op.create_index("ix_publications_space", "publications", ["space"])
    op.create_table(
        "records",
        sa.Column("space", sa.String(length=32), nullable=False),
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("kind", sa.String(length=40), nullable=False),
        sa.Column("fields", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["space"], ["spaces.id"]),
        sa.PrimaryKeyConstraint("space", "id"),
    )
    op.create_index("records_of_kind", "records", ["space", "kind"])
    op.create_table(
        "links",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("space", sa.String(length=32), nullable=False),
        sa.Column("publication", sa.String(length=32), nullable=False),
        sa.Column("token_hash", sa.String(length=64), nullable=False),
        sa.Column("recipient", sa.String(length=120), nullable=False),
        sa.Column("created_ms", sa.BigInteger(), nullable=False),
        sa.Column("expires_ms", sa.BigInteger(), nullable=False),
        sa.Column("revoked_ms", sa.BigInteger(), nullable=True),
        sa.Column("opened", sa.Integer(), nullable=False),
        sa.Column("last_opened_day", sa.String(length=10), nullable=True),
        sa.Column("pdf", sa.LargeBinary(), nullable=True),
        sa.Column("pdf_hash", sa.String(length=64), nullable=True),
        sa.ForeignKeyConstraint(["publication"], ["publications.id"]),
        sa.ForeignKeyConstraint(["space"], ["spaces.id"]),
        sa.PrimaryKeyConstraint("id"),
        sa.UniqueConstraint("token_hash"),
    )
    op.create_index("ix_links_publication", "links", ["publication"])
    op.create_index("ix_links_space", "links", ["space"])
    op.create_table(
        "parents",
        sa.Column("space", sa.String(length=32), nullable=False),
        sa.Column("child", sa.String(length=32), nullable=False),
        sa.Column("field", sa.String(length=40), nullable=False),
        sa.Column("parent", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(["space", "child"], ["records.space", "records.id"], ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("space", "child", "field"),
    )
    op.create_index("parents_of_children", "parents", ["space", "parent"])


def downgrade() -> None:
    for table in ("parents", "links", "records", "publications", "pair_codes", "media", "devices", "changes", "spaces"):
        op.drop_table(table)
