"""Today's numbers: what every owned shot carries in this air, in this wind, from this lie."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice, pairwise

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.errors import NoSolutionError
from carrybook.physics.band import GUARDED_BAND, UNGUARDED, Guard, guard_flight
from carrybook.physics.flight import body_row, fly_path, level_carries, wind_row
from carrybook.physics.solve import solve_landings
from carrybook.physics.strike import LieEffect, lie_effect, off_this_lie
from carrybook.player.carried import Carried, DaySwing, Outdoors, carry_swings
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import CALM, Wind

__all__ = [
    "ForDistance",
    "Reach",
    "Split",
    "TodayNumber",
    "carries_today",
    "numbers_today",
    "reaches",
    "shots_for",
]


@dataclass(frozen=True, slots=True)
class Split:
    """What moved a carry since the reference day, in parts that sum exactly.

    Parameters
    ----------
    air_m, ball_m, wind_m, body_m, lie_m : float
        What each adds after those before it: air, temperature of the ball, wind, the player's own
        body and the occasion, lie and moisture. [m]
    """

    air_m: float
    ball_m: float
    wind_m: float
    body_m: float
    lie_m: float


@dataclass(frozen=True, slots=True)
class TodayNumber:
    """One shot's carry on the reference day and today.

    Parameters
    ----------
    summary : ShotSummary
        What the log says of the shot, with the shift of the day.
    reference_m, today_m : float
        Carry at stock feel on the reference day and today, level. [m]
    today_low_m, today_high_m : float
        Today's carry with the low and high end of the lift-and-drag band and of the lie; at least
        8 % either way where lift may reverse. [m]
    centre_se_m : float
        Standard error of the centre, today. [m]
    spread_m : float
        Half-width around the centre that holds 68 % of single balls, today. [m]
    shortest_m, longest_m : float
        What the ends of its felt partials carry today. [m]
    split : Split
        What moved it since the reference day.
    guard : Guard
        Where today's flight, over the range of the lie, leaves what lift and drag were made for.
    """

    summary: ShotSummary
    reference_m: float
    today_m: float
    today_low_m: float
    today_high_m: float
    centre_se_m: float
    spread_m: float
    shortest_m: float
    longest_m: float
    split: Split
    guard: Guard = UNGUARDED


@dataclass(frozen=True, slots=True)
class Reach:
    """A stretch of today's carries and the shots whose partials have it; none is a gap.

    Parameters
    ----------
    low_m, high_m : float
        Its ends. [m]
    shots : tuple of str
        Labels of the shots.
    """

    low_m: float
    high_m: float
    shots: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ForDistance:
    """One shot for a wanted carry.

    Parameters
    ----------
    summary : ShotSummary
        The shot.
    feel_m : float
        What to feel. [m]
    feel_se_m : float
        How well that is known. [m]
    playing_m : float
        Carry on the reference day of the swing that is needed. [m]
    spread_m : float
        Half-width that holds 68 % of balls around the wanted carry. [m]
    miss_m : float
        Spread and doubt of the centre together: what ranks the shots. [m]
    aim_right_rad : float
        Start line that a steady wind and its own curve ask for, right positive. [rad]
    """

    summary: ShotSummary
    feel_m: float
    feel_se_m: float
    playing_m: float
    spread_m: float
    miss_m: float
    aim_right_rad: float


def numbers_today(
    summaries: Sequence[ShotSummary],
    air: Air,
    *,
    lie: Lie = Lie.FAIRWAY,
    moisture: Moisture = Moisture.DRY,
    wind: Wind = CALM,
) -> tuple[TodayNumber, ...]:
    """Carry every shot from the reference day to today.

    Parameters
    ----------
    summaries : sequence of ShotSummary
        What the log says of each shot, with the shift of the day where one is known.
    air : Air
        Today's air.
    lie, moisture : Lie, Moisture
        Where the ball lies and how wet it is.
    wind : Wind
        Relative to the line of the shot.

    Returns
    -------
    numbers : tuple of TodayNumber
        In the order of `summaries`.

    Raises
    ------
    BadInputError
        A lie that is not modelled.
    NoSolutionError
        A carry that no flight gives.
    """
    day = Outdoors(air, wind, lie_effect(lie, moisture))
    asked = [_asked(summary, day) for summary in summaries]
    carried = iter(carry_swings([swing for each in asked for swing in each]))
    return tuple(_number(list(islice(carried, len(each)))) for each in asked)


def carries_today(
    summaries: Sequence[ShotSummary],
    air: Air,
    *,
    lie: Lie = Lie.FAIRWAY,
    moisture: Moisture = Moisture.DRY,
    wind: Wind = CALM,
) -> tuple[float, ...]:
    """Give the carries of :func:`numbers_today` alone; far quicker. [m]

    Parameters and errors are those of :func:`numbers_today`.
    """
    day = Outdoors(air, wind, lie_effect(lie, moisture))
    swings = [DaySwing(s, _swing_today(s), day, s.ball.best) for s in summaries]
    return tuple(_flown(carried) for carried in carry_swings(swings))


def reaches(numbers: Sequence[TodayNumber]) -> tuple[Reach, ...]:
    """Split today's carries into stretches by which shots' partials have them.

    Parameters
    ----------
    numbers : sequence of TodayNumber
        Today's numbers.

    Returns
    -------
    stretches : tuple of Reach
        From the shortest partial to the longest, without holes; those with no shot are gaps.
    """
    ends = sorted({end for n in numbers for end in (n.shortest_m, n.longest_m)})
    return tuple(
        Reach(low, high, tuple(n.summary.shot.label for n in numbers if _has(n, low, high)))
        for low, high in pairwise(ends)
    )


def _has(n: TodayNumber, low: float, high: float) -> bool:
    return n.shortest_m <= low and n.longest_m >= high


def shots_for(
    summaries: Sequence[ShotSummary],
    carry_m: float,
    air: Air,
    *,
    lie: Lie = Lie.FAIRWAY,
    moisture: Moisture = Moisture.DRY,
    wind: Wind = CALM,
) -> tuple[ForDistance, ...]:
    """Which shot carries a distance today, and what number to feel; the best first.

    Parameters
    ----------
    summaries : sequence of ShotSummary
        What the log says of each shot, with the shift of the day where one is known.
    carry_m : float
        Wanted carry along the line, level. [m]
    air, lie, moisture, wind : Air, Lie, Moisture, Wind
        As in :func:`numbers_today`.

    Returns
    -------
    options : tuple of ForDistance
        Shots whose partials hold the feel number, by what a single ball would miss by.

    Raises
    ------
    BadInputError
        A lie that is not modelled.
    NoSolutionError
        No shot carries that today.
    """
    effect = lie_effect(lie, moisture)
    found = [_for_distance(s, carry_m, Outdoors(air, wind, effect)) for s in summaries]
    options = sorted((f for f in found if f), key=lambda f: f.miss_m)
    if not options:
        raise NoSolutionError(
            f"no shot carries {carry_m / YARD:.0f} yd ({carry_m:.0f} m) today within the partials"
            " it is used for; see carrybook numbers for what each carries"
        )
    return tuple(options)


_CLEAN = LieEffect((1.0, 1.0, 1.0), (1.0, 1.0, 1.0))
_ENDS = (0, 1, 2)  # of what a lie does
_MOVED, _FELT = 6, 2  # swings of a number: what moves it step by step, its partials; then its ends


def _asked(summary: ShotSummary, day: Outdoors) -> list[DaySwing]:
    """Swings that make one number: the steps of what moves it, its partials, its ends."""
    shift, stock, flown = summary.shift, summary.stock_m, summary.ball.best
    ball, body = (float(np.exp(x)) for x in (shift.ball, shift.body + shift.competition))
    calm, windy = Outdoors(day.air, CALM, _CLEAN), Outdoors(day.air, day.wind, _CLEAN)
    moved = (
        (stock, Outdoors(REFERENCE_DAY, CALM, _CLEAN)),
        (stock, calm),
        (stock * ball, calm),
        (stock * ball, windy),
        (stock * ball * body, windy),
        (_swing_today(summary), day),
    )
    felt = summary.reference_for(np.array([summary.shot.shortest_m, summary.shot.longest_m]))
    ends = [(k, a) for a in (flown, *summary.ball.possible()) for k in _ENDS]
    return [
        *(DaySwing(summary, playing, on, flown) for playing, on in moved),
        *(DaySwing(summary, playing, day, flown) for playing in felt.tolist()),
        *(DaySwing(summary, _swing_today(summary), day, a, k) for k, a in ends),
    ]


def _swing_today(summary: ShotSummary) -> float:
    """What today's swing at stock feel carries on the reference day. [m]"""
    return summary.stock_m * float(np.exp(summary.shift.total))


