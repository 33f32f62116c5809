"""Plans of practice: where strokes leak, a session, the standing test, and what came of it."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.files import save_figure, write_file
from carrybook.app.forms.practise import CalendarForm, PractiseForm, demand_in, focused
from carrybook.app.services.book import open_book
from carrybook.app.services.learn import day_summaries
from carrybook.app.services.rounds import require_planning
from carrybook.base.errors import BadInputError, NoSolutionError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from carrybook.decision.demand import Demand
    from carrybook.decision.practise.history import History
    from carrybook.decision.practise.leak import Leaks
    from carrybook.decision.practise.load import Load
    from carrybook.decision.practise.parts import Plan
    from carrybook.decision.practise.standing import StandingTest
    from carrybook.player.summary import ShotSummary

__all__ = [
    "Planned",
    "draw_history",
    "draw_leaks",
    "planned_session",
    "planned_test",
    "practice_history",
    "sheet_of",
    "write_calendar",
    "write_sheet",
]

_TEST_ROOM = 0.25  # ours: a test outlives shots that move by so much
_COUNTS_DAYS = 70.0  # ours: blocks struck before that are forgotten
_TEST_EVERY = 4  # ours: weeks from one standing test to the next
_BACK_DAYS = 35.0  # this week and the four before


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan, and how it stands to the weeks before."""

    plan: "Plan"
    load: "Load"


def planned_session(book: Path | None, asked: PractiseForm, at: datetime, *, seed: int) -> Planned:
    """Plan a session and keep it as the one that comes next.

    Parameters
    ----------
    book : Path, optional
        The book.
    asked : PractiseForm
        Balls, minutes, aim, focus, baseline, demand, air.
    at : datetime
        Now.
    seed : int
        The same seed gives the same order.

    Raises
    ------
    BadInputError
        A focus, file or baseline that cannot be used, or a session that is on.
    NoSolutionError
        No book or shot yet, no shot that reaches any of it, or a round is on.
    """
    from carrybook.decision.practise.session import plan_session
    from carrybook.store.practice import practised_since

    summaries = _summaries(book, asked)
    demand = focused(asked.focus, _demand(book, asked), [s.shot for s in summaries])
    found = _leaks(summaries, demand, asked)
    with open_book(book, reading=True) as opened, opened.session() as session:
        practised = practised_since(session, at, _COUNTS_DAYS)
    plan = plan_session(
        found, balls=asked.balls, minutes=asked.minutes, aim=asked.aim, seed=seed,
        practised=practised,
    )  # fmt: skip
    return _keep(book, plan, asked, at)


def planned_test(
    book: Path | None,
    asked: PractiseForm,
    at: datetime,
    *,
    seed: int,
    balls: int | None = None,
    new: bool = False,
) -> Planned:
    """Plan the standing test and keep it as the session that comes next.

    Parameters
    ----------
    book, asked, at, seed : Path, PractiseForm, datetime, int
        As for `planned_session`; balls, minutes, aim, focus and demand do not matter.
    balls : int, optional
        Of a test that is made now; 27 where none is said.
    new : bool, default False
        Whether to make a new test although there is one: what came before is no match for it.

    Raises
    ------
    BadInputError
        Another number of balls for a test that is there, a distance that no shot reaches any more,
        or a session that is on.
    NoSolutionError
        No book or shot yet, or a round is on.
    """
    from carrybook.decision.practise.demand import practice_demand
    from carrybook.decision.practise.session import plan_test
    from carrybook.world.faced import FacedShot

    summaries = _summaries(book, asked)
    key, standing = _standing(book, summaries, balls=balls, new=new)
    targets = [FacedShot(target) for target in standing.targets_m]
    demand = practice_demand(targets, "the standing test")
    found = _leaks(summaries, demand, asked, room=_TEST_ROOM)
    return _keep(book, plan_test(found, standing, seed=seed), asked, at, standing=key)


def practice_history(book: Path | None) -> "History":
    """Every session that was begun, the tests compared.

    Raises
    ------
    NoSolutionError
        No book yet, no session in it, or a round is on.
    """
    from carrybook.decision.practise.history import history_of
    from carrybook.store.practice import load_practices

    require_planning(book)
    with open_book(book, reading=True) as opened, opened.session() as session:
        practices = load_practices(session)
    if not practices:
        raise NoSolutionError(
            "no session was struck yet; plan one: carrybook practise plan --balls 60 --minutes 45"
        )
    return history_of(practices)


