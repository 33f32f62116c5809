"""Lines about the balls of a session: which ball each is about, and what it does in the book."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

from carrybook.app.services.log import ball_of, finished_ball
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.player.balls import Ball

if TYPE_CHECKING:
    from carrybook.app.forms.quick_line import Bare, QuickLine
    from carrybook.decision.practise.running import Practice, Target
    from carrybook.player.bag import Shot
    from carrybook.store.book import Session

__all__ = ["SKIP", "LineReader", "going_session", "next_of", "take_line"]

SKIP = "skip"
_NO_CALL = "-"


def going_session(session: "Session") -> "Practice":
    """The session that is planned or on.

    Raises
    ------
    NoSolutionError
        There is none.
    """
    from carrybook.store.practice import going_practice

    found = going_practice(session)
    if found is None:
        raise NoSolutionError(
            "no session is planned; plan one: carrybook practise plan --balls 60 --minutes 45"
        )
    return found


def next_of(practice: "Practice", line: str) -> "Target":
    """The target that a line is about, where it does not say which.

    Raises
    ------
    BadInputError
        All balls are struck.
    """
    target = practice.next
    if target is None:
        raise BadInputError(
            f"{line!r}: all {len(practice.targets)} balls of the session are struck; end it:"
            " carrybook practise end"
        )
    return target


def take_line(
    session: "Session",
    practice: "Practice",
    target: "Target",
    reader: "LineReader",
    line: str,
    at: datetime,
) -> None:
    """Take one line about a target: a call, what a called ball was, both, or that it is skipped.

    Raises
    ------
    BadInputError
        A line that is not understood.
    """
    from carrybook.store.practice import finish_target, skip_target, strike_target

    if line.strip().lower() == SKIP:
        skip_target(session, practice, target, at)
    elif target.called and target.ball is not None:
        said = reader.read(line, target)
        called_first = target.ball.called_m is not None or None
        ball = finished_ball(target.ball, said, called_first=called_first)
        finish_target(session, target, ball, line)
    else:
        ball = _struck(practice, target, reader.read(line, target), at)
        strike_target(session, practice, target, ball, line, at)


@dataclass(frozen=True, slots=True)
class LineReader:
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
