"""Practice: planned sessions, their balls in order, tests that repeat."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the tables; nothing is in them."""
    op.create_table(
        "standing_test",
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("made", sa.String(40), nullable=False),
        sa.Column("targets_m", sa.JSON, nullable=False),
        sa.Column("each", sa.Integer, nullable=False),
    )
    op.create_table("practice", *_practice())
    op.create_table("practice_target", *_target(), sa.UniqueConstraint("practice_id", "place"))
    op.create_index("ix_practice_target_practice_id", "practice_target", ["practice_id"])
    op.create_index("ix_practice_target_ball_id", "practice_target", ["ball_id"])


def _practice() -> list[sa.Column[object]]:
    gone = "SET NULL"
    return [
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("planned", sa.String(40), nullable=False),
        sa.Column("begun", sa.String(40)),
        sa.Column("ended", sa.String(40)),
        sa.Column("aim", sa.String(10), nullable=False),
        sa.Column("seed", sa.Integer, nullable=False),
        sa.Column("minutes", sa.Float, nullable=False),
        sa.Column("baseline", sa.Text, nullable=False),
        sa.Column("warm_up", sa.JSON, nullable=False),
        sa.Column("standing_test_id", sa.Integer, sa.ForeignKey("standing_test.id")),
        sa.Column("block_run_id", sa.Integer, sa.ForeignKey("import_run.id", ondelete=gone)),
        sa.Column("random_run_id", sa.Integer, sa.ForeignKey("import_run.id", ondelete=gone)),
        sa.Column("setting", sa.Text, nullable=False),
        sa.Column("ball_model", sa.Text, nullable=False),
        sa.Column("temperature_k", sa.Float),
        sa.Column("pressure_pa", sa.Float),
        sa.Column("humidity", sa.Float),
    ]


def _target() -> list[sa.Column[object]]:
    numbers = ("feel_m", "own_spread", "own_side_rad", "base_spread", "base_side_rad")
    return [
        sa.Column("id", sa.Integer, primary_key=True),
        sa.Column("practice_id", sa.Integer, sa.ForeignKey("practice.id"), nullable=False),
        sa.Column("place", sa.Integer, nullable=False),
        sa.Column("kind", sa.String(10), nullable=False),
        sa.Column("target_m", sa.Float, nullable=False),
        sa.Column("lie", sa.String(20), nullable=False),
        sa.Column("shot", sa.Text, nullable=False),
        sa.Column("cue", sa.Text, nullable=False),
        *(sa.Column(name, sa.Float, nullable=False) for name in numbers),
        sa.Column("skipped", sa.Boolean, nullable=False),
        sa.Column("ball_id", sa.Integer, sa.ForeignKey("ball.id", ondelete="SET NULL")),
    ]
