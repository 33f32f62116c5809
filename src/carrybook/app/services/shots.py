"""The shots a player owns, and what the log says of them."""

from dataclasses import replace
from math import degrees
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.services.book import open_book, some_shots
from carrybook.app.services.learn import day_summaries, plays_left_handed
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.player.bag import Shot
from carrybook.world.air import REFERENCE_DAY, Air

if TYPE_CHECKING:
    from collections.abc import Callable

    from carrybook.player.bag import Club
    from carrybook.player.whatif import Explained

__all__ = [
    "add_shot",
    "edit_shot",
    "explain_shot",
    "move_shot",
    "order_by_loft",
    "owned_shots",
    "remove_shot",
    "rename_club",
    "require_flight",
    "undo_change",
]

_ANY_LOFT_CARRIES = 70.0  # m, ours: some ball speed gives that with every loft; a test flies them


def add_shot(book: Path | None, shot: Shot) -> None:
    """Put a shot into the book, or replace its numbers.

    Raises
    ------
    BadInputError
        The book cannot be used, or cannot hold the shot beside those it has.
    NoSolutionError
        A stock carry that no flight gives.
    """
    from carrybook.store.shots import save_shot

    require_flight(shot)
    with open_book(book, create=True) as opened, opened.session() as session:
        save_shot(session, shot)


def owned_shots(book: Path | None) -> tuple[Shot, ...]:
    """Every shot in the book.

    Raises
    ------
    NoSolutionError
        There is no book yet, or no shot in it.
    """
    from carrybook.store.shots import load_shots

    with open_book(book, reading=True) as opened, opened.session() as session:
        return some_shots(load_shots(session))


def remove_shot(book: Path | None, label: str) -> None:
    """Take a shot out of the book.

    Raises
    ------
    BadInputError
        No such shot, or one with balls.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.shots import remove_shot as remove

    with open_book(book) as opened, opened.session() as session:
        remove(session, label)


def edit_shot(
    book: Path | None,
    label: str,
    shot: "Callable[[Shot], Shot]",
    club: "Callable[[Club], Club]",
) -> Shot:
    """Change a shot, and its club, in the book.

    Parameters
    ----------
    book : Path, optional
        The book.
    label : str
        The shot's name.
    shot, club : callable
        Give the shot, and its club, as they are to be.

    Returns
    -------
    shot : Shot
        As it is now.

    Raises
    ------
    BadInputError
        No such shot, or numbers that no shot has.
    NoSolutionError
        There is no book yet, or a stock carry that no flight gives.
    """
    from carrybook.store.shots import change_club, load_shots, save_shots

    with open_book(book) as opened, opened.session() as session:
        old = _named(load_shots(session), label)
        new = replace(shot(old), club=club(old.club))
        require_flight(new)
        if new.club != old.club:
            change_club(session, old.club.label, new.club)
            save_shots(session, (new,), None)
        else:
            save_shots(session, (new,), f"{new.label} was edited")
    return new


def rename_club(book: Path | None, label: str, name: str) -> tuple[str, ...]:
    """Give a club another name; its shots and their balls stay.

    Returns
    -------
    shots : tuple of str
        What its shots are called now.

    Raises
    ------
    BadInputError
        No such club, or a name that is taken or cannot be.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.shots import change_club, load_shots

    new = " ".join(name.split())
    with open_book(book) as opened, opened.session() as session:
        clubs = {shot.club.label.lower(): shot.club for shot in load_shots(session)}
        old = clubs.get(label.lower())
        if old is None:
            known = ", ".join(club.label for club in clubs.values()) or "it has none"
            raise BadInputError(f"club {label!r} is not in the book; its clubs: {known}")
        change_club(session, old.label, replace(old, label=new))
        return tuple(s.label for s in load_shots(session) if s.club.label == new)


def move_shot(book: Path | None, label: str, before: str | None) -> tuple[Shot, ...]:
    """Put a shot before another, or last; give all in their new order.

    Raises
    ------
    BadInputError
        No such shot.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.shots import load_shots, move_shot

    with open_book(book) as opened, opened.session() as session:
        move_shot(session, label, before)
        return load_shots(session)


def order_by_loft(book: Path | None) -> tuple[Shot, ...]:
    """Put all shots in the order of their lofts; give them.

    Raises
    ------
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.shots import load_shots, order_by_loft

    with open_book(book) as opened, opened.session() as session:
        order_by_loft(session)
        return load_shots(session)


def undo_change(book: Path | None) -> str:
    """Take back the last change of the bag; say which.

    Raises
    ------
    BadInputError
        There is none, or it cannot be taken back any more.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.bag_changes import undo_bag

    with open_book(book) as opened, opened.session() as session:
        return undo_bag(session)


def explain_shot(
    book: Path | None, label: str, air: Air, *, left_handed: bool = False
) -> "Explained":
    """Say what lie, delivery and shape would change in an owned shot.

    Raises
    ------
    BadInputError
        No such shot.
    NoSolutionError
        There is no book yet, no shot in it, or a carry that no flight gives.
    """
    from carrybook.player.day import Day
    from carrybook.player.whatif import explain

    left_handed = left_handed or plays_left_handed(book)
    known = day_summaries(book, Day(air), left_handed=left_handed)
    summaries = {s.shot.label: s for s in known}
    name = " ".join(label.split())
    if name not in summaries:
        raise BadInputError(f"shot {name!r} is not in the book; its shots: {', '.join(summaries)}")
    return explain(summaries[name], air, left_handed=left_handed)


def _named(shots: tuple[Shot, ...], label: str) -> Shot:
    name = " ".join(label.split())
    for shot in shots:
        if shot.label.lower() == name.lower():
            return shot
    known = ", ".join(shot.label for shot in shots) or "it has none"
    raise BadInputError(f"shot {name!r} is not in the book; its shots: {known}")


def require_flight(shot: Shot) -> None:
    """Refuse a stock carry that no ball speed gives on the reference day.

    Raises
    ------
    NoSolutionError
        There is none.
    """
    if shot.stock_carry_m <= _ANY_LOFT_CARRIES:
        return
    from carrybook.physics.solve import speed_for_carry
    from carrybook.physics.strike import launch_from_loft

    loft = shot.club.loft_rad
    try:
        speed_for_carry(
            shot.stock_carry_m, *launch_from_loft(loft, shot.flight.value), REFERENCE_DAY
        )
    except NoSolutionError:
        raise NoSolutionError(
            f"no flight carries {shot.label} its {shot.stock_carry_m / YARD:.0f} yd with a loft of"
            f" {degrees(loft):.4g} deg; check carry and loft; nothing was stored"
        ) from None
