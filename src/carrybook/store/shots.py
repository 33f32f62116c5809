"""The bag in the book: clubs, and the shots played with them."""

from dataclasses import replace
from math import degrees, isclose

import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.player.bag import MOST_CLUBS, Club, Flight, Shape, Shot
from carrybook.store import tables as t
from carrybook.store.book import Session, read_rows

__all__ = ["load_shots", "remove_shot", "save_shot", "shot_id"]


def save_shot(session: Session, shot: Shot) -> None:
    """Put a shot, and its club where it is new, into the book.

    A shot that is there already has its numbers replaced; its balls stay with it.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    shot : Shot
        The shot. Labels that differ only in capitals are the same label.

    Raises
    ------
    BadInputError
        A fifteenth club, a club known with another loft, or a label that another shot has.
    """
    club_id, club = _club(session, shot.club)
    shot = replace(shot, club=club)
    numbers = {
        "stock_carry_m": shot.stock_carry_m,
        "shortest_m": shot.shortest_m,
        "longest_m": shot.longest_m,
        "cue": shot.cue,
        "trusted": shot.trusted,
    }
    same = (
        t.shot.c.club_id == club_id,
        t.shot.c.flight == shot.flight,
        t.shot.c.shape == shot.shape,
    )
    if session.execute(sa.update(t.shot).where(*same).values(numbers)).rowcount:
        return
    if session.scalar(sa.select(t.shot.c.id).where(t.shot.c.label == shot.label)) is not None:
        raise BadInputError(
            f"shot {shot.label!r} is already the name of a shot with another club;"
            f" give club {club.label!r} another name"
        )
    identity = {"club_id": club_id, "label": shot.label, "flight": shot.flight, "shape": shot.shape}
    session.execute(sa.insert(t.shot).values(identity | numbers))


def load_shots(session: Session) -> tuple[Shot, ...]:
    """All shots of the book, from the least loft to the most, each club's in the order saved.

    Raises
    ------
    BadInputError
        The book is damaged.
    """
    query = (
        sa.select(t.shot, t.club.c.label.label("club_label"), t.club.c.loft_rad)
        .join(t.club)
        .order_by(t.club.c.loft_rad, t.club.c.id, t.shot.c.id)
    )
    return tuple(read_rows(session, query, _shot, "shot"))


def remove_shot(session: Session, label: str) -> None:
    """Take a shot out of the book, and its club with the club's last shot.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    label : str
        The shot's name.

    Raises
    ------
    BadInputError
        No such shot, or one with balls in the book.
    """
    number = shot_id(session, label)
    balls = session.scalar(
        sa.select(sa.func.count()).select_from(t.ball).where(t.ball.c.shot_id == number)
    )
    if balls:
        raise BadInputError(
            f"shot {label!r} has {_count(balls, 'ball')} in the book, so it stays;"
            " a shot can only be removed while it has none"
        )
    session.execute(sa.delete(t.shot).where(t.shot.c.id == number))
    session.execute(sa.delete(t.club).where(t.club.c.id.not_in(sa.select(t.shot.c.club_id))))


def shot_id(session: Session, label: str) -> int:
    """Key of the shot with this name.

    Raises
    ------
    BadInputError
        No such shot; the message lists those there are.
    """
    number = session.scalar(sa.select(t.shot.c.id).where(t.shot.c.label == label))
    if number is None:
        known = ", ".join(shot.label for shot in load_shots(session)) or "it has none"
        raise BadInputError(f"shot {label!r} is not in the book; its shots: {known}")
    return int(number)


def _club(session: Session, club: Club) -> tuple[int, Club]:
    """Key of the club, which is added if it is new, and the club as the book has it."""
    query = sa.select(t.club).where(t.club.c.label == club.label)
    found = read_rows(session, query, lambda row: (row.id, Club(row.label, row.loft_rad)), "club")
    number, known = next(found, (None, club))
    if number is None:
        return _add_club(session, club), club
    if not isclose(known.loft_rad, club.loft_rad, abs_tol=1e-6):  # a rounding, not another loft
        raise BadInputError(
            f"club {known.label!r} is in the book with a loft of {degrees(known.loft_rad):.4g} deg,"
            f" not {degrees(club.loft_rad):.4g} deg; give that loft, or the club another name"
        )
    return number, known


def _add_club(session: Session, club: Club) -> int:
    labels = session.scalars(sa.select(t.club.c.label).order_by(t.club.c.loft_rad)).all()
    if len(labels) >= MOST_CLUBS:
        raise BadInputError(
            f"club {club.label!r} would be number {len(labels) + 1}; Rule 4.1b allows {MOST_CLUBS}"
            f" clubs: remove all shots of another first ({', '.join(labels)})"
        )
    added = session.execute(sa.insert(t.club).values(label=club.label, loft_rad=club.loft_rad))
    return added.lastrowid


def _shot(row: sa.Row[tuple[object, ...]]) -> Shot:
    return Shot(
        club=Club(row.club_label, row.loft_rad),
        flight=Flight(row.flight),
        shape=Shape(row.shape),
        stock_carry_m=row.stock_carry_m,
        shortest_m=row.shortest_m,
        longest_m=row.longest_m,
        cue=row.cue,
        trusted=row.trusted,
    )


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"