def write_sheet(path: Path, planned: Planned, units: str) -> None:
    """Print a plan, with room for what was called and what it was.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    write_file(path, sheet_of(planned, units))


def sheet_of(planned: Planned, units: str) -> bytes:
    """A plan as a PDF to write on."""
    from carrybook.artefacts.practice_sheet import practice_sheet

    return practice_sheet(planned.plan, planned.load, units=units)


def write_calendar(
    path: Path, planned: Planned, when: CalendarForm, at: datetime, units: str
) -> None:
    """Put a session a week, or a test every four, into a calendar file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.calendar import calendar_of
    from carrybook.artefacts.practice_words import session_event
    from carrybook.decision.practise.session import plan_again

    every = timedelta(weeks=_TEST_EVERY if planned.plan.standing else 1)
    weeks = range(ceil(when.weeks * timedelta(weeks=1) / every))
    plans = (plan_again(planned.plan, seed=planned.plan.seed + k) for k in weeks)
    events = [
        session_event(plan, planned.load, units=units, start=when.start + k * every)
        for k, plan in enumerate(plans)
    ]
    write_file(path, calendar_of(events, at))


def draw_leaks(path: Path, planned: Planned, units: str) -> None:
    """Draw where strokes leak into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.practice import leaks_figure

    save_figure(path, leaks_figure(planned.plan, units=units))


def draw_history(path: Path, found: "History") -> None:
    """Draw the tests into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.practice import history_figure

    save_figure(path, history_figure(found))


def _summaries(book: Path | None, asked: PractiseForm) -> "Sequence[ShotSummary]":
    from carrybook.player.day import Day
    from carrybook.world.air import REFERENCE_DAY

    return day_summaries(book, Day(asked.air or REFERENCE_DAY))


def _demand(book: Path | None, asked: PractiseForm) -> "Demand":
    """What is faced: as said, as recorded rounds or else the log have it, or as usual."""
    from carrybook.decision.practise.demand import (
        demand_of_balls,
        demand_of_rounds,
        usual_demand,
    )
    from carrybook.store.balls import load_balls
    from carrybook.store.round_shots import load_rounds

    if asked.demand is not None:
        return demand_in(asked.demand)
    with open_book(book, reading=True) as opened, opened.session() as session:
        rounds, balls = load_rounds(session), load_balls(session)
    return demand_of_rounds(rounds) or demand_of_balls(balls) or usual_demand()


def _leaks(
    summaries: "Sequence[ShotSummary]", demand: "Demand", asked: PractiseForm, *, room: float = 0.0
) -> "Leaks":
    from carrybook.decision.practise.leak import leaks
    from carrybook.decision.practise.levels import baseline_named, usual_baseline
    from carrybook.world.air import REFERENCE_DAY

    name = asked.baseline or usual_baseline(summaries)
    found = baseline_named(name, summaries)
    return leaks(summaries, demand, found, air=asked.air or REFERENCE_DAY, room=room)


def _standing(
    book: Path | None, summaries: "Sequence[ShotSummary]", *, balls: int | None, new: bool
) -> "tuple[int | None, StandingTest]":
    """The test of the book with its key, or one that is made now, without."""
    from carrybook.decision.practise.standing import FEWEST, standing_test
    from carrybook.store.practice import load_standing

    with open_book(book, reading=True) as opened, opened.session() as session:
        there = load_standing(session)
    if there is None or new:
        return None, standing_test([s.shot for s in summaries], balls or FEWEST)
    if balls not in (None, there[1].balls):
        raise BadInputError(
            f"balls = {balls}: the standing test of this book has {there[1].balls}, and is the same"
            " each time; another one is made by --new, and is no match for what came before"
        )
    return there


def _keep(
    book: Path | None,
    plan: "Plan",
    asked: PractiseForm,
    at: datetime,
    *,
    standing: int | None = None,
) -> Planned:
    from carrybook.decision.practise.load import weekly_load
    from carrybook.store.practice import save_plan, save_standing, struck_since

    with open_book(book) as opened, opened.session() as session:
        if plan.standing is not None and standing is None:
            standing = save_standing(session, plan.standing, at)
        save_plan(session, plan, asked.occasion(at), standing)
        struck = struck_since(session, at, _BACK_DAYS)
    return Planned(plan, weekly_load(struck, at, plan.count))
