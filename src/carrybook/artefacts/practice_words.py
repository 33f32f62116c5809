"""Practice in words that texts, sheets and calendars share."""

from collections.abc import Iterator
from datetime import datetime
from itertools import groupby
from math import ceil

from carrybook.artefacts import words as w
from carrybook.artefacts.calendar import Event
from carrybook.decision.practise.kinds import Kind
from carrybook.decision.practise.load import MANY_A_WEEK, Load
from carrybook.decision.practise.parts import Plan, PlannedBall, Step

__all__ = [
    "CAUTIONS",
    "ball_words",
    "cues",
    "load_words",
    "session_event",
    "step_words",
    "warm_up_words",
]

CAUTIONS = (
    "Nobody forward of the line; collect balls only when all have stopped; look behind you before"
    ' you swing; shout "fore".',
    "Stop on pain and see a clinician; this is no medical advice. Leave at the first thunder.",
    "Grass or a soft mat is kinder to wrists and elbows than a hard one.",
)
_MOVING = "5 min of easy moving and turning, no long stretches; then"


def warm_up_words(parts: "tuple[tuple[str, float, int], ...]", u: w.Units) -> str:
    """Say what a warm-up is: "5 min of easy moving ..., 2 easy with the 60 to 39 yd, ..."."""
    swings = ", ".join(
        f"{n} easy with the {w.one_line(shot)} to {w.distance(m, u)}" for shot, m, n in parts
    )
    return f"{_MOVING} {swings}"


def ball_words(ball: PlannedBall, u: w.Units, *, feel: bool = True) -> str:
    """Say one ball: "76 yd with the 56 low, feel 75; light rough"."""
    felt = f", feel {w.whole(ball.play.feel_m, u)}" if feel else ""
    return f"{w.distance(ball.target_m, u)} with the {w.one_line(ball.play.shot)}{felt}; {ball.lie}"


def step_words(step: Step, u: w.Units) -> str:
    """Say what a part of a session is, in one line."""
    if step.kind is Kind.WARM_UP:
        return warm_up_words(step.warm_up, u)
    if step.kind is Kind.REST:
        return "sit down, drink, look at the last balls together"
    if step.kind is Kind.BLOCK:
        return f"{len(step.balls)} x {ball_words(step.balls[0], u)}"
    shown = (
        f"{w.distance(ball.target_m, u)} with the {w.one_line(ball.play.shot)}"
        f"{'' if ball.lie == 'fairway' else f' ({ball.lie})'}"
        for ball in step.balls
    )
    return f"{len(step.balls)} balls, each called: {', '.join(shown)}"


def load_words(load: Load) -> Iterator[str]:
    """Say how a week stands to those before it, and what that does and does not mean."""
    before = ", ".join(str(n) for n in load.before)
    known = f"the four weeks before had {before} (mean {load.usual:.0f})"
    yield (
        f"Load: {load.this_week} balls in the last seven days and {load.planned} now make"
        f" {load.week}; {known if load.usual else 'none is logged of the four weeks before'}."
        " Counted are logged balls with a time, and warm-ups."
    )
    if load.jumps:
        yield (
            f"That is {load.week / load.usual:.1f} times your usual week:"
            " raise a week's balls slowly."
        )
    if load.many:
        yield (
            f"More than {MANY_A_WEEK} balls a week went with clearly more injuries, mostly among"
            " amateurs: an association, not a limit; your body and your clinician know more."
        )


def session_event(plan: Plan, load: Load, *, units: str, start: datetime) -> Event:
    """Make a calendar event of a plan.

    Parameters
    ----------
    plan, load : Plan, Load
        The session, and the weeks before it.
    units : str
        "yards" or "metres".
    start : datetime
        When: local, without a zone.

    Raises
    ------
    BadInputError
        Units of another name.
    """
    u = w.units_named(units)
    what = "standing test" if plan.standing else f"practise, {plan.aim.value}"
    lines = [f"{s.minutes:.0f} min {s.kind}: {step_words(s, u)}" for s in plan.steps]
    lines += [f"cue {shot}: {cue}" for shot, cue in cues(plan)]
    lines += [*load_words(load), *CAUTIONS]
    minutes = ceil(plan.takes_min)
    summary = f"{what}: {plan.count} balls, {minutes} min"
    return Event(start, minutes, summary, "\n".join(lines))


def cues(plan: Plan) -> list[tuple[str, str]]:
    """Shots of a plan and the player's own words for them, each once, in order."""
    found = sorted((b.play.shot, w.one_line(b.play.cue)) for b in plan.struck if b.play.cue)
    return [(w.one_line(shot), cue) for (shot, cue), _ in groupby(found)]
