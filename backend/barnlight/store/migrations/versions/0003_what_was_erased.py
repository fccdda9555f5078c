"""Which records were erased, so that no device can bring them back."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    op.create_table(
        "erased",
        sa.Column("space", sa.String(32), sa.ForeignKey("spaces.id"), primary_key=True),
        sa.Column("record", sa.String(32), primary_key=True),
        sa.Column("kind", sa.String(40), nullable=False),
        sa.Column("erased_ms", sa.BigInteger(), nullable=False),
        sa.Column("numbers", sa.JSON(), nullable=False),
    )


def downgrade() -> None:
    op.drop_table("erased")
