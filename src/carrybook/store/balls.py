"""Logged balls in the book."""

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.player.balls import Ball
from carrybook.store import tables as t
from carrybook.store.book import Session, read_rows
from carrybook.store.shots import shot_id
from carrybook.world.air import Air
from carrybook.world.lie import Lie, Moisture

if TYPE_CHECKING:
    import polars as pl

__all__ = [
    "UndoneImport",
    "ball_columns",
    "count_balls",
    "known_hashes",
    "load_balls",
    "load_balls_of",
    "load_imports",
    "save_balls",
    "undo_last_import",
]

# Columns that hold a number of a ball under the ball's own name for it.
_NUMBERS = tuple(
    name
    for name in Ball.__dataclass_fields__
    if name in t.ball.c and isinstance(t.ball.c[name].type, sa.Float)
)
_WORDS = ("setting", "ball_model", "note", "effort", "called_first")
_AT_ONCE = 50_000  # rows handed to SQLite in one go
_CACHE_KIB = 200_000  # of memory for one import: the index of hashes is written in no order
_READ = tuple(column for column in t.ball.c if column.name != "raw")


@dataclass(frozen=True, slots=True)
class UndoneImport:
    """An import that was taken back.

    Parameters
    ----------
    file : str
        The file it came from.
    balls : int
        Balls it had added, now removed.
    """

    file: str
    balls: int


def save_balls(session: Session, balls: "pl.DataFrame", import_run: int) -> None:
    """Add the balls of one import.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    balls : DataFrame
        Balls that the book does not hold yet, of shots that it does; the columns are those of the
        table of balls, but "shot" holds names.
    import_run : int
        Key of the import they belong to.
    """
    import polars as pl

    found = session.execute(sa.select(t.shot.c.label, t.shot.c.id))
    ids = {label: number for label, number in found}
    table = balls.with_columns(
        pl.col("shot").replace_strict(ids, return_dtype=pl.Int64).alias("shot_id"),
        pl.lit(import_run).alias("import_run_id"),
    ).drop("shot")
    names = ", ".join(f'"{name}"' for name in table.columns)
    marks = ", ".join("?" * table.width)
    insert = f"INSERT INTO ball ({names}) VALUES ({marks})"  # noqa: S608 - names of our own columns
    session.exec_driver_sql(f"PRAGMA cache_size = -{_CACHE_KIB}")
    for part in table.iter_slices(_AT_ONCE):
        session.exec_driver_sql(insert, part.rows())


def load_balls(
    session: Session,
    *,
    shot: str | None = None,
    limit: int | None = None,
    newest_first: bool = False,
) -> tuple[Ball, ...]:
    """Balls in the order struck; those without a time come before all others, as imported.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    shot : str, optional
        Only balls of the shot with this name.
    limit : int, optional
        At most so many, from the start of the order.
    newest_first : bool, default False
        Turn the order round.

    Raises
    ------
    BadInputError
        No such shot, or the book is damaged.
    """
    order = (sa.func.julianday(t.ball.c.at), t.ball.c.id)  # a time of no known zone counts as UTC
    query = sa.select(*_READ, t.shot.c.label).join(t.shot).limit(limit)
    query = query.order_by(*(o.desc() for o in order) if newest_first else order)
    if shot is not None:
        query = query.where(t.ball.c.shot_id == shot_id(session, shot))
    return tuple(read_rows(session, query, _ball, "ball"))


def load_imports(
    session: Session, *, shot: str | None = None
) -> tuple[tuple[str, tuple[Ball, ...]], ...]:
    """Name of the file and balls of every import, the oldest first, in the order of the file.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    shot : str, optional
        Only balls of the shot with this name; imports without any are left out.

    Raises
    ------
    BadInputError
        No such shot, or the book is damaged.
    """
    runs = session.execute(sa.select(t.import_run.c.id, t.import_run.c.file).order_by("id")).all()
    query = sa.select(*_READ, t.shot.c.label).join(t.shot).order_by(t.ball.c.id)
    if shot is not None:
        query = query.where(t.ball.c.shot_id == shot_id(session, shot))
    found = (
        (run.file, read_rows(session, query.where(t.ball.c.import_run_id == run.id), _ball, "ball"))
        for run in runs
    )
    return tuple((file, tuple(balls)) for file, rows in found if (balls := tuple(rows)))


def load_balls_of(session: Session, where: sa.ColumnElement[bool]) -> tuple[Ball, ...]:
    """Balls that fulfil a condition, as logged.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    where : condition
        On the table of balls.

    Raises
    ------
    BadInputError
        The book is damaged.
    """
    query = sa.select(*_READ, t.shot.c.label).join(t.shot).where(where).order_by(t.ball.c.id)
    return tuple(read_rows(session, query, _ball, "ball"))


def ball_columns(ball: Ball) -> dict[str, object]:
    """Columns of the table of balls that hold a ball itself."""
    air = ball.air
    return {
        "at": ball.at and ball.at.isoformat(),
        **{name: getattr(ball, name) for name in _NUMBERS + _WORDS},
        "temperature_k": air and air.temperature_k,
        "pressure_pa": air and air.pressure_pa,
        "humidity": air and air.humidity,
        "lie": ball.lie,
        "moisture": ball.moisture,
    }


def count_balls(session: Session) -> int:
    """How many balls the book holds."""
    return session.scalar(sa.select(sa.func.count()).select_from(t.ball)) or 0


def known_hashes(session: Session) -> frozenset[str]:
    """Hashes of all rows whose balls the book holds."""
    return frozenset(session.scalars(sa.select(t.ball.c.row_hash)))


def undo_last_import(session: Session) -> UndoneImport:
    """Remove the balls of the newest import or logged session, and its record.

    Raises
    ------
    BadInputError
        There is no import to take back.
    """
    run = session.execute(
        sa.select(t.import_run).order_by(t.import_run.c.id.desc()).limit(1)
    ).one_or_none()
    if run is None:
        raise BadInputError("there is no import to undo: no balls were imported or logged yet")
    removed = session.execute(sa.delete(t.ball).where(t.ball.c.import_run_id == run.id)).rowcount
    session.execute(sa.delete(t.import_run).where(t.import_run.c.id == run.id))
    return UndoneImport(run.file, removed)


def _ball(row: sa.Row[tuple[object, ...]]) -> Ball:
    measured = row.temperature_k is not None
    return Ball(
        shot=row.label,
        at=datetime.fromisoformat(row.at) if row.at else None,
        air=Air(row.temperature_k, row.pressure_pa, row.humidity) if measured else None,
        lie=Lie(row.lie),
        moisture=Moisture(row.moisture),
        **{name: getattr(row, name) for name in _NUMBERS + _WORDS},
    )
