"""The bag in the book: clubs, and the shots played with them."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from math import degrees, isclose

import sqlalchemy as sa

from carrybook.base.errors import BadInputError
from carrybook.player.bag import MOST_CLUBS, Club, Effort, Flight, Shape, Shot, Source
from carrybook.store import tables as t
from carrybook.store.bag_changes import remember_bag
from carrybook.store.book import Session, read_rows

__all__ = [
    "change_club",
    "load_shots",
    "move_shot",
    "order_by_loft",
    "remove_shot",
    "save_shot",
    "save_shots",
    "shot_id",
]

# Columns that hold a number or a word of a shot, and of a club, under its own name there.
_NUMBERS = (
    "stock_carry_m",
    "shortest_m",
    "longest_m",
    "cue",
    "trusted",
    "stock_effort",
    "carry_source",
    "partials_source",
)
_CLUB_NUMBERS = ("loft_rad", "loft_source", "bounce_rad", "length_m", "head_mass_kg")
_OF_CLUB = (t.club.c.label.label("club_label"), *(t.club.c[name] for name in _CLUB_NUMBERS))


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
    save_shots(session, (shot,), f"{shot.label} was added or changed")


def save_shots(session: Session, shots: Sequence[Shot], what: str | None) -> None:
    """Put shots into the book as one change, which is taken back as one.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    shots : sequence of Shot
        The shots; otherwise as :func:`save_shot`.
    what : str, optional
        What the change is called when it is taken back; none makes it part of the last change.

    Raises
    ------
    BadInputError
        As :func:`save_shot`.
    """
    if what is not None:
        remember_bag(session, what)
    for shot in shots:
        _save(session, shot)


def _save(session: Session, shot: Shot) -> None:
    club_id, club = _club(session, shot.club)
    shot = replace(shot, club=club)
    numbers = {name: getattr(shot, name) for name in _NUMBERS}
    same = (
        t.shot.c.club_id == club_id,
        t.shot.c.flight == shot.flight,
        t.shot.c.shape == shot.shape,
    )
    number = session.scalar(sa.select(t.shot.c.id).where(*same))
    if number is None:
        number = _add_shot(session, shot, {"club_id": club_id, **numbers})
    else:
        session.execute(sa.update(t.shot).where(t.shot.c.id == number).values(numbers))
    _save_efforts(session, number, shot)


def _add_shot(session: Session, shot: Shot, values: dict[str, object]) -> int:
    if session.scalar(sa.select(t.shot.c.id).where(t.shot.c.label == shot.label)) is not None:
        raise BadInputError(
            f"shot {shot.label!r} is already the name of a shot with another club;"
            f" give club {shot.club.label!r} another name"
        )
    identity = {"label": shot.label, "flight": shot.flight, "shape": shot.shape}
    return int(session.execute(sa.insert(t.shot).values(identity | values)).lastrowid)


def _save_efforts(session: Session, number: int, shot: Shot) -> None:
    session.execute(sa.delete(t.effort).where(t.effort.c.shot_id == number))
    rows = [
        {"shot_id": number, "name": e.name, "carry_m": e.carry_m, "source": e.source}
        for e in shot.efforts
    ]
    if rows:
        session.execute(sa.insert(t.effort), rows)


def load_shots(session: Session) -> tuple[Shot, ...]:
    """All shots of the book: as the player put them, else from the least loft to the most.

    Raises
    ------
    BadInputError
        The book is damaged.
    """
    query = (
        sa.select(t.shot, *_OF_CLUB)
        .join(t.club)
        .order_by(t.shot.c.place.nulls_last(), t.club.c.loft_rad, t.club.c.id, t.shot.c.id)
    )
    efforts: dict[int, list[Effort]] = defaultdict(list)
    query_efforts = sa.select(t.effort).order_by(t.effort.c.carry_m)
    for number, effort in read_rows(session, query_efforts, _effort, "effort"):
        efforts[number].append(effort)
    return tuple(read_rows(session, query, lambda row: _shot(row, efforts[row.id]), "shot"))


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
        No such shot, or one with balls or shots of a round in the book.
    """
    number = shot_id(session, label)
    remember_bag(session, f"{label} was removed")
    balls = session.scalar(
        sa.select(sa.func.count()).select_from(t.ball).where(t.ball.c.shot_id == number)
    )
    if balls:
        raise BadInputError(
            f"shot {label!r} has {_count(balls, 'ball')} in the book, so it stays;"
            " a shot can only be removed while it has none"
        )
    played = sa.select(t.round_shot.c.id).where(t.round_shot.c.shot_id == number).limit(1)
    if session.scalar(played):
        raise BadInputError(
            f"shot {label!r} was played in a round that is in the book, so it stays;"
            " a shot can only be removed while no round has it"
        )
    session.execute(sa.delete(t.effort).where(t.effort.c.shot_id == number))
    session.execute(sa.delete(t.shot).where(t.shot.c.id == number))
    session.execute(sa.delete(t.club).where(t.club.c.id.not_in(sa.select(t.shot.c.club_id))))


