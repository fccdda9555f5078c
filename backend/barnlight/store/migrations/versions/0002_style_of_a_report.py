"""A frozen report keeps the style sheet it was made with."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    op.add_column("publications", sa.Column("css", sa.String(), nullable=False, server_default=""))


def downgrade() -> None:
    op.drop_column("publications", "css")