def _number(carried: Sequence[Carried]) -> TodayNumber:
    """Put a number together from its swings, in the order of `_asked`."""
    moved, felt, ends = (
        carried[:_MOVED],
        carried[_MOVED : _MOVED + _FELT],
        carried[_MOVED + _FELT :],
    )
    summary = moved[0].swing.summary
    known = [_flown(each) for each in moved]
    known[0] = summary.stock_m
    today = known[-1]
    low, high, guard = _left_open(ends, today)
    partials = _partials(felt, today / moved[-1].swing.playing_m)
    return TodayNumber(
        summary=summary,
        reference_m=summary.stock_m,
        today_m=today,
        today_low_m=low,
        today_high_m=high,
        centre_se_m=summary.bias_se * today,
        spread_m=summary.spread * today,
        shortest_m=min(partials),
        longest_m=max(partials),
        split=Split(*(after - before for before, after in pairwise(known))),
        guard=guard,
    )


def _flown(carried: Carried) -> float:
    if carried.carry_m is None:
        summary = carried.swing.summary
        raise NoSolutionError(
            f"no flight carries {summary.shot.label} its {summary.stock_m / YARD:.0f} yd;"
            " check its carry, and the launch and spin in its logged balls"
        )
    return carried.carry_m


def _left_open(ends: Sequence[Carried], today_m: float) -> tuple[float, float, Guard]:
    """Ends of today's carry over drag, lift and lie, and what guards its flight."""
    flown, possible = ends[: len(_ENDS)], ends[len(_ENDS) :]
    guard = _widest([g for g in map(_guard, flown) if g is not None])
    room = GUARDED_BAND * today_m if guard.reverse else 0.0
    carries = [c.carry_m for c in possible if c.carry_m is not None]
    carries += [today_m - room, today_m + room]
    return min(carries), max(carries), guard


