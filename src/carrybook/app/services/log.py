"""Logging balls one by one. Each is in the book, for good, before the answer is given."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from carrybook.app.services.book import open_book, some_shots
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.player.occasion import Occasion

if TYPE_CHECKING:
    from carrybook.app.forms.quick_line import QuickLine
    from carrybook.store.book import Book, Session
    from carrybook.store.sessions import OpenSession

__all__ = [
    "Log",
    "Logged",
    "ball_of",
    "end_log",
    "finished_ball",
    "now",
    "open_log",
    "undo_ball",
]


@dataclass(frozen=True, slots=True)
class Logged:
    """A ball that was logged: it, its number in the session, and its key in the book."""

    ball: Ball
    number: int
    key: int


class Log:
    """A session that is going on; from :func:`open_log`.

    Parameters
    ----------
    book : Book
        Open.
    shots : tuple of Shot
        The shots of the book.
    occasion : Occasion
        How the session is struck, if a ball begins it.
    joins : bool
        Whether a session that is going on takes the balls.
    """

    def __init__(
        self, book: "Book", shots: tuple[Shot, ...], occasion: Occasion, *, joins: bool
    ) -> None:
        self._book = book
        self.shots = shots
        self._occasion = occasion
        self._joins = joins

    def add(self, line: "QuickLine", typed: str, at: datetime) -> Logged:
        """Put a ball into the book; its session begins with its first."""
        from carrybook.store.sessions import log_ball

        with self._book.session() as session:
            going = self._session(session, at)
            ball = ball_of(line, going.occasion, at)
            key = log_ball(session, going.number, ball, typed)
        return Logged(ball, going.balls + 1, key)

    def finish(self, called: Logged, line: "QuickLine", typed: str) -> Logged:
        """Give a ball that was called first what became of it."""
        from carrybook.store.sessions import finish_ball

        ball = finished_ball(called.ball, line)
        with self._book.session() as session:
            finish_ball(session, called.key, ball, typed)
        return replace(called, ball=ball)

    def undo(self) -> Ball:
        """Take the last ball back.

        Raises
        ------
        BadInputError
            There is none.
        """
        from carrybook.store.sessions import undo_last_ball

        with self._book.session() as session:
            return undo_last_ball(session)

    def end(self) -> None:
        """End the session."""
        from carrybook.store.sessions import end_session

        with self._book.session() as session:
            end_session(session)

    def _session(self, session: "Session", at: datetime) -> "OpenSession":
        """The session that is going on, or a new one."""
        from carrybook.store.sessions import begin_session, newest_session

        going = newest_session(session) if self._joins else None
        self._joins = True
        if going is not None and going.occasion.holds(at):
            return going
        return begin_session(session, self._occasion)


@contextmanager
def open_log(book: Path | None, occasion: Occasion, *, joins: bool) -> Iterator[Log]:
    """Open the book to log balls.

    Parameters
    ----------
    book : Path, optional
        The book.
    occasion : Occasion
        How a session that begins now is struck.
    joins : bool
        Whether a session that is going on takes the balls.

    Raises
    ------
    NoSolutionError
        There is no book yet, or no shot in it.
    """
    from carrybook.store.shots import load_shots

    with open_book(book) as opened:
        with opened.session() as session:
            shots = some_shots(load_shots(session))
        yield Log(opened, shots, occasion, joins=joins)


def undo_ball(book: Path | None) -> Ball:
    """Take the last ball of the newest session back.

    Raises
    ------
    BadInputError
        There is none.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.sessions import undo_last_ball

    with open_book(book) as opened, opened.session() as session:
        return undo_last_ball(session)


def end_log(book: Path | None) -> None:
    """End the session that is going on, if there is one.

    Raises
    ------
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.sessions import end_session

    with open_book(book) as opened, opened.session() as session:
        end_session(session)


def now() -> datetime:
    """The time it is, to the second, with its zone."""
    return datetime.now().astimezone().replace(microsecond=0)


def ball_of(line: "QuickLine", occasion: Occasion, at: datetime) -> Ball:
    """The ball of a line; what the line does not say is that of its session.

    Raises
    ------
    BadInputError
        The line says nothing but the shot.
    """
    if not line.numbers and not line.effort:
        raise BadInputError(
            f"nothing but the shot {line.shot.label} is said; write what it was: got 68"
        )
    numbers: dict[str, Any] = dict(line.numbers)
    return Ball(
        shot=line.shot.label,
        at=at,
        air=occasion.air,
        lie=line.lie or occasion.lie,
        moisture=line.moisture or occasion.moisture,
        setting=occasion.setting,
        ball_model=occasion.ball_model,
        note=line.note,
        effort=line.effort,
        **numbers,
    )


def finished_ball(ball: Ball, line: "QuickLine", *, called_first: bool | None = True) -> Ball:
    """A ball that was in the book before it was seen, with what became of it."""
    changes: dict[str, Any] = dict(line.numbers)
    changes |= {"lie": line.lie} if line.lie else {}
    changes |= {"moisture": line.moisture} if line.moisture else {}
    note = "; ".join(text for text in (ball.note, line.note) if text)
    return replace(ball, **changes, note=note, called_first=called_first)
