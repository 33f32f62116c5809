"""One ball at a time into the book, as it is struck; and the last one out again."""

import hashlib
from collections.abc import Mapping

import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.player.balls import Ball
from carrybook.store import tables as t
from carrybook.store.ball_file import BallRow
from carrybook.store.balls import known_hashes, load_balls, save_balls
from carrybook.store.book import Session
from carrybook.store.shots import load_shots

__all__ = ["add_ball", "take_back_ball"]

_SOURCE = "logged on the page"  # stands where the name of an imported file stands


def add_ball(session: Session, ball: Ball, *, key: str, raw: Mapping[str, str]) -> bool:
    """Put one ball into the book.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    ball : Ball
        The ball; its time is known.
    key : str
        The same for the same strike: what is sent twice is one ball.
    raw : mapping of str to str
        What was typed.

    Returns
    -------
    added : bool
        False where the book holds that strike already.

    Raises
    ------
    BadInputError
        A shot that is not in the book.
    """
    shots = [shot.label for shot in load_shots(session)]
    if ball.shot not in shots:
        raise BadInputError(f"shot {ball.shot!r} is not in the book; its shots: {', '.join(shots)}")
    row_hash = hashlib.sha256(f"struck {key}".encode()).hexdigest()
    if row_hash in known_hashes(session):
        return False
    run = session.execute(sa.insert(t.import_run).values(file=_SOURCE)).lastrowid
    save_balls(session, [BallRow(1, ball, raw, row_hash)], run)
    return True


def take_back_ball(session: Session) -> Ball:
    """Take the last ball that was logged one at a time out of the book.

    Raises
    ------
    BadInputError
        What was added last is a file, or there is nothing.
    """
    newest = sa.select(t.import_run).order_by(t.import_run.c.id.desc()).limit(1)
    run = session.execute(newest).one_or_none()
    if run is None or run.file != _SOURCE:
        raise BadInputError("no ball to take back: none was logged here since the last file")
    row = session.execute(sa.select(t.ball.c.id).where(t.ball.c.import_run_id == run.id)).one()
    ball = load_balls(session, row=row.id)[0]
    session.execute(sa.delete(t.ball).where(t.ball.c.id == row.id))
    session.execute(sa.delete(t.import_run).where(t.import_run.c.id == run.id))
    return ball
