"""Venues: pages of courses, notes on them, their days and forecasts, and pieces of plans."""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the tables; nothing is in them."""
    op.create_table(
        "venue",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("name", sa.String(60, collation="NOCASE"), nullable=False, unique=True),
        sa.Column("course", sa.Text),
        sa.Column("heights", sa.Text),
        sa.Column("elevation_m", sa.Float),
        sa.Column("surroundings", sa.String(40), nullable=False),
        sa.Column("numbers", sa.JSON, nullable=False),
    )
    op.create_table(
        "venue_note",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("venue_id", sa.Integer, sa.ForeignKey("venue.id"), nullable=False, index=True),
        sa.Column("day", sa.String(10), nullable=False),
        sa.Column("hole", sa.String(20), nullable=False),
        sa.Column("firmness_g", sa.Float),
        sa.Column("firmness_sd_g", sa.Float),
        sa.Column("stimp_m", sa.Float),
        sa.Column("saw", sa.JSON, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
    )
    op.create_table(
        "venue_day",
        sa.Column("venue_id", sa.Integer, sa.ForeignKey("venue.id"), primary_key=True),
        sa.Column("day", sa.String(10), primary_key=True),
        sa.Column("tee_off", sa.String(5)),
        sa.Column("first_hole", sa.Integer, nullable=False),
        sa.Column("locations", sa.JSON, nullable=False),
    )
    op.create_table(
        "venue_forecast",
        sa.Column("venue_id", sa.Integer, sa.ForeignKey("venue.id"), primary_key=True),
        sa.Column("day", sa.String(10), primary_key=True),
        sa.Column("file", sa.Text, nullable=False),
        sa.Column("content", sa.Text, nullable=False),
        sa.Column("elevation_m", sa.Float),
        sa.Column("read_on", sa.String(10)),
    )
    op.create_table(
        "planned_piece",
        sa.Column("fingerprint", sa.String(64), primary_key=True),
        sa.Column("day", sa.String(10), nullable=False),
        sa.Column("content", sa.JSON, nullable=False),
    )
