"""Today's numbers: what every owned shot carries in this air, from this lie."""

from collections.abc import Sequence
from dataclasses import dataclass

from carrybook.base.constants import YARD
from carrybook.base.errors import NoSolutionError
from carrybook.physics.aerodynamics import BAND, MID, Aerodynamics
from carrybook.physics.flight import Launch, fly
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
        Today's carry with the low and high end of the lift-and-drag band and of the lie. [m]
    centre_se_m : float
        Standard error of the centre, today. [m]
    spread_m : float
        Half-width around the centre that holds 68 % of single balls, today. [m]
    """

    summary: ShotSummary
    reference_m: float
    today_m: float
    today_low_m: float
    today_high_m: float
    centre_se_m: float
    spread_m: float


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
    today = _carry(summary, air, effect, 1, MID, wind)
    if today is None:
        raise NoSolutionError(
            f"no flight carries {summary.shot.label} its {summary.stock_m / YARD:.0f} yd;"
            " check its carry, and the launch and spin in its logged balls"
        )
    ends = [today] + [
        carry
        for k in (0, 1, 2)
        for a in BAND
        if (carry := _carry(summary, air, effect, k, a, wind)) is not None
    ]
    return TodayNumber(
        summary=summary,
        reference_m=summary.stock_m,
        today_m=today,
        today_low_m=min(ends),
        today_high_m=max(ends),
        centre_se_m=summary.stock_se_m * today / summary.stock_m,
        spread_m=summary.spread * today,
    )


def _carry(
    summary: ShotSummary,
    air: Air,
    effect: LieEffect,
    end: int,
    aerodynamics: Aerodynamics,
    wind: Wind,
) -> float | None:
    """Today's carry of the swing that carries the stock number on the reference day, if any."""
    try:
        speed = speed_for_carry(
            summary.stock_m,
            summary.launch_rad,
            summary.spin_per_speed,
            REFERENCE_DAY,
            aerodynamics=aerodynamics,
        )
    except NoSolutionError:
        return None
    launch, ratio = off_this_lie(summary.launch_rad, summary.spin_per_speed, effect.spin[end])
    struck = speed * effect.speed[end]
    return fly(Launch(struck, launch, ratio * struck), air, wind, aerodynamics=aerodynamics).carry_m
