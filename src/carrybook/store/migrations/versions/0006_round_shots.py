"""Scoring shots of rounds, and whether a round counted."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the table and the column; nothing is known of older rounds."""
    op.add_column("rounds", sa.Column("setting", sa.String(20), nullable=False, server_default=""))
    op.create_table(
        "round_shot",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("round_id", sa.Integer, sa.ForeignKey("rounds.id"), nullable=False, index=True),
        sa.Column("shot_id", sa.Integer, sa.ForeignKey("shot.id"), nullable=False, index=True),
        sa.Column("row_hash", sa.String(64), nullable=False, unique=True),
        sa.Column("raw", sa.JSON, nullable=False),
        sa.Column("at", sa.String(40)),
        sa.Column("hole", sa.Integer, nullable=False),
        sa.Column("number_m", sa.Float, nullable=False),
        sa.Column("wind_mps", sa.Float),
        sa.Column("wind_from_rad", sa.Float),
        sa.Column("lie", sa.String(20), nullable=False),
        sa.Column("moisture", sa.String(10)),
        sa.Column("firmness_g", sa.Float),
        sa.Column("true_number_m", sa.Float),
        sa.Column("true_wind_mps", sa.Float),
        sa.Column("true_wind_from_rad", sa.Float),
        sa.Column("true_lie", sa.String(20)),
        sa.Column("true_moisture", sa.String(10)),
        sa.Column("true_firmness_g", sa.Float),
        sa.Column("hole_location", sa.Text, nullable=False),
        sa.Column("green_deep_m", sa.Float),
        sa.Column("stimp_m", sa.Float),
        sa.Column("temperature_k", sa.Float),
        sa.Column("intended_m", sa.Float),
        sa.Column("aim_right_m", sa.Float),
        sa.Column("called_m", sa.Float),
        sa.Column("landing_past_m", sa.Float),
        sa.Column("landing_right_m", sa.Float),
        sa.Column("finish", sa.String(20), nullable=False),
        sa.Column("finish_m", sa.Float, nullable=False),
        sa.Column("finish_past_m", sa.Float),
        sa.Column("finish_right_m", sa.Float),
        sa.Column("putts", sa.Integer, nullable=False),
        sa.Column("others", sa.Integer, nullable=False),
        sa.Column("penalties", sa.Integer, nullable=False),
        sa.Column("note", sa.Text, nullable=False),
    )
