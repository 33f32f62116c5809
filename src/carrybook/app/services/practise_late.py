"""What was said of a session while nobody answered: taken in order, and once only."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.services.book import open_book
from carrybook.app.services.practise_lines import SKIP, LineReader, going_session, take_line
from carrybook.base.errors import BadInputError

if TYPE_CHECKING:
    from carrybook.decision.practise.running import Target

__all__ = ["Late", "take_late"]


@dataclass(frozen=True, slots=True)
class Late:
    """What was said of one ball.

    Parameters
    ----------
    session, place : int
        Key of the session, and which of its balls, from 1.
    line : str
        The call, or what it was, each as a line of its own; or "skip".
    result : bool
        Whether the line says what a called ball was.
    """

    session: int
    place: int
    line: str
    result: bool


def take_late(book: Path | None, said: Late, at: datetime, *, units: str) -> bool:
    """Take what was said of one ball; what the book has already is not taken twice.

    Parameters
    ----------
    book : Path, optional
        The book.
    said : Late
        What was said, and of which ball.
    at : datetime
        When it was said.
    units : str
        "yards" or "metres": of numbers without a unit.

    Returns
    -------
    taken : bool
        False where the book has it already.

    Raises
    ------
    BadInputError
        Another session, no such ball, a line that is not understood, or a ball of which the book
        has other words.
    NoSolutionError
        No session, or no book yet.
    """
    from carrybook.store.practice import said_of
    from carrybook.store.shots import load_shots

    with open_book(book) as opened, opened.session() as session:
        going = going_session(session)
        target = next((t for t in going.targets if t.place == said.place), None)
        if going.key != said.session or target is None:
            raise BadInputError("that session is not the one that is on any more")
        known = SKIP if target.skipped else said_of(session, target)
        if _is_in(known, said):
            return False
        _require_open(target, known, said)
        reader = LineReader(load_shots(session), units, "carry_m")
        take_line(session, going, target, reader, said.line, at)
    return True


def _is_in(known: str, said: Late) -> bool:
    """Whether what the book has of a ball, "call | result", is what was said."""
    call, _, result = known.partition(" | ")
    return bool(known) and said.line == (result if said.result else call)


def _require_open(target: "Target", known: str, said: Late) -> None:
    if said.result and not known:
        raise BadInputError(f"ball {said.place} was not called yet")
    if target.done or (target.called and not said.result and said.line != SKIP):
        raise BadInputError(f"ball {said.place}: the book has it already, as {known!r}")
