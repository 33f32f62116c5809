"""The shots a player owns, and what the log says of them."""

from math import degrees
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.services.book import open_book, some_shots
from carrybook.app.services.rounds import require_planning
from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.player.bag import Shot
from carrybook.world.air import REFERENCE_DAY, Air

if TYPE_CHECKING:
    from carrybook.player.summary import ShotSummary
    from carrybook.player.whatif import Explained

__all__ = [
    "add_shot",
    "explain_shot",
    "owned_shots",
    "remove_shot",
    "summaries_of",
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

    if shot.stock_carry_m > _ANY_LOFT_CARRIES:  # below, no flight is asked for
        _require_flight(shot)
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


def summaries_of(
    book: Path | None, *, ball_model: str | None = None, left_handed: bool = False
) -> "tuple[ShotSummary, ...]":
    """Say what the log says of every owned shot.

    Parameters
    ----------
    book : Path, optional
        The book.
    ball_model : str, optional
        Model of ball that is now played; the usual one if not given.
    left_handed : bool
        Whose draw and cut they are, where the log does not show their curve.

    Raises
    ------
    BadInputError
        A model of ball that the log does not know well enough.
    NoSolutionError
        There is no book yet, or no shot in it; or a round is on.
    """
    from carrybook.player.summary import summarise
    from carrybook.store.balls import load_balls
    from carrybook.store.shots import load_shots

    require_planning(book)  # whatever is made of these interprets
    with open_book(book, reading=True) as opened, opened.session() as session:
        shots, balls = some_shots(load_shots(session)), load_balls(session)
    return summarise(shots, balls, ball_model=ball_model, left_handed=left_handed)


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
    from carrybook.player.whatif import explain

    summaries = {s.shot.label: s for s in summaries_of(book, left_handed=left_handed)}
    name = " ".join(label.split())
    if name not in summaries:
        raise BadInputError(f"shot {name!r} is not in the book; its shots: {', '.join(summaries)}")
    return explain(summaries[name], air, left_handed=left_handed)


def _require_flight(shot: Shot) -> None:
    """Refuse a stock carry that no ball speed gives on the reference day."""
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