def change_club(session: Session, label: str, club: Club) -> None:
    """Give a club another name or other numbers; its shots go by the new name, balls stay.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    label : str
        Its name until now.
    club : Club
        What it is from now on.

    Raises
    ------
    BadInputError
        No such club, or a name that another club or shot has.
    """
    number = session.scalar(sa.select(t.club.c.id).where(t.club.c.label == label))
    if number is None:
        known = ", ".join(session.scalars(sa.select(t.club.c.label).order_by(t.club.c.loft_rad)))
        raise BadInputError(
            f"club {label!r} is not in the book; its clubs: {known or 'it has none'}"
        )
    remember_bag(session, f"club {label} was changed")
    values = {name: getattr(club, name) for name in ("label", *_CLUB_NUMBERS)}
    try:
        session.execute(sa.update(t.club).where(t.club.c.id == number).values(values))
        for shot in (shot for shot in load_shots(session) if shot.club.label == club.label):
            its_own = (t.shot.c.club_id == number, t.shot.c.flight == shot.flight)
            named = sa.update(t.shot).where(*its_own, t.shot.c.shape == shot.shape)
            session.execute(named.values(label=shot.label))
    except sa.exc.IntegrityError:
        raise BadInputError(
            f"club {label!r} cannot be called {club.label!r}: another club or shot has that name"
        ) from None


def move_shot(session: Session, label: str, before: str | None) -> None:
    """Put a shot before another in the order in which all are shown, or at the end.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    label : str
        The shot to move.
    before : str, optional
        The shot that will come right after it; none puts it last.

    Raises
    ------
    BadInputError
        No such shot, or one before itself.
    """
    moved = shot_id(session, label)
    after = None if before is None else shot_id(session, before)
    if moved == after:
        raise BadInputError(f"shot {label!r} cannot come before itself; name another")
    remember_bag(session, f"{label} was moved")
    order = [shot_id(session, shot.label) for shot in load_shots(session)]
    order.remove(moved)
    order.insert(len(order) if after is None else order.index(after), moved)
    for place, number in enumerate(order):
        session.execute(sa.update(t.shot).where(t.shot.c.id == number).values(place=place))


def order_by_loft(session: Session) -> None:
    """Forget the player's own order of shots."""
    remember_bag(session, "the order was that of the player")
    session.execute(sa.update(t.shot).values(place=None))


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
    found = read_rows(session, query, lambda row: (row.id, _club_of(row, row.label)), "club")
    number, known = next(found, (None, club))
    if number is None:
        return _add_club(session, club), club
    if not isclose(known.loft_rad, club.loft_rad, abs_tol=1e-6):  # a rounding, not another loft
        raise BadInputError(
            f"club {known.label!r} is in the book with a loft of {degrees(known.loft_rad):.4g} deg,"
            f" not {degrees(club.loft_rad):.4g} deg; give that loft, or the club another name"
        )
    new = {n: v for n in _CLUB_NUMBERS[2:] if (v := getattr(club, n)) is not None}
    if new:  # what was not said about the club stays
        session.execute(sa.update(t.club).where(t.club.c.id == number).values(new))
    return number, replace(known, **new)


def _add_club(session: Session, club: Club) -> int:
    labels = session.scalars(sa.select(t.club.c.label).order_by(t.club.c.loft_rad)).all()
    if len(labels) >= MOST_CLUBS:
        raise BadInputError(
            f"club {club.label!r} would be number {len(labels) + 1}; Rule 4.1b allows {MOST_CLUBS}"
            f" clubs: remove all shots of another first ({', '.join(labels)})"
        )
    values = {name: getattr(club, name) for name in ("label", *_CLUB_NUMBERS)}
    return int(session.execute(sa.insert(t.club).values(values)).lastrowid)


def _club_of(row: sa.Row[tuple[object, ...]], label: str) -> Club:
    return Club(
        label=label,
        loft_rad=row.loft_rad,
        loft_source=Source(row.loft_source),
        bounce_rad=row.bounce_rad,
        length_m=row.length_m,
        head_mass_kg=row.head_mass_kg,
    )


def _effort(row: sa.Row[tuple[object, ...]]) -> tuple[int, Effort]:
    return row.shot_id, Effort(row.name, row.carry_m, Source(row.source))


def _shot(row: sa.Row[tuple[object, ...]], efforts: Sequence[Effort]) -> Shot:
    return Shot(
        club=_club_of(row, row.club_label),
        flight=Flight(row.flight),
        shape=Shape(row.shape),
        stock_carry_m=row.stock_carry_m,
        shortest_m=row.shortest_m,
        longest_m=row.longest_m,
        cue=row.cue,
        trusted=row.trusted,
        stock_effort=row.stock_effort,
        efforts=tuple(efforts),
        carry_source=Source(row.carry_source),
        partials_source=Source(row.partials_source),
    )


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"
