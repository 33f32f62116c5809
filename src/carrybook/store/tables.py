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
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)

__all__ = [
    "bag_change",
    "ball",
    "club",
    "column_choice",
    "effort",
    "import_run",
    "learnt",
    "metadata",
    "planned_piece",
    "player",
    "practice",
    "practice_target",
    "putter",
    "round_shot",
    "rounds",
    "shot",
    "standing_test",
    "venue",
    "venue_day",
    "venue_forecast",
    "venue_note",
]

# A label is the same label in capitals and in small letters.
_LABEL = String(60, collation="NOCASE")

metadata = MetaData()

# Whose book it is: one row, or none where nobody said.
player = Table(
    "player",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("handicap", Float, nullable=False),
    Column("accuracy_table", String(10), nullable=False),
    Column("left_handed", Boolean, nullable=False),
)

club = Table(
    "club",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("label", _LABEL, nullable=False, unique=True),
    Column("loft_rad", Float, nullable=False),
    Column("loft_source", String(10), nullable=False, server_default="said"),
    Column("bounce_rad", Float),
    Column("length_m", Float),
    Column("head_mass_kg", Float),
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
    Column("stock_effort", String(30), nullable=False, server_default=""),
    Column("carry_source", String(10), nullable=False, server_default="said"),
    Column("partials_source", String(10), nullable=False, server_default="said"),
    Column("place", Integer),  # where the player put it; null: by loft
    UniqueConstraint("club_id", "flight", "shape"),
)

# A swing that the player thinks of by a name.
effort = Table(
    "effort",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("shot_id", ForeignKey("shot.id"), nullable=False),
    Column("name", String(30, collation="NOCASE"), nullable=False),
    Column("carry_m", Float, nullable=False),
    Column("source", String(10), nullable=False),
    UniqueConstraint("shot_id", "name"),
)

# The bag as it was before each change, so that changes can be taken back.
bag_change = Table(
    "bag_change",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("what", Text, nullable=False),
    Column("before", JSON, nullable=False),
)

