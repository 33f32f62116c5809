"""Putters: errors on the green of people with a name."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the table; nobody is in it."""
    op.create_table(
        "putter",
        sa.Column("name", sa.String(24), primary_key=True),
        sa.Column("direction_rad", sa.Float, nullable=False),
        sa.Column("pace", sa.Float, nullable=False),
        sa.Column("reading", sa.Float, nullable=False),
    )
