"""Today's numbers: what every owned shot carries in this air, in this wind, from this lie."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.errors import NoSolutionError
from carrybook.physics.aerodynamics import Aerodynamics
from carrybook.physics.band import GUARDED_BAND, UNGUARDED, Guard, guard_flight
from carrybook.physics.flight import Launch, body_row, fly, fly_path, level_carries, wind_row
from carrybook.physics.solve import solve_landings, speed_for_carry
from carrybook.physics.strike import LieEffect, lie_effect, off_this_lie
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
    effect = lie_effect(lie, moisture)
    return tuple(_number(summary, _Today(air, wind, effect)) for summary in summaries)


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
    day = _Today(air, wind, lie_effect(lie, moisture))
    swings = [s.stock_m * float(np.exp(s.shift.total)) for s in summaries]
    carries = [
        _carry(s, swing, day, 1, s.ball.best) for s, swing in zip(summaries, swings, strict=True)
    ]
    return tuple(_flown(s, carry) for s, carry in zip(summaries, carries, strict=True))


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
    found = [_for_distance(s, carry_m, _Today(air, wind, effect)) for s in summaries]
    options = sorted((f for f in found if f), key=lambda f: f.miss_m)
    if not options:
        raise NoSolutionError(
            f"no shot carries {carry_m / YARD:.0f} yd ({carry_m:.0f} m) today within the partials"
            " it is used for; see carrybook numbers for what each carries"
        )
    return tuple(options)


@dataclass(frozen=True, slots=True)
class _Today:
    air: Air
    wind: Wind
    effect: LieEffect


_CLEAN = LieEffect((1.0, 1.0, 1.0), (1.0, 1.0, 1.0))


def _number(summary: ShotSummary, day: _Today) -> TodayNumber:
    shift, stock, flown = summary.shift, summary.stock_m, summary.ball.best
    swing = stock * float(np.exp(shift.total))
    ball, body = (float(np.exp(x)) for x in (shift.ball, shift.body + shift.competition))
    steps = (
        (stock, _Today(REFERENCE_DAY, CALM, _CLEAN)),
        (stock, _Today(day.air, CALM, _CLEAN)),
        (stock * ball, _Today(day.air, CALM, _CLEAN)),
        (stock * ball, _Today(day.air, day.wind, _CLEAN)),
        (stock * ball * body, _Today(day.air, day.wind, _CLEAN)),
        (swing, day),
    )
    carries = [_carry(summary, playing, on, 1, flown) for playing, on in steps]
    known = [_flown(summary, carry) for carry in carries]
    known[0] = stock
    today = known[-1]
    low, high, guard = _left_open(summary, swing, day, today)
    partials = _partials(summary, day, today / swing)
    return TodayNumber(
        summary=summary,
        reference_m=stock,
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


def _flown(summary: ShotSummary, carry_m: float | None) -> float:
    if carry_m is None:
        raise NoSolutionError(
            f"no flight carries {summary.shot.label} its {summary.stock_m / YARD:.0f} yd;"
            " check its carry, and the launch and spin in its logged balls"
        )
    return carry_m


def _left_open(
    summary: ShotSummary, swing_m: float, day: _Today, today_m: float
) -> tuple[float, float, Guard]:
    """Ends of today's carry over drag, lift and lie, and what guards its flight."""
    flown = summary.ball.best
    struck = (_struck(summary, swing_m, day.effect, k, flown) for k in (0, 1, 2))
    guard = _widest([_guard(launch, day, flown) for launch in struck if launch is not None])
    room = GUARDED_BAND * today_m if guard.reverse else 0.0
    ends = [today_m - room, today_m + room] + [
        carry
        for k in (0, 1, 2)
        for a in summary.ball.possible()
        if (carry := _carry(summary, swing_m, day, k, a)) is not None
    ]
    return min(ends), max(ends), guard


def _partials(summary: ShotSummary, day: _Today, share: float) -> list[float]:
    """What the ends of its felt partials carry today; in proportion where none flies."""
    felt = np.array([summary.shot.shortest_m, summary.shot.longest_m])
    return [
        carry
        if (carry := _carry(summary, playing, day, 1, summary.ball.best)) is not None
        else share * playing
        for playing in summary.reference_for(felt).tolist()
    ]


def _carry(
    summary: ShotSummary, playing_m: float, day: _Today, end: int, aerodynamics: Aerodynamics
) -> float | None:
    """Carry on a day of the swing that carries `playing_m` on the reference day, if any."""
    launch = _struck(summary, playing_m, day.effect, end, aerodynamics)
    if launch is None:
        return None
    return fly(launch, day.air, day.wind, aerodynamics=aerodynamics).distance_m


def _struck(
    summary: ShotSummary,
    playing_m: float,
    effect: LieEffect,
    end: int,
    aerodynamics: Aerodynamics,
) -> Launch | None:
    """Launch off this lie of the swing that carries a number on the reference day, if any."""
    launch, ratio, tilt = summary.launch_rad, summary.spin_per_speed, summary.curve.axis_rad
    try:
        speed = speed_for_carry(
            playing_m, launch, ratio, REFERENCE_DAY, aerodynamics=aerodynamics, axis_rad=tilt
        )
    except NoSolutionError:
        return None
    launch, ratio = off_this_lie(launch, ratio, effect.spin[end])
    struck = speed * effect.speed[end]
    return Launch(struck, launch, ratio * struck, tilt)


def _guard(launch: Launch, day: _Today, aerodynamics: Aerodynamics) -> Guard:
    landing = fly(launch, day.air, day.wind, aerodynamics=aerodynamics)
    path = fly_path(launch, day.air, day.wind, aerodynamics=aerodynamics)
    return guard_flight(launch, path, landing.spin_rad_s, day.air, day.wind)


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


def _for_distance(summary: ShotSummary, carry_m: float, day: _Today) -> ForDistance | None:
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
