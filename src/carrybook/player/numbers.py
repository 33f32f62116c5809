"""Today's numbers: what every owned shot carries in this air, from this lie."""

from collections.abc import Sequence
from dataclasses import dataclass

from carrybook.base.constants import YARD
from carrybook.base.errors import NoSolutionError
from carrybook.physics.aerodynamics import Aerodynamics
from carrybook.physics.band import GUARDED_BAND, UNGUARDED, Guard, guard_flight
from carrybook.physics.flight import Launch, fly, fly_path
from carrybook.physics.solve import speed_for_carry
from carrybook.physics.strike import LieEffect, lie_effect, off_this_lie
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import CALM, Wind

__all__ = ["TodayNumber", "numbers_today"]


@dataclass(frozen=True, slots=True)
class TodayNumber:
    """One shot's carry on the reference day and today.

    Parameters
    ----------
    summary : ShotSummary
        What the log says of the shot.
    reference_m, today_m : float
        Carry at stock feel on the reference day and today, level and calm. [m]
    today_low_m, today_high_m : float
        Today's carry with the low and high end of the lift-and-drag band and of the lie; at least
        8 % either way where lift may reverse. [m]
    centre_se_m : float
        Standard error of the centre, today. [m]
    spread_m : float
        Half-width around the centre that holds 68 % of single balls, today. [m]
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
    guard: Guard = UNGUARDED


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
        What the log says of each shot.
    air : Air
        Today's air.
    lie, moisture : Lie, Moisture
        Where the ball lies and how wet it is.
    wind : Wind, default calm
        Along the line of the shot.

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
    return tuple(_number(summary, air, effect, wind) for summary in summaries)


def _number(summary: ShotSummary, air: Air, effect: LieEffect, wind: Wind) -> TodayNumber:
    middle = _struck(summary, effect, 1, summary.ball.best)
    if middle is None:
        raise NoSolutionError(
            f"no flight carries {summary.shot.label} its {summary.stock_m / YARD:.0f} yd;"
            " check its carry, and the launch and spin in its logged balls"
        )
    landing = fly(middle, air, wind, aerodynamics=summary.ball.best)
    today = landing.distance_m
    guards = [
        _guard(launch, air, wind, summary.ball.best)
        for k in (0, 1, 2)
        if (launch := _struck(summary, effect, k, summary.ball.best)) is not None
    ]
    room = GUARDED_BAND * today if any(guard.reverse for guard in guards) else 0.0
    ends = [today - room, today + room] + [
        fly(launch, air, wind, aerodynamics=a).distance_m
        for k in (0, 1, 2)
        for a in summary.ball.possible()
        if (launch := _struck(summary, effect, k, a)) is not None
    ]
    return TodayNumber(
        summary=summary,
        reference_m=summary.stock_m,
        today_m=today,
        today_low_m=min(ends),
        today_high_m=max(ends),
        centre_se_m=summary.stock_se_m * today / summary.stock_m,
        spread_m=summary.spread * today,
        guard=_widest(guards),
    )


def _struck(
    summary: ShotSummary, effect: LieEffect, end: int, aerodynamics: Aerodynamics
) -> Launch | None:
    """Launch off this lie of the swing that carries its number on the reference day, if any."""
    tilt = summary.curve.axis_rad
    try:
        speed = speed_for_carry(
            summary.stock_m,
            summary.launch_rad,
            summary.spin_per_speed,
            REFERENCE_DAY,
            aerodynamics=aerodynamics,
            axis_rad=tilt,
        )
    except NoSolutionError:
        return None
    launch, ratio = off_this_lie(summary.launch_rad, summary.spin_per_speed, effect.spin[end])
    struck = speed * effect.speed[end]
    return Launch(struck, launch, ratio * struck, tilt)


def _guard(launch: Launch, air: Air, wind: Wind, aerodynamics: Aerodynamics) -> Guard:
    landing = fly(launch, air, wind, aerodynamics=aerodynamics)
    path = fly_path(launch, air, wind, aerodynamics=aerodynamics)
    return guard_flight(launch, path, landing.spin_rad_s, air, wind)


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
