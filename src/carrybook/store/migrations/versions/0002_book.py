"""Whose book it is, where each number comes from, named swings, sessions, changes to take back."""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add tables and columns; every number that is there was said."""
    op.create_table(
        "player",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("handicap", sa.Float, nullable=False),
        sa.Column("accuracy_table", sa.String(10), nullable=False),
        sa.Column("left_handed", sa.Boolean, nullable=False),
    )
    op.create_table(
        "effort",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("shot_id", sa.Integer, sa.ForeignKey("shot.id"), nullable=False),
        sa.Column("name", sa.String(30, collation="NOCASE"), nullable=False),
        sa.Column("carry_m", sa.Float, nullable=False),
        sa.Column("source", sa.String(10), nullable=False),
        sa.UniqueConstraint("shot_id", "name"),
    )
    op.create_table(
        "bag_change",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("what", sa.Text, nullable=False),
        sa.Column("before", sa.JSON, nullable=False),
    )
    _add("club", sa.Column("loft_source", sa.String(10), nullable=False, server_default="said"))
    _add("club", *(sa.Column(name, sa.Float) for name in ("bounce_rad", "length_m")))
    _add("club", sa.Column("head_mass_kg", sa.Float))
    _add("shot", sa.Column("stock_effort", sa.String(30), nullable=False, server_default=""))
    _add("shot", sa.Column("carry_source", sa.String(10), nullable=False, server_default="said"))
    _add("shot", sa.Column("partials_source", sa.String(10), nullable=False, server_default="said"))
    _add("shot", sa.Column("place", sa.Integer))
    _add(
        "import_run",
        sa.Column("kind", sa.String(10), nullable=False, server_default="file"),
        sa.Column("columns", sa.JSON),
        sa.Column("begun", sa.String(40)),
        sa.Column("ended", sa.Boolean, nullable=False, server_default="0"),
        sa.Column("practice_order", sa.String(10), nullable=False, server_default=""),
        sa.Column("setting", sa.Text, nullable=False, server_default=""),
        sa.Column("lie", sa.String(20), nullable=False, server_default=""),
        sa.Column("moisture", sa.String(10), nullable=False, server_default=""),
        sa.Column("ball_model", sa.Text, nullable=False, server_default=""),
        *(sa.Column(name, sa.Float) for name in ("temperature_k", "pressure_pa", "humidity")),
    )
    _add(
        "ball",
        sa.Column("effort", sa.Text, nullable=False, server_default=""),
        sa.Column("called_first", sa.Boolean),
    )
    _add("ball", *(sa.Column(n, sa.Float) for n in ("wind_speed_mps", "wind_from_rad", "rise_m")))


def _add(table: str, *columns: sa.Column[Any]) -> None:
    for column in columns:
        op.add_column(table, column)
