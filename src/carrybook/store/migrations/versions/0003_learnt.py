"""What was learnt from the log."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table of what was learnt."""
    op.create_table(
        "learnt",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("fingerprint", sa.String(64), nullable=False),
        sa.Column("at", sa.String(40), nullable=False),
        sa.Column("content", sa.JSON, nullable=False),
        sa.Column("draws", sa.LargeBinary, nullable=False),
    )
