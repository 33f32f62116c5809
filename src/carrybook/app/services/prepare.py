"""A week at a venue: numbers by half-day, plans, what changed; what did not change is kept."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.forms.plan import LIKELY_M
from carrybook.app.forms.venue import WeekForm
from carrybook.app.services.kept_plans import DEFAULT_STIMP_M, PlanAsked, do_jobs, jobs_of
from carrybook.app.services.landing import learn_firmness
from carrybook.app.services.learn import summaries_by_day
from carrybook.app.services.plan import Tell
from carrybook.app.services.venues import VenuePage, look_at_venue
from carrybook.app.sweep import Hands
from carrybook.base.constants import FOOT
from carrybook.base.errors import NoSolutionError
from carrybook.world.wind import exposure_named

if TYPE_CHECKING:
    from carrybook.decision.changes import Changes
    from carrybook.decision.half_days import HalfDay
    from carrybook.decision.noted import Evidence, GreenBelief
    from carrybook.decision.plan import Planned
    from carrybook.decision.prepare import HoleDay, PreparedDay
    from carrybook.player.day import Day
    from carrybook.player.summary import ShotSummary
    from carrybook.world.hole import Hole
    from carrybook.world.venue import VenueDay, VenueNote

__all__ = ["PreparedWeek", "prepare_week"]

On = Callable[["Day"], "tuple[ShotSummary, ...]"]


@dataclass(frozen=True, slots=True)
class PreparedWeek:
    """What is prepared for some days at a venue.

    Parameters
    ----------
    page : VenuePage
        What the book has of the venue; notes of other years too.
    holes : tuple of Hole
        Its holes.
    numbers_m : tuple of float
        Distances that are planned from. [m]
    days : tuple of PreparedDay
        In order.
    changes : dict of date to Changes
        What changed since the day before; none for a first day that nothing is known before.
    remarks : tuple of str
        What was taken or left out, and why.
    done, pieces, kept : int
        Pieces of plans that are done, all of them, and those that were done already in the book.
    seed : int
        The same seed gives the same plan.
    """

    page: VenuePage
    holes: "tuple[Hole, ...]"
    numbers_m: tuple[float, ...]
    days: "tuple[PreparedDay, ...]"
    changes: "dict[date, Changes]"
    remarks: tuple[str, ...]
    done: int
    pieces: int
    kept: int
    seed: int


def prepare_week(
    book: Path | None,
    asked: WeekForm,
    *,
    today: date,
    hands: Hands,
    seed: int = 1,
    progress: Tell | None = None,
) -> PreparedWeek:
    """Prepare some days at a venue.

    Parameters
    ----------
    book : Path, optional
        The book.
    asked : WeekForm
        Venue, days, holes and distances.
    today : datetime.date
        Day on which new plans are kept.
    hands : Hands
        Who does the plans; the answer does not depend on it.
    seed : int, default 1
        The same seed gives the same plan.
    progress : callable, optional
        Told what is being done and which share of it is done.

    Returns
    -------
    week : PreparedWeek
        An interrupt from the keyboard ends the plans, and what is done is given and kept.

    Raises
    ------
    BadInputError
        No such venue, its course is gone, a hole that is not there, or a tee time outside the
        forecast.
    NoSolutionError
        A round is on, no book or shot yet, or no forecast for any of the days.
    """
    from carrybook.decision.changes import changes
    from carrybook.world.venue_course import read_course

    tell = progress or (lambda _what, _share: None)
    on = cache(summaries_by_day(book))
    page = look_at_venue(book, asked.venue)
    _require_some_forecast(page, asked)
    holes = read_course(
        page.venue, asked.hole, progress=lambda what, share: tell(what, 0.05 * share)
    )
    evidence = _evidence(book, page.notes)
    wanted = asked.days()
    eve = wanted[0] - timedelta(days=1)
    days = {}
    for k, day in enumerate((eve, *wanted) if eve in page.forecasts else wanted):
        tell(f"numbers of {day}", 0.05 + 0.15 * k / len(wanted))
        days[day] = _day(page, day, holes, evidence, on)
    numbers = asked.numbers or page.venue.numbers_m or LIKELY_M
    question = PlanAsked(numbers, asked.lay_ups, exposure_named(page.venue.surroundings), seed)
    planned = wanted if asked.plans else ()
    jobs = [job for day in planned for job in jobs_of(days[day], holes, question, on)]
    found, kept = do_jobs(book, jobs, hands, today, tell)
    for day in wanted:
        mine = [found[j.fingerprint] for j in jobs if j.day == day and j.fingerprint in found]
        days[day] = _with_plans(days[day], mine)
    return PreparedWeek(
        page=page,
        holes=holes,
        numbers_m=numbers,
        days=tuple(days[day] for day in wanted),
        changes={
            day: changes(before, days[day])
            for day in wanted
            if (before := days.get(day - timedelta(days=1))) and before.halves
        },
        remarks=tuple(_remarks(page, [days[day] for day in wanted], holes)),
        done=sum(job.fingerprint in found for job in jobs),
        pieces=len(jobs),
        kept=kept,
        seed=seed,
    )


def _require_some_forecast(page: VenuePage, asked: WeekForm) -> None:
    if not any(day in page.forecasts for day in asked.days()):
        raise NoSolutionError(
            f"{page.venue.name} has no forecast from {asked.first} to {asked.last}; read one:"
            f" carrybook venue forecast '{page.venue.name}' week.csv"
        )


def _evidence(book: Path | None, notes: "Sequence[VenueNote]") -> "tuple[Evidence, ...]":
    """What each note says of firmness, balls seen to land included."""
    from carrybook.app.forms.landing import seen_named
    from carrybook.decision.noted import evidence_of
    from carrybook.outcomes.landing import Patch
    from carrybook.world.firmness import UNSEEN

    found = []
    for note in notes:
        learnt = None
        if note.saw:
            prior = UNSEEN
            if note.firmness_g is not None and note.firmness_sd_g is not None:
                prior = note.firmness_g, note.firmness_sd_g
            patch = Patch(stimp_m=note.stimp_m or DEFAULT_STIMP_M)
            seen = [seen_named(words) for words in note.saw]
            learnt = learn_firmness(prior, seen, patch, book=book)
        found.append(evidence_of(note, learnt))
    return tuple(each for each in found if each is not None)


def _day(
    page: VenuePage,
    day: date,
    holes: "Sequence[Hole]",
    evidence: "Sequence[Evidence]",
    on: On,
) -> "PreparedDay":
    """Everything of one day but its plans."""
    from carrybook.decision.half_days import forecast_doubt, half_days, half_numbers
    from carrybook.decision.noted import belief_on
    from carrybook.decision.prepare import PreparedDay
    from carrybook.world.venue import VenueDay

    known = page.days.get(day, VenueDay(day))
    course = belief_on(day, "", evidence, page.notes)
    told = page.forecasts.get(day)
    if told is None:
        return PreparedDay(day, known.tee_off, 0.0, (), course)
    doubt = forecast_doubt(day, told.read_on)
    roughness = exposure_named(page.venue.surroundings)
    halves = tuple(
        half_numbers(half, on, doubt, roughness)
        for half in half_days(told.hours, known.tee_off, day)
    )
    greens = [belief_on(day, hole.ref, evidence, page.notes) for hole in holes]
    return PreparedDay(
        day, known.tee_off, doubt, halves, course, tuple(_holes(known, holes, greens, halves))
    )


def _holes(
    known: "VenueDay",
    holes: "Sequence[Hole]",
    greens: "Sequence[GreenBelief]",
    halves: "Sequence[HalfDay]",
) -> "Iterator[HoleDay]":
    from carrybook.decision.half_days import played_at
    from carrybook.decision.prepare import HoleDay, order_of_play
    from carrybook.decision.zones import zone_of
    from carrybook.world.locate import locate

    order = order_of_play([hole.ref for hole in holes], known.first_hole)
    locations = dict(known.locations)
    for hole, green in zip(holes, greens, strict=True):
        hour = played_at(halves, known.tee_off, order[hole.ref])
        words = locations.get(hole.ref, "")
        zone = zone_of(hole, locate(hole, words)) if words else None
        yield HoleDay(hole.ref, hour, green, words, zone)


def _with_plans(day: "PreparedDay", planned: "Sequence[Planned]") -> "PreparedDay":
    return replace(
        day,
        cells=tuple(cell for each in planned for cell in each.cells),
        lay_ups=tuple(each.lay_up for each in planned if each.lay_up is not None),
        left_out=tuple(one for each in planned for one in each.left_out),
    )


def _remarks(
    page: VenuePage, days: "Sequence[PreparedDay]", holes: "Sequence[Hole]"
) -> Iterator[str]:
    """What somebody should know of how this was made."""
    from carrybook.decision.half_days import UNTIMED
    from carrybook.world.firmness import UNSEEN

    missing = [str(day.day) for day in days if not day.halves]
    if missing:
        yield f"no forecast yet for {', '.join(missing)}: nothing is worked out for it"
    untimed = [str(day.day) for day in days if day.halves and day.tee_off is None]
    if untimed:
        hours = " to ".join(f"{at:%H:%M}" for at in UNTIMED)
        yield f"no tee time for {', '.join(untimed)}: hours from {hours} count"
    for hole in holes:
        if hole.bearing_rad is None:
            yield f"hole {hole.ref}: nobody said which way it plays, so it is planned calm"
    for day in days:
        for told in day.holes:
            if told.hour.wind_speed_mps > 0.0 and told.hour.wind_from_true_rad is None:
                yield f"{day.day}, hole {told.hole}: its wind varies, so it is planned calm"
    if all(day.course.noted is None for day in days):
        firmness_g, sd_g = UNSEEN
        yield f"nobody noted how firm the greens are: {firmness_g:.0f} g +- {sd_g:.0f} g"
    if all(day.course.stimp_m is None for day in days):
        yield f"nobody noted a green speed: {DEFAULT_STIMP_M / FOOT:.0f} ft"
