"""Whose book it is."""

import sqlalchemy as sa

from carrybook.player.level import AccuracyTable, Player
from carrybook.store.book import Session, read_rows
from carrybook.store.tables import player

__all__ = ["load_player", "save_player"]


def save_player(session: Session, whose: Player) -> None:
    """Write down what the player says of themselves, in place of what was said before.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    whose : Player
        The player.
    """
    session.execute(sa.delete(player))
    session.execute(
        sa.insert(player).values(
            id=1,
            handicap=whose.handicap,
            accuracy_table=whose.table,
            left_handed=whose.left_handed,
        )
    )


def load_player(session: Session) -> Player | None:
    """Whose book it is; None where nobody said.

    Raises
    ------
    BadInputError
        The book is damaged.
    """
    return next(read_rows(session, sa.select(player), _player, "player"), None)


def _player(row: sa.Row[tuple[object, ...]]) -> Player:
    return Player(row.handicap, AccuracyTable(row.accuracy_table), row.left_handed)