def _partials(felt: Sequence[Carried], share: float) -> list[float]:
    """What the ends of its felt partials carry today; in proportion where none flies."""
    return [c.swing.playing_m * share if c.carry_m is None else c.carry_m for c in felt]


def _guard(carried: Carried) -> Guard | None:
    """What guards a flight; none where there is none."""
    launch, spin, day = carried.launch, carried.spin_rad_s, carried.swing.day
    if launch is None or spin is None:
        return None
    path = fly_path(launch, day.air, day.wind, aerodynamics=carried.swing.aerodynamics)
    return guard_flight(launch, path, spin, day.air, day.wind)


def _widest(guards: Sequence[Guard]) -> Guard:
    """What any of these flights leaves."""
    return Guard(
        reverse=any(g.reverse for g in guards),
        spin_parameters=(
            min(g.spin_parameters[0] for g in guards),
            max(g.spin_parameters[1] for g in guards),
        ),
        reynolds=(min(g.reynolds[0] for g in guards), max(g.reynolds[1] for g in guards)),
    )


def _for_distance(summary: ShotSummary, carry_m: float, day: Outdoors) -> ForDistance | None:
    """One shot for a wanted carry; none where its partials do not hold it."""
    launch, ratio, tilt = summary.launch_rad, summary.spin_per_speed, summary.curve.axis_rad
    flown = summary.ball.best
    solved = solve_landings(
        np.array([[carry_m, 0.0, 0.0]]),
        np.array([[*off_this_lie(launch, ratio, day.effect.spin[1]), tilt]]),
        body_row(day.air),
        flown.row()[None, :],
        np.zeros(1, dtype=np.int64),
        wind_row(day.wind),
    )
    if not solved[0, 7]:
        return None
    speed = solved[:, 0] / day.effect.speed[1]
    playing = level_carries(speed, launch, ratio, aerodynamics=flown, axis_rad=tilt)
    feel = float(summary.felt_for(playing)[0])
    if not summary.shot.shortest_m <= feel <= summary.shot.longest_m:
        return None
    spread = summary.spread_at(feel) * carry_m
    return ForDistance(
        summary=summary,
        feel_m=feel,
        feel_se_m=feel * summary.bias_se,
        playing_m=float(playing[0]),
        spread_m=spread,
        miss_m=float(np.hypot(spread, summary.bias_se * carry_m)),
        aim_right_rad=float(solved[0, 1]),
    )
