"""One ball at a time into the session that goes on, once, however often it is sent."""

import hashlib
import json
from collections.abc import Mapping
from datetime import datetime

import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.player.balls import Ball
from carrybook.player.occasion import Occasion
from carrybook.store import tables as t
from carrybook.store.balls import known_hashes
from carrybook.store.book import Session
from carrybook.store.sessions import OpenSession, begin_session, log_ball, newest_session
from carrybook.store.shots import load_shots

__all__ = ["add_ball", "take_back"]


def add_ball(
    session: Session, ball: Ball, *, at: datetime, key: str, raw: Mapping[str, str]
) -> bool:
    """Put one ball into the book; a session begins with its first.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    ball : Ball
        The ball.
    at : datetime
        When it was sent, with its zone.
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
    row_hash = _hash_of(key)
    if row_hash in known_hashes(session):
        return False
    line = json.dumps(dict(raw), ensure_ascii=False)
    row = log_ball(session, _going(session, ball, at).number, ball, line)
    session.execute(sa.update(t.ball).where(t.ball.c.id == row).values(row_hash=row_hash))
    return True


def take_back(session: Session, key: str) -> bool:
    """Take the ball of that strike out; false where the book does not hold it."""
    gone = session.execute(sa.delete(t.ball).where(t.ball.c.row_hash == _hash_of(key)))
    return bool(gone.rowcount)


def _hash_of(key: str) -> str:
    return hashlib.sha256(f"struck {key}".encode()).hexdigest()


def _going(session: Session, ball: Ball, at: datetime) -> OpenSession:
    """The session that goes on, or a new one struck as this ball is."""
    going = newest_session(session)
    if going is not None and going.occasion.holds(at):
        return going
    occasion = Occasion(
        begun=at, setting=ball.setting, air=ball.air, lie=ball.lie, moisture=ball.moisture
    )
    return begin_session(session, occasion)