# A file that was read in, or a session that was logged ball by ball.
import_run = Table(
    "import_run",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("file", Text, nullable=False),
    Column("kind", String(10), nullable=False, server_default="file"),  # or "session"
    Column("columns", JSON),  # of a file: field -> column and unit as read
    Column("begun", String(40)),  # of a session, ISO 8601
    Column("ended", Boolean, nullable=False, server_default="0"),
    Column("practice_order", String(10), nullable=False, server_default=""),
    Column("setting", Text, nullable=False, server_default=""),
    Column("lie", String(20), nullable=False, server_default=""),
    Column("moisture", String(10), nullable=False, server_default=""),
    Column("ball_model", Text, nullable=False, server_default=""),
    Column("temperature_k", Float),
    Column("pressure_pa", Float),
    Column("humidity", Float),
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
    Column("effort", Text, nullable=False, server_default=""),
    Column("called_first", Boolean),
    Column("wind_speed_mps", Float),
    Column("wind_from_rad", Float),
    Column("rise_m", Float),
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

# What was learnt from the log, the newest alone: draws of the posterior, packed.
learnt = Table(
    "learnt",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("fingerprint", String(64), nullable=False),  # of the log and the bag it was learnt from
    Column("at", String(40), nullable=False),
    Column("content", JSON, nullable=False),
    Column("draws", LargeBinary, nullable=False),
)

# At most one is on: its end is not known yet.
rounds = Table(
    "rounds",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("begun", String(40), nullable=False),  # ISO 8601 with its offset
    Column("ended", String(40)),
    Column("note", Text, nullable=False),
    Column("setting", String(20), nullable=False, server_default=""),
)

# Errors on the green of people with a name.
putter = Table(
    "putter",
    metadata,
    Column("name", String(24), primary_key=True),
    Column("direction_rad", Float, nullable=False),
    Column("pace", Float, nullable=False),
    Column("reading", Float, nullable=False),
)

# A venue, what was noted there, and its days. A day is ISO 8601: "2026-05-31".
venue = Table(
    "venue",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", _LABEL, nullable=False, unique=True),
    Column("course", Text),  # where its map, greens or folder of them lies
    Column("heights", Text),
    Column("elevation_m", Float),
    Column("surroundings", String(40), nullable=False),
    Column("numbers", JSON, nullable=False),  # likely distances [m]
)

venue_note = Table(
    "venue_note",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("venue_id", ForeignKey("venue.id"), nullable=False, index=True),
    Column("day", String(10), nullable=False),
    Column("hole", String(20), nullable=False),  # empty: the whole course
    Column("firmness_g", Float),
    Column("firmness_sd_g", Float),
    Column("stimp_m", Float),
    Column("saw", JSON, nullable=False),
    Column("text", Text, nullable=False),
)

venue_day = Table(
    "venue_day",
    metadata,
    Column("venue_id", ForeignKey("venue.id"), primary_key=True),
    Column("day", String(10), primary_key=True),
    Column("tee_off", String(5)),
    Column("first_hole", Integer, nullable=False),
    Column("locations", JSON, nullable=False),  # hole, and where it is cut
)

venue_forecast = Table(
    "venue_forecast",
    metadata,
    Column("venue_id", ForeignKey("venue.id"), primary_key=True),
    Column("day", String(10), primary_key=True),
    Column("file", Text, nullable=False),
    Column("content", Text, nullable=False),  # header and rows, as read
    Column("elevation_m", Float),
    Column("read_on", String(10)),
)

# Pieces of plans that are done already: a piece with the same fingerprint comes out the same.
planned_piece = Table(
    "planned_piece",
    metadata,
    Column("fingerprint", String(64), primary_key=True),
    Column("day", String(10), nullable=False),  # when it was made
    Column("content", JSON, nullable=False),
)

# Practice: sessions that were planned, their balls in order, and the tests that repeat.
standing_test = Table(
    "standing_test",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("made", String(40), nullable=False),  # ISO 8601 with its offset
    Column("targets_m", JSON, nullable=False),
    Column("each", Integer, nullable=False),
)

practice = Table(
    "practice",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("planned", String(40), nullable=False),
    Column("begun", String(40)),
    Column("ended", String(40)),
    Column("aim", String(10), nullable=False),
    Column("seed", Integer, nullable=False),
    Column("minutes", Float, nullable=False),
    Column("baseline", Text, nullable=False),
    Column("warm_up", JSON, nullable=False),  # shot, felt carry, balls
    Column("standing_test_id", ForeignKey("standing_test.id")),
    # Blocks and random balls are sessions of the log of their own: never pooled.
    Column("block_run_id", ForeignKey("import_run.id", ondelete="SET NULL")),
    Column("random_run_id", ForeignKey("import_run.id", ondelete="SET NULL")),
    Column("setting", Text, nullable=False),
    Column("ball_model", Text, nullable=False),
    Column("temperature_k", Float),
    Column("pressure_pa", Float),
    Column("humidity", Float),
)

practice_target = Table(
    "practice_target",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("practice_id", ForeignKey("practice.id"), nullable=False, index=True),
    Column("place", Integer, nullable=False),
    Column("kind", String(10), nullable=False),
    Column("target_m", Float, nullable=False),
    Column("lie", String(20), nullable=False),
    Column("shot", Text, nullable=False),
    Column("cue", Text, nullable=False),
    Column("feel_m", Float, nullable=False),
    Column("own_spread", Float, nullable=False),
    Column("own_side_rad", Float, nullable=False),
    Column("base_spread", Float, nullable=False),
    Column("base_side_rad", Float, nullable=False),
    Column("skipped", Boolean, nullable=False),
    # A ball that is taken out of the log leaves its target to be struck again.
    Column("ball_id", ForeignKey("ball.id", ondelete="SET NULL"), index=True),
    UniqueConstraint("practice_id", "place"),
)

# Scoring shots of rounds: as believed when they were played, and as it turned out.
round_shot = Table(
    "round_shot",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("round_id", ForeignKey("rounds.id"), nullable=False, index=True),
    Column("shot_id", ForeignKey("shot.id"), nullable=False, index=True),
    Column("row_hash", String(64), nullable=False, unique=True),
    Column("raw", JSON, nullable=False),  # as typed or read
    Column("at", String(40)),  # ISO 8601, with the offset where it is known
    Column("hole", Integer, nullable=False),
    Column("number_m", Float, nullable=False),
    Column("wind_mps", Float),
    Column("wind_from_rad", Float),
    Column("lie", String(20), nullable=False),
    Column("moisture", String(10)),
    Column("firmness_g", Float),
    Column("true_number_m", Float),
    Column("true_wind_mps", Float),
    Column("true_wind_from_rad", Float),
    Column("true_lie", String(20)),
    Column("true_moisture", String(10)),
    Column("true_firmness_g", Float),
    Column("hole_location", Text, nullable=False),
    Column("green_deep_m", Float),
    Column("stimp_m", Float),
    Column("temperature_k", Float),
    Column("intended_m", Float),
    Column("aim_right_m", Float),
    Column("called_m", Float),
    Column("landing_past_m", Float),
    Column("landing_right_m", Float),
    Column("finish", String(20), nullable=False),
    Column("finish_m", Float, nullable=False),
    Column("finish_past_m", Float),
    Column("finish_right_m", Float),
    Column("putts", Integer, nullable=False),
    Column("others", Integer, nullable=False),
    Column("penalties", Integer, nullable=False),
    Column("note", Text, nullable=False),
)
