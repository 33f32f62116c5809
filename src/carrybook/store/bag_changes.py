"""The bag as it was before each change, kept in the book so that changes can be taken back."""

from typing import Any

import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.store import tables as t
from carrybook.store.book import Session

__all__ = ["remember_bag", "undo_bag"]

_TABLES = (t.club, t.shot, t.effort)  # in the order in which they refer to each other
_MOST_CHANGES = 100  # ours: what is older cannot be taken back


def remember_bag(session: Session, what: str) -> None:
    """Keep clubs, shots and named swings as they are, before they are changed.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`; if it is undone, so is this.
    what : str
        What the change is called when it is taken back.
    """
    before = {table.name: _rows(session, table) for table in _TABLES}
    session.execute(sa.insert(t.bag_change).values(what=what, before=before))
    kept = sa.select(t.bag_change.c.id).order_by(t.bag_change.c.id.desc()).limit(_MOST_CHANGES)
    session.execute(sa.delete(t.bag_change).where(t.bag_change.c.id.not_in(kept)))


def undo_bag(session: Session) -> str:
    """Put the bag back as it was before its newest change, and forget that change.

    Returns
    -------
    what : str
        What the change is called.

    Raises
    ------
    BadInputError
        There is none to take back, or balls were logged with a shot that it added.
    """
    query = sa.select(t.bag_change).order_by(t.bag_change.c.id.desc()).limit(1)
    change = session.execute(query).one_or_none()
    if change is None:
        raise BadInputError("there is no change of the bag to undo")
    _require_no_balls_lost(session, {row["id"] for row in change.before["shot"]})
    session.exec_driver_sql("PRAGMA defer_foreign_keys = ON")  # until the shots are back
    for table in reversed(_TABLES):
        session.execute(sa.delete(table))
    for table in _TABLES:
        if rows := change.before[table.name]:
            session.execute(sa.insert(table), rows)
    session.execute(sa.delete(t.bag_change).where(t.bag_change.c.id == change.id))
    return str(change.what)


def _rows(session: Session, table: sa.Table) -> list[dict[str, Any]]:
    return [dict(row) for row in session.execute(sa.select(table)).mappings()]


def _require_no_balls_lost(session: Session, kept: set[int]) -> None:
    struck = sa.select(t.shot.c.label, t.shot.c.id).where(
        t.shot.c.id.in_(sa.select(t.ball.c.shot_id))
        | t.shot.c.id.in_(sa.select(t.round_shot.c.shot_id))
    )
    lost = [label for label, number in session.execute(struck) if number not in kept]
    if lost:
        raise BadInputError(
            f"the last change of the bag added {', '.join(lost)}, with which balls were logged"
            " since, or rounds played, so it stays"
        )
