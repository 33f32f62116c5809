"""Putters in the book: the errors on the green of people with a name."""

import sqlalchemy as sa

from carrybook.outcomes.putter import Putter
from carrybook.store.book import Session, read_rows
from carrybook.store.tables import putter

__all__ = ["load_putters", "save_putter"]


def save_putter(session: Session, name: str, errors: Putter) -> None:
    """Write down how somebody putts, in place of what was written before.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    name : str
        What they are called, in lower case, 1 to 24 characters.
    errors : Putter
        How they putt.
    """
    session.execute(sa.delete(putter).where(putter.c.name == name))
    session.execute(
        sa.insert(putter).values(
            name=name,
            direction_rad=errors.direction_rad,
            pace=errors.pace,
            reading=errors.reading,
        )
    )


def load_putters(session: Session) -> dict[str, Putter]:
    """Give everybody who has a name, in the order of the alphabet.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.

    Raises
    ------
    BadInputError
        The book is damaged.
    """
    query = sa.select(putter).order_by(putter.c.name)
    return dict(read_rows(session, query, _named, "putter"))


def _named(row: sa.Row[tuple[object, ...]]) -> tuple[str, Putter]:
    return row.name, Putter(row.direction_rad, row.pace, row.reading)
