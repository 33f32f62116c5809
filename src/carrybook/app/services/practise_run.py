"""A session as it is struck. Each ball is in the log, for good, before the answer is given.

Striking is recording, so it goes on while a round is on; what its balls were worth is not said then
(Rule 4.3a).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.services.book import open_book
from carrybook.app.services.practise_lines import LineReader, going_session, next_of, take_line
from carrybook.app.services.rounds import current_round
from carrybook.base.errors import BadInputError

if TYPE_CHECKING:
    from carrybook.app.forms.quick_line import Bare
    from carrybook.decision.practise.running import Practice, Target

__all__ = ["Now", "end_session_on", "hit", "session_on", "undo_hit"]


@dataclass(frozen=True, slots=True)
class Now:
    """The session that is planned or on, and what the last lines did.

    Parameters
    ----------
    practice : Practice
        The session.
    hits : tuple of Target
        What the last lines were about, each as it stood after its line.
    judged : bool
        Whether scores may be said: not while a round is on.
    """

    practice: "Practice"
    hits: "tuple[Target, ...]" = ()
    judged: bool = True


def session_on(book: Path | None) -> Now:
    """The session that is planned or on.

    Raises
    ------
    NoSolutionError
        There is none, or no book yet.
    """
    with open_book(book, reading=True) as opened, opened.session() as session:
        going = going_session(session)
    return Now(going, judged=_may_judge(book))


def hit(
    book: Path | None,
    lines: Sequence[str],
    at: datetime,
    *,
    units: str,
    bare: "Bare" = "carry_m",
) -> Now:
    """Take what was said of balls: all of the lines, or none where one cannot be used.

    Parameters
    ----------
    book : Path, optional
        The book.
    lines : sequence of str
        For each ball "called 72 got 68 3R", or the call alone and then the result alone, or "skip".
        A shot named first is the one that was played instead of the planned one.
    at : datetime
        Now.
    units : str
        "yards" or "metres": of numbers without a unit.
    bare : str, default "carry_m"
        What a number alone says of a ball that was not called yet.

    Raises
    ------
    BadInputError
        A line that is not understood, or more lines than balls.
    NoSolutionError
        No session, or no book yet.
    """
    from carrybook.store.shots import load_shots

    hits = []
    with open_book(book) as opened, opened.session() as session:
        reader = LineReader(load_shots(session), units, bare)
        now = going_session(session)
        for line in lines:
            target = next_of(now, line)
            take_line(session, now, target, reader, line, at)
            now = going_session(session)
            hits.append(_again(now, target))
    return Now(now, tuple(hits), judged=_may_judge(book))


def undo_hit(book: Path | None, about: tuple[int, int] | None = None) -> Now:
    """Take back what was said last: a ball, a call or a skip.

    Parameters
    ----------
    book : Path, optional
        The book.
    about : tuple of int, optional
        Key of the session, and place in it, of the ball that it must be about: where another one
        was said last, nothing happens.

    Raises
    ------
    BadInputError
        Nothing was said yet.
    NoSolutionError
        No session, or no book yet.
    """
    from carrybook.store.practice import undo_target

    with open_book(book) as opened, opened.session() as session:
        going = going_session(session)
        last = going.last
        undone = None
        if about is None or (last is not None and (going.key, last.place) == about):
            undone = undo_target(session, going)
        going = going_session(session)
    hits = () if undone is None else (_again(going, undone),)
    return Now(going, hits, judged=_may_judge(book))


def end_session_on(book: Path | None, at: datetime) -> Now:
    """End the session that is on.

    Raises
    ------
    BadInputError
        It was not begun.
    NoSolutionError
        No session, or no book yet.
    """
    from carrybook.store.practice import end_practice

    with open_book(book) as opened, opened.session() as session:
        going = going_session(session)
        if going.begun is None:
            raise BadInputError("the session was not begun, so there is nothing to end")
        end_practice(session, going, at)
    return Now(replace(going, ended=at.isoformat()), judged=_may_judge(book))


def _may_judge(book: Path | None) -> bool:
    last = current_round(book)
    return last is None or not last.is_on


def _again(practice: "Practice", target: "Target") -> "Target":
    """A target as it stands now."""
    return next(t for t in practice.targets if t.key == target.key)
