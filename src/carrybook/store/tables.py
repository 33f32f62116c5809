"""The tables of the book, as SQLAlchemy Core knows them. Everything is SI; the unit ends the name.

The migrations make these tables; a test asserts that the two agree.
"""

from sqlalchemy import (
    JSON,
    Boolean,
    Column,
    Float,
    ForeignKey,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)

__all__ = ["ball", "club", "column_choice", "import_run", "metadata", "rounds", "shot"]

# A label is the same label in capitals and in small letters.
_LABEL = String(60, collation="NOCASE")

metadata = MetaData()

club = Table(
    "club",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("label", _LABEL, nullable=False, unique=True),
    Column("loft_rad", Float, nullable=False),
)

shot = Table(
    "shot",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("club_id", ForeignKey("club.id"), nullable=False),
    # Follows from club, flight and shape; kept because two shots must not share one.
    Column("label", _LABEL, nullable=False, unique=True),
    Column("flight", String(10), nullable=False),
    Column("shape", String(10), nullable=False),
    Column("stock_carry_m", Float, nullable=False),
    Column("shortest_m", Float, nullable=False),
    Column("longest_m", Float, nullable=False),
    Column("cue", Text, nullable=False),
    Column("trusted", Boolean, nullable=False),
    UniqueConstraint("club_id", "flight", "shape"),
)

import_run = Table(
    "import_run",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("file", Text, nullable=False),
    sqlite_autoincrement=True,  # the number of an import that was undone is not used again
)

ball = Table(
    "ball",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("shot_id", ForeignKey("shot.id"), nullable=False, index=True),
    Column("import_run_id", ForeignKey("import_run.id"), nullable=False, index=True),
    Column("row_number", Integer, nullable=False),
    Column("row_hash", String(64), nullable=False, unique=True),
    Column("raw", JSON, nullable=False),  # header -> cell, as read
    Column("at", String(40)),  # ISO 8601, with the offset where it is known
    Column("intended_m", Float),
    Column("called_m", Float),
    Column("carry_m", Float),
    Column("total_m", Float),
    Column("side_m", Float),
    Column("ball_speed_mps", Float),
    Column("club_speed_mps", Float),
    Column("launch_rad", Float),
    Column("start_line_rad", Float),
    Column("attack_rad", Float),
    Column("spin_rad_s", Float),
    Column("spin_axis_rad", Float),
    Column("temperature_k", Float),  # null: the air is not known
    Column("pressure_pa", Float),
    Column("humidity", Float),
    Column("lie", String(20), nullable=False),
    Column("moisture", String(10), nullable=False),
    Column("setting", Text, nullable=False),
    Column("ball_model", Text, nullable=False),
    Column("note", Text, nullable=False),
)

# What a person once said about a file whose header has this fingerprint.
column_choice = Table(
    "column_choice",
    metadata,
    Column("fingerprint", String(64), primary_key=True),
    Column("field", String(40), primary_key=True),
    Column("column", Text),
    Column("unit", String(20)),
)

# At most one is on: its end is not known yet.
rounds = Table(
    "rounds",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("begun", String(40), nullable=False),  # ISO 8601 with its offset
    Column("ended", String(40)),
    Column("note", Text, nullable=False),
)
