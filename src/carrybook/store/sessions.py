"""Sessions that are logged ball by ball: one small change each, safe before the next is struck."""

import hashlib
from dataclasses import dataclass
from datetime import datetime

import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.player.balls import Ball
from carrybook.player.occasion import Occasion, PracticeOrder
from carrybook.store import tables as t
from carrybook.store.balls import ball_columns, load_balls_of
from carrybook.store.book import Session, read_rows
from carrybook.store.shots import shot_id
from carrybook.world.air import Air
from carrybook.world.lie import Lie, Moisture

__all__ = [
    "OpenSession",
    "begin_session",
    "end_session",
    "finish_ball",
    "log_ball",
    "newest_session",
    "undo_last_ball",
]

_SESSION = "session"


@dataclass(frozen=True, slots=True)
class OpenSession:
    """A session in the book: its key, how it was struck, and how many balls it has."""

    number: int
    occasion: Occasion
    balls: int


def begin_session(session: Session, occasion: Occasion) -> OpenSession:
    """Begin a session, and end the one before."""
    end_session(session)
    values = {
        "file": f"session of {occasion.begun:%Y-%m-%d %H:%M}",
        "kind": _SESSION,
        "begun": occasion.begun.isoformat(),
        "practice_order": occasion.order,
        "setting": occasion.setting,
        "lie": occasion.lie,
        "moisture": occasion.moisture,
        "ball_model": occasion.ball_model,
        "temperature_k": occasion.air and occasion.air.temperature_k,
        "pressure_pa": occasion.air and occasion.air.pressure_pa,
        "humidity": occasion.air and occasion.air.humidity,
    }
    number = session.execute(sa.insert(t.import_run).values(values)).lastrowid
    return OpenSession(int(number), occasion, 0)


def newest_session(session: Session) -> OpenSession | None:
    """The newest session, if it was not ended and nothing was read in since."""
    run = t.import_run
    newest = sa.select(sa.func.max(run.c.id)).scalar_subquery()
    query = sa.select(run).where(run.c.id == newest, run.c.kind == _SESSION, ~run.c.ended)
    return next(read_rows(session, query, lambda row: _open(session, row), "session"), None)


def end_session(session: Session) -> None:
    """End whatever session is going on."""
    of_kind = t.import_run.c.kind == _SESSION
    session.execute(
        sa.update(t.import_run).where(of_kind, ~t.import_run.c.ended).values(ended=True)
    )


def log_ball(session: Session, number: int, ball: Ball, line: str) -> int:
    """Add a ball to a session.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    number : int
        Key of the session.
    ball : Ball
        The ball.
    line : str
        What was typed.

    Returns
    -------
    ball : int
        Its key, for :func:`finish_ball`.

    Raises
    ------
    BadInputError
        No such shot.
    """
    last = sa.select(sa.func.max(t.ball.c.row_number)).where(t.ball.c.import_run_id == number)
    row = (session.scalar(last) or 0) + 1
    values = {
        "shot_id": shot_id(session, ball.shot),
        "import_run_id": number,
        "row_number": row,
        "row_hash": hashlib.sha256(f"{number} {row} {ball.at} {line}".encode()).hexdigest(),
        "raw": {"line": line},
        **ball_columns(ball),
    }
    return int(session.execute(sa.insert(t.ball).values(values)).lastrowid)


def finish_ball(session: Session, key: int, ball: Ball, line: str) -> None:
    """Give a ball that was called what became of it.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    key : int
        Of the ball.
    ball : Ball
        The whole ball.
    line : str
        Everything that was typed about it.
    """
    values = {"raw": {"line": line}, **ball_columns(ball)}
    session.execute(sa.update(t.ball).where(t.ball.c.id == key).values(values))


def undo_last_ball(session: Session) -> Ball:
    """Take back the last ball of the newest session.

    Raises
    ------
    BadInputError
        There is none.
    """
    newest = sa.select(sa.func.max(t.import_run.c.id)).scalar_subquery()
    query = (
        sa.select(t.ball.c.id)
        .join(t.import_run)
        .where(t.ball.c.import_run_id == newest, t.import_run.c.kind == _SESSION)
        .order_by(t.ball.c.id.desc())
        .limit(1)
    )
    key = session.scalar(query)
    if key is None:
        raise BadInputError("there is no logged ball to undo in the newest session")
    (ball,) = load_balls_of(session, t.ball.c.id == key)
    session.execute(sa.delete(t.ball).where(t.ball.c.id == key))
    return ball


def _open(session: Session, row: sa.Row[tuple[object, ...]]) -> OpenSession:
    balls = sa.select(sa.func.count()).select_from(t.ball).where(t.ball.c.import_run_id == row.id)
    known = row.temperature_k is not None
    occasion = Occasion(
        begun=datetime.fromisoformat(row.begun),
        order=PracticeOrder(row.practice_order),
        setting=row.setting,
        air=Air(row.temperature_k, row.pressure_pa, row.humidity) if known else None,
        lie=Lie(row.lie),
        moisture=Moisture(row.moisture),
        ball_model=row.ball_model,
    )
    return OpenSession(row.id, occasion, session.scalar(balls) or 0)
