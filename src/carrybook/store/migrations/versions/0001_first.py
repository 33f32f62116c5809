"""The first tables: bag, shots, balls, imports, and what was said about columns."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

_LABEL = sa.String(60, collation="NOCASE")


def upgrade() -> None:
    """Make the tables of an empty book."""
    op.create_table(
        "club",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("label", _LABEL, nullable=False, unique=True),
        sa.Column("loft_rad", sa.Float, nullable=False),
    )
    op.create_table(
        "shot",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("club_id", sa.Integer, sa.ForeignKey("club.id"), nullable=False),
        sa.Column("label", _LABEL, nullable=False, unique=True),
        sa.Column("flight", sa.String(10), nullable=False),
        sa.Column("shape", sa.String(10), nullable=False),
        sa.Column("stock_carry_m", sa.Float, nullable=False),
        sa.Column("shortest_m", sa.Float, nullable=False),
        sa.Column("longest_m", sa.Float, nullable=False),
        sa.Column("cue", sa.Text, nullable=False),
        sa.Column("trusted", sa.Boolean, nullable=False),
        sa.UniqueConstraint("club_id", "flight", "shape"),
    )
    op.create_table(
        "import_run",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("file", sa.Text, nullable=False),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "ball",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("shot_id", sa.Integer, sa.ForeignKey("shot.id"), nullable=False, index=True),
        sa.Column(
            "import_run_id", sa.Integer, sa.ForeignKey("import_run.id"), nullable=False, index=True
        ),
        sa.Column("row_number", sa.Integer, nullable=False),
        sa.Column("row_hash", sa.String(64), nullable=False, unique=True),
        sa.Column("raw", sa.JSON, nullable=False),
        sa.Column("at", sa.String(40)),
        sa.Column("intended_m", sa.Float),
        sa.Column("called_m", sa.Float),
        sa.Column("carry_m", sa.Float),
        sa.Column("total_m", sa.Float),
        sa.Column("side_m", sa.Float),
        sa.Column("ball_speed_mps", sa.Float),
        sa.Column("club_speed_mps", sa.Float),
        sa.Column("launch_rad", sa.Float),
        sa.Column("start_line_rad", sa.Float),
        sa.Column("attack_rad", sa.Float),
        sa.Column("spin_rad_s", sa.Float),
        sa.Column("spin_axis_rad", sa.Float),
        sa.Column("temperature_k", sa.Float),
        sa.Column("pressure_pa", sa.Float),
        sa.Column("humidity", sa.Float),
        sa.Column("lie", sa.String(20), nullable=False),
        sa.Column("moisture", sa.String(10), nullable=False),
        sa.Column("setting", sa.Text, nullable=False),
        sa.Column("ball_model", sa.Text, nullable=False),
        sa.Column("note", sa.Text, nullable=False),
    )
    op.create_table(
        "column_choice",
        sa.Column("fingerprint", sa.String(64), primary_key=True),
        sa.Column("field", sa.String(40), primary_key=True),
        sa.Column("column", sa.Text),
        sa.Column("unit", sa.String(20)),
    )
