"""Rounds: when each began and ended."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the table; no round is on."""
    op.create_table(
        "rounds",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("begun", sa.String(40), nullable=False),
        sa.Column("ended", sa.String(40)),
        sa.Column("note", sa.Text, nullable=False),
    )
