"""The log of struck balls."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.services.book import open_book
from carrybook.app.services.rounds import require_planning
from carrybook.app.services.shots import owned_shots
from carrybook.player.balls import Ball

if TYPE_CHECKING:
    from carrybook.player.ball_fit import BallFits
    from carrybook.player.drift import Drift
    from carrybook.player.quality import OddBall
    from carrybook.store.balls import UndoneImport
    from carrybook.store.imports import Ask, ImportReport

__all__ = [
    "CheckReport",
    "LookedOver",
    "check_balls",
    "import_balls",
    "log_ball",
    "logged_balls",
    "odd_of_import",
    "take_ball_back",
    "undo_import",
]

_LOOKED_OVER_AT_ONCE = 20_000  # ours: some seconds; `balls check` takes any number


@dataclass(frozen=True, slots=True)
class CheckReport:
    """What looking over the log finds.

    Parameters
    ----------
    balls : int
        How many were looked over.
    odd : tuple of OddBall
        Those that look odd.
    slips : tuple of (str, str)
        File and reason, where units look mistaken.
    fits : BallFits
        How each model of ball flies.
    drifts : tuple of Drift
        Readings of a device that seem to have drifted.
    """

    balls: int
    odd: "tuple[OddBall, ...]"
    slips: tuple[tuple[str, str], ...]
    fits: "BallFits"
    drifts: "tuple[Drift, ...]" = ()


@dataclass(frozen=True, slots=True)
class LookedOver:
    """What an import has just added, looked over.

    Parameters
    ----------
    odd : int
        How many of its balls look odd.
    slips : tuple of str
        Where its units look mistaken.
    """

    odd: int = 0
    slips: tuple[str, ...] = ()


def import_balls(
    book: Path | None,
    file: Path,
    *,
    columns: Mapping[str, str],
    units: Mapping[str, str],
    sheet: str | None = None,
    ask: "Ask | None" = None,
    store: bool = True,
) -> "ImportReport":
    """Read a file of balls into the book; rows that are there already are not added again.

    Parameters
    ----------
    book, file : Path
        The book; the file.
    columns, units : mapping of str to str
        Which column holds what, and in which unit, where the file does not say.
    sheet : str, optional
        Which sheet of a spreadsheet.
    ask : callable, optional
        Is asked what is not clear; without it that is an error.
    store : bool, default True
        Whether to store them, or only to say what would be stored.

    Raises
    ------
    BadInputError
        The file as a whole cannot be used; the message says why and what to do.
    NoSolutionError
        There is no book yet, or no shot in it to which a ball could belong.
    """
    from carrybook.store.imports import import_balls as read_in

    owned_shots(book)
    with open_book(book) as opened:
        return read_in(
            opened, file, columns=columns, units=units, sheet=sheet, ask=ask, store=store
        )


def logged_balls(
    book: Path | None, *, shot: str | None = None, last: int | None = None
) -> tuple[Ball, ...]:
    """Balls in the book, the newest first.

    Parameters
    ----------
    book : Path, optional
        The book.
    shot : str, optional
        Only balls of the shot with this name.
    last : int, optional
        Only so many.

    Raises
    ------
    BadInputError
        No such shot.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.balls import load_balls

    with open_book(book, reading=True) as opened, opened.session() as session:
        return load_balls(session, shot=shot, limit=last, newest_first=True)


def check_balls(book: Path | None, *, shot: str | None = None) -> CheckReport:
    """Look over the logged balls for odd ones; none is dropped.

    Raises
    ------
    BadInputError
        No such shot.
    NoSolutionError
        There is no book yet, or a round is on.
    """
    from carrybook.player.ball_fit import fit_balls
    from carrybook.player.drift import sensor_drifts
    from carrybook.player.quality import odd_balls, unit_slips
    from carrybook.store.balls import load_imports
    from carrybook.store.shots import load_shots

    require_planning(book)
    with open_book(book, reading=True) as opened, opened.session() as session:
        shots = {each.label: each for each in load_shots(session)}
        imports = load_imports(session, shot=shot)
    balls = [ball for _, of_file in imports for ball in of_file]
    slips = tuple((file, line) for file, of_file in imports for line in unit_slips(of_file))
    drifts = sensor_drifts(imports, shots)
    return CheckReport(len(balls), odd_balls(balls, shots), slips, fit_balls(balls), drifts)


def odd_of_import(book: Path | None, report: "ImportReport") -> LookedOver | None:
    """Look over the balls that an import has just added; None where they are too many.

    Errors are those of `check_balls`.
    """
    from carrybook.player.quality import odd_balls, unit_slips
    from carrybook.store.balls import load_imports
    from carrybook.store.shots import load_shots

    if not report.added:
        return LookedOver()
    if report.added > _LOOKED_OVER_AT_ONCE:
        return None
    with open_book(book, reading=True) as opened, opened.session() as session:
        shots = {each.label: each for each in load_shots(session)}
        imports = load_imports(session)
    balls = [ball for _, of_file in imports for ball in of_file]
    added = balls[-report.added :]
    new = {id(ball) for ball in added}
    odd = sum(id(odd.ball) in new for odd in odd_balls(balls, shots))
    return LookedOver(odd, unit_slips(added))


def undo_import(book: Path | None) -> "UndoneImport":
    """Take the last import back.

    Raises
    ------
    BadInputError
        No import to take back.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.balls import undo_last_import

    with open_book(book) as opened, opened.session() as session:
        return undo_last_import(session)


def log_ball(book: Path | None, ball: Ball, *, key: str, raw: Mapping[str, str]) -> bool:
    """Put one ball into the book as it is struck; false where that strike is there already.

    Parameters
    ----------
    book : Path, optional
        The book.
    ball : Ball
        The ball.
    key : str
        The same for the same strike: what is sent twice is one ball.
    raw : mapping of str to str
        What was typed.

    Raises
    ------
    BadInputError
        No such shot.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.app.services.log import now
    from carrybook.store.struck import add_ball

    with open_book(book) as opened, opened.session() as session:
        return add_ball(session, ball, at=ball.at or now(), key=key, raw=raw)


def take_ball_back(book: Path | None, key: str) -> bool:
    """Take the ball of that strike out of the book; false where it is not there.

    Raises
    ------
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.struck import take_back

    with open_book(book) as opened, opened.session() as session:
        return take_back(session, key)
