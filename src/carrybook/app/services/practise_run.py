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
from carrybook.app.services.log import ball_of, finished_ball
from carrybook.app.services.rounds import current_round
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.player.balls import Ball

if TYPE_CHECKING:
    from carrybook.app.forms.quick_line import Bare, QuickLine
    from carrybook.decision.practise.running import Practice, Target
    from carrybook.player.bag import Shot
    from carrybook.store.book import Session

__all__ = ["Now", "end_session_on", "hit", "session_on", "undo_hit"]

_SKIP = "skip"
_NO_CALL = "-"


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
        going = _going(session)
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
        reader = _Reader(load_shots(session), units, bare)
        now = _going(session)
        for line in lines:
            target = _take(session, now, reader, line, at)
            now = _going(session)
            hits.append(_again(now, target))
    return Now(now, tuple(hits), judged=_may_judge(book))


def undo_hit(book: Path | None) -> Now:
    """Take back what was said last: a ball, a call or a skip.

    Raises
    ------
    BadInputError
        Nothing was said yet.
    NoSolutionError
        No session, or no book yet.
    """
    from carrybook.store.practice import undo_target

    with open_book(book) as opened, opened.session() as session:
        undone = undo_target(session, _going(session))
        going = _going(session)
    return Now(going, (_again(going, undone),), judged=_may_judge(book))


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
        going = _going(session)
        if going.begun is None:
            raise BadInputError("the session was not begun, so there is nothing to end")
        end_practice(session, going, at)
    return Now(replace(going, ended=at.isoformat()), judged=_may_judge(book))


def _going(session: "Session") -> "Practice":
    from carrybook.store.practice import going_practice

    found = going_practice(session)
    if found is None:
        raise NoSolutionError(
            "no session is planned; plan one: carrybook practise plan --balls 60 --minutes 45"
        )
    return found


def _may_judge(book: Path | None) -> bool:
    last = current_round(book)
    return last is None or not last.is_on


def _again(practice: "Practice", target: "Target") -> "Target":
    """A target as it stands now."""
    return next(t for t in practice.targets if t.key == target.key)


def _take(
    session: "Session", practice: "Practice", reader: "_Reader", line: str, at: datetime
) -> "Target":
    """Take one line; give the target that it is about, as it stood before."""
    from carrybook.store.practice import finish_target, skip_target, strike_target

    target = practice.next
    if target is None:
        raise BadInputError(
            f"{line!r}: all {len(practice.targets)} balls of the session are struck; end it:"
            " carrybook practise end"
        )
    if line.strip().lower() == _SKIP:
        skip_target(session, practice, target, at)
    elif target.called and target.ball is not None:
        said = reader.read(line, target)
        called_first = target.ball.called_m is not None or None
        ball = finished_ball(target.ball, said, called_first=called_first)
        finish_target(session, target, ball, line)
    else:
        ball = _struck(practice, target, reader.read(line, target), at)
        strike_target(session, practice, target, ball, line, at)
    return target


@dataclass(frozen=True, slots=True)
class _Reader:
    """Understands lines about balls of a session."""

    shots: "Sequence[Shot]"
    units: str
    bare: "Bare"

    def read(self, line: str, target: "Target") -> "QuickLine":
        """Understand a line; a ball that was called before is only measured now."""
        from carrybook.app.forms.quick_line import QuickLine, quick_line

        planned, finishing = self._planned(target), target.called
        if line.strip() == _NO_CALL and not finishing:
            return QuickLine(planned, {})
        names = self.shots if not finishing and _names_a_shot(line, self.shots) else ()
        bare: Bare = "carry_m" if finishing else self.bare
        said = quick_line(line, names, units=self.units, shot=planned, bare=bare)
        problem = _problem(said, finishing=finishing)
        if problem:
            raise BadInputError(f"{line!r}: {problem}")
        return said

    def _planned(self, target: "Target") -> "Shot":
        label = target.planned.play.shot
        planned = next((s for s in self.shots if s.label == label), None)
        if planned is None:
            raise BadInputError(
                f"shot {label!r} is not in the book any more; plan anew: carrybook practise plan"
            )
        return planned


def _problem(said: "QuickLine", *, finishing: bool) -> str:
    """What is wrong with what a line says of a ball; nothing where it can be used."""
    known = said.numbers.keys()
    if finishing and "called_m" in known:
        return "this ball was called already; say what it was: got 68 3R"
    if finishing and not {"carry_m", "total_m"} & known:
        return "that does not say what the ball was; write it like: got 68 3R"
    if not {"carry_m", "total_m", "called_m"} & known:
        return "that says neither call nor carry; write it like: called 72 got 68 3R"
    return ""


def _names_a_shot(line: str, shots: "Sequence[Shot]") -> bool:
    """Whether a line begins with a shot: "54 low called 72" does; "54 3R" is a carry."""
    words = " ".join(line.lower().split())
    rests = (words.removeprefix(s.label.lower() + " ") for s in shots)
    return any(rest != words and rest[0].isalpha() for rest in rests)


def _struck(practice: "Practice", target: "Target", said: "QuickLine", at: datetime) -> Ball:
    """The ball of a line; what it was meant to feel like is the plan's, unless the line says so."""
    planned = target.planned
    own = said.shot.label == planned.play.shot
    meant = planned.play.feel_m if own else planned.target_m
    line = replace(said, numbers={"intended_m": meant} | dict(said.numbers))
    return ball_of(line, replace(practice.occasion, lie=planned.lie), at)
