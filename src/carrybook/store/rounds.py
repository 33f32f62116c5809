"""Rounds in the book: at most one is on."""

from dataclasses import replace
from typing import Any

import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.player.rounds import Round
from carrybook.store.book import Session
from carrybook.store.tables import rounds

__all__ = ["end_round", "last_round", "round_in", "start_round"]


def last_round(session: Session) -> Round | None:
    """Give the round that began last, or none where there never was one.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    """
    row = session.execute(sa.select(rounds).order_by(rounds.c.id.desc()).limit(1)).first()
    return None if row is None else round_in(row)


def start_round(session: Session, begun: str, note: str = "", setting: str = "") -> Round:
    """Write down that a round begins.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    begun : str
        When: ISO 8601 with its offset.
    note : str
        In the player's own words.
    setting : str
        "competition", "course", or empty.

    Raises
    ------
    BadInputError
        One is on already.
    """
    last = last_round(session)
    if last is not None and last.is_on:
        raise BadInputError(f"a round is on since {last.begun}; end it first: carrybook round end")
    session.execute(sa.insert(rounds).values(begun=begun, note=note, setting=setting))
    return Round(begun, None, note, setting)


def end_round(session: Session, ended: str) -> Round:
    """Write down that the round is over.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    ended : str
        When: ISO 8601 with its offset.

    Raises
    ------
    BadInputError
        No round is on.
    """
    last = last_round(session)
    if last is None or not last.is_on:
        raise BadInputError("no round is on; one begins with: carrybook round start")
    session.execute(sa.update(rounds).where(rounds.c.ended.is_(None)).values(ended=ended))
    return replace(last, ended=ended)


def round_in(row: sa.Row[Any]) -> Round:
    """Take a round out of its row."""
    return Round(row.begun, row.ended, row.note, row.setting)
