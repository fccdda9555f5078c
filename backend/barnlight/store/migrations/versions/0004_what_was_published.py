"""The hashes of what was published, and whether an old link leads on to a newer version."""

import hashlib
import json

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    op.add_column("links", sa.Column("leads_on", sa.Boolean(), nullable=False, server_default=sa.false()))
    evidence = op.create_table(
        "evidence",
        sa.Column("publication", sa.String(32), sa.ForeignKey("publications.id"), primary_key=True),
        sa.Column("sha256", sa.String(64), primary_key=True),
        sa.Column("what", sa.String(20), primary_key=True),
    )
    op.create_index("evidence_by_hash", "evidence", ["sha256"])
    bind = op.get_bind()
    rows = set()
    for publication, html, media in bind.execute(sa.text("SELECT id, html, media FROM publications")):
        rows.add((publication, hashlib.sha256(html.encode()).hexdigest(), "page"))
        rows |= {(publication, sha256, "photo") for sha256 in json.loads(media)}
    rows |= {(publication, sha256, "pdf") for publication, sha256 in bind.execute(sa.text("SELECT publication, pdf_hash FROM links WHERE pdf_hash IS NOT NULL"))}
    if rows:
        op.bulk_insert(evidence, [dict(zip(("publication", "sha256", "what"), row, strict=True)) for row in sorted(rows)])


def downgrade() -> None:
    op.drop_table("evidence")
    op.drop_column("links", "leads_on")
