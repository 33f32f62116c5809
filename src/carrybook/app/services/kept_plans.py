"""Plans of many holes and days, piece by piece: what is in the book is not worked out again.

A piece is known by a fingerprint of everything that it depends on: the hole, where it is cut, the
air, the wind, the green, the shots, the distances and the sources that make a plan of them.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.services.book import open_book
from carrybook.app.services.plan import Tell, do_pieces
from carrybook.app.sweep import Hands
from carrybook.base.constants import FOOT
from carrybook.world.wind import CALM, Wind

if TYPE_CHECKING:
    from carrybook.decision.plan import Brief, Piece, Planned
    from carrybook.decision.prepare import HoleDay, PreparedDay
    from carrybook.player.day import Day
    from carrybook.player.summary import ShotSummary
    from carrybook.world.forecast import Hour
    from carrybook.world.hole import Hole

__all__ = ["DEFAULT_STIMP_M", "Job", "PlanAsked", "do_jobs", "jobs_of", "program"]

DEFAULT_STIMP_M = 10.0 * FOOT
_STEP_G = 2.0  # ours: firmness as plans take it
_PAR_OF_LAY_UPS = 5
_ROOMS = ("base", "world", "physics", "player", "outcomes", "decision")  # what makes a plan

On = Callable[["Day"], "tuple[ShotSummary, ...]"]


@dataclass(frozen=True, slots=True)
class PlanAsked:
    """What is asked of every hole.

    Parameters
    ----------
    numbers_m : tuple of float
        Distances to plan from. [m]
    lay_ups : str or tuple of str
        On which holes to look what to leave: "par 5", "all", "none", or their numbers.
    roughness_m : float
        Of the surroundings. [m]
    seed : int
        The same seed gives the same plan.
    """

    numbers_m: tuple[float, ...]
    lay_ups: str | tuple[str, ...]
    roughness_m: float
    seed: int


@dataclass(frozen=True, slots=True)
class Job:
    """A piece of a plan: for which day, under which fingerprint."""

    day: date
    fingerprint: str
    brief: "Brief"
    piece: "Piece"


def jobs_of(day: "PreparedDay", holes: "Sequence[Hole]", asked: PlanAsked, on: On) -> Iterator[Job]:
    """Give the pieces of the plans of one day; none where there is no forecast.

    Parameters
    ----------
    day : PreparedDay
        The day.
    holes : sequence of Hole
        The holes.
    asked : PlanAsked
        What is asked of every hole.
    on : callable
        Gives the shots as they are on a day.
    """
    from carrybook.base.digest import digest_of

    for hole, told in zip(holes, day.holes, strict=False):  # no holes where no forecast
        brief = _brief(hole, told, asked, on)
        whole = digest_of((program(), brief))
        for piece in _pieces(hole, told, brief, asked):
            yield Job(day.day, digest_of((whole, piece)), brief, piece)


@cache
def program() -> str:
    """Fingerprint of what makes a plan: after an edit there, or an update, plans are made anew."""
    import carrybook
    from carrybook.base.digest import digest_of_sources

    return digest_of_sources(Path(carrybook.__file__).parent, _ROOMS)


def _brief(hole: "Hole", told: "HoleDay", asked: PlanAsked, on: On) -> "Brief":
    from carrybook.decision.advice import Situation
    from carrybook.decision.lay_ups import scatter_of
    from carrybook.decision.plan import NOWHERE, Brief
    from carrybook.decision.prepare import for_planning
    from carrybook.player.day import Day

    hour = for_planning(told.hour)
    summaries = on(Day(hour.air))
    situation = Situation(
        hole=hole,
        location=NOWHERE,
        ball_x=0.0,
        ball_y=0.0,
        air=hour.air,
        wind=_wind(hour, hole, asked.roughness_m),
        firmness_g=_STEP_G * round(told.green.firmness_g / _STEP_G),
        firmness_sd_g=_STEP_G * max(1, round(told.green.sd_g / _STEP_G)),
        stimp_m=told.green.stimp_m or DEFAULT_STIMP_M,
    )
    return Brief(situation, summaries, asked.numbers_m, scatter_of(summaries), seed=asked.seed)


def _wind(hour: "Hour", hole: "Hole", roughness_m: float) -> Wind:
    """Along the approach; calm where nobody knows which way that is."""
    return CALM if hole.bearing_rad is None else hour.wind(hole.bearing_rad, roughness_m)


def _pieces(hole: "Hole", told: "HoleDay", brief: "Brief", asked: PlanAsked) -> "Iterator[Piece]":
    """Where the hole is cut, or all ninths while nobody knows; and what to leave."""
    from carrybook.decision.plan import pieces_of
    from carrybook.decision.prepared import Zone
    from carrybook.decision.zones import zone_locations
    from carrybook.world.locate import locate

    zone = told.zone or Zone.MIDDLE_CENTRE
    places = (
        {zone: locate(hole, told.location)}
        if told.location
        else zone_locations(hole, brief.situation.stimp_m)
    )
    yield from pieces_of(places, zone if _lays_up(hole, asked.lay_ups) else None)


def _lays_up(hole: "Hole", asked: str | tuple[str, ...]) -> bool:
    if isinstance(asked, tuple):
        return hole.ref in asked
    return asked == "all" or (asked != "none" and hole.par == _PAR_OF_LAY_UPS)


def do_jobs(
    book: Path | None, jobs: Sequence[Job], hands: Hands, today: date, tell: Tell
) -> "tuple[dict[str, Planned], int]":
    """Take from the book what is there, do the rest, and keep it.

    Parameters
    ----------
    book : Path, optional
        The book.
    jobs : sequence of Job
        All pieces that are wanted.
    hands : Hands
        Who does them.
    today : datetime.date
        Day on which new ones are kept.
    tell : callable
        Told what is being done and which share of it is done.

    Returns
    -------
    found, kept : dict of str to Planned, int
        By fingerprint, those before an interrupt; how many of the jobs were in the book.

    Raises
    ------
    BadInputError
        A scheduler that cannot be reached.
    """
    from carrybook.store.planned import load_planned, save_planned

    with open_book(book, reading=True) as opened, opened.session() as session:
        found = load_planned(session, (job.fingerprint for job in jobs))
    kept = sum(job.fingerprint in found for job in jobs)
    missing = {job.fingerprint: job for job in jobs if job.fingerprint not in found}
    briefs = list({id(job.brief): job.brief for job in missing.values()}.values())
    place = {id(brief): k for k, brief in enumerate(briefs)}
    pieces = [(place[id(job.brief)], job.piece) for job in missing.values()]
    done = do_pieces(briefs, pieces, hands, lambda what, share: tell(what, 0.2 + 0.8 * share))
    names = list(missing)
    made = {names[number]: planned for number, planned in done.items()}
    with open_book(book) as opened, opened.session() as session:
        save_planned(session, made, today)
    return {**found, **made}, kept
