"""Swings that are known by their carry on the reference day, flown on other days: all at once."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import isnan, nan

import numpy as np

from carrybook.base.numerics import Floats
from carrybook.physics.aerodynamics import Aerodynamics
from carrybook.physics.flight import Launch, body_row, fly_batch, level_net, wind_row
from carrybook.physics.solve import solve_landings
from carrybook.physics.strike import LieEffect, off_this_lie
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.wind import CALM, Wind

__all__ = ["Carried", "DaySwing", "Outdoors", "carry_swings"]


@dataclass(frozen=True, slots=True)
class Outdoors:
    """Air, wind and lie that a ball is struck in.

    Parameters
    ----------
    air : Air
        Its air.
    wind : Wind
        Relative to the line of the shot.
    effect : LieEffect
        What the lie does to the strike.
    """

    air: Air
    wind: Wind
    effect: LieEffect


@dataclass(frozen=True, slots=True)
class DaySwing:
    """A swing of a shot, struck on some day.

    Parameters
    ----------
    summary : ShotSummary
        The shot.
    playing_m : float
        What the swing carries on the reference day. [m]
    day : Outdoors
        Where it is struck.
    aerodynamics : Aerodynamics
        What the ball flies with, on both days.
    end : int, default 1
        Low, middle or high end of what the lie does: 0, 1, 2.
    """

    summary: ShotSummary
    playing_m: float
    day: Outdoors
    aerodynamics: Aerodynamics
    end: int = 1


@dataclass(frozen=True, slots=True)
class Carried:
    """How a swing is launched off its lie and what it carries; `launch` is none where none does.

    Parameters
    ----------
    swing : DaySwing
        The swing.
    launch : Launch or None
        Off the lie; none where no flight carries the number on the reference day.
    carry_m : float or None
        Straight from launch to landing; none without a launch. [m]
    spin_rad_s : float or None
        Spin at the landing. [rad/s]
    """

    swing: DaySwing
    launch: Launch | None = None
    carry_m: float | None = None
    spin_rad_s: float | None = None


def carry_swings(swings: Sequence[DaySwing]) -> list[Carried]:
    """Fly many swings, each on its own day.

    Parameters
    ----------
    swings : sequence of DaySwing
        The swings.

    Returns
    -------
    carried : list of Carried
        In their order.

    Raises
    ------
    OutOfRangeError
        A launch off the lie that no flight is made for.
    """
    found = [Carried(s, _off_lie(s, v)) for s, v in zip(swings, _speeds(swings), strict=True)]
    by_air: dict[Air, list[int]] = defaultdict(list)
    for k, carried in enumerate(found):
        if carried.launch is not None:
            by_air[carried.swing.day.air].append(k)
    for air, where in by_air.items():
        landed = _landed([found[k] for k in where], air)
        for k, row in zip(where, landed, strict=True):
            if row[9]:
                carry = float(np.hypot(row[0], row[1]))
                found[k] = replace(found[k], carry_m=carry, spin_rad_s=float(row[6]))
    return found


def _speeds(swings: Sequence[DaySwing]) -> list[float]:
    """Ball speeds that carry their numbers on the reference day; nan where none does."""
    n = len(swings)
    solved = solve_landings(
        np.array([(s.playing_m, 0.0, 0.0) for s in swings]).reshape(-1, 3),
        np.array([_clean(s.summary) for s in swings]).reshape(-1, 3),
        body_row(REFERENCE_DAY),
        _aero_rows(swings),
        np.arange(n),
        wind_row(CALM),
    )
    return [float(row[0]) if row[7] else nan for row in solved]


def _clean(summary: ShotSummary) -> tuple[float, float, float]:
    """Launch angle, spin over speed and tilt of a shot from a clean dry lie."""
    return summary.launch_rad, summary.spin_per_speed, summary.curve.axis_rad


def _off_lie(swing: DaySwing, speed_mps: float) -> Launch | None:
    """Launch off the lie of a swing that gives so much speed from a clean one."""
    if isnan(speed_mps):
        return None
    launch, ratio, tilt = _clean(swing.summary)
    effect, end = swing.day.effect, swing.end
    launch, ratio = off_this_lie(launch, ratio, effect.spin[end])
    struck = speed_mps * effect.speed[end]
    return Launch(struck, launch, ratio * struck, tilt)


def _landed(flying: Sequence[Carried], air: Air) -> Floats:
    """Landings of swings that are struck in the same air, as of `fly_batch`."""
    return fly_batch(
        np.array([f.launch.row() for f in flying if f.launch is not None]),
        body_row(air),
        _aero_rows([f.swing for f in flying]),
        np.arange(len(flying)),
        np.array([wind_row(f.swing.day.wind) for f in flying]),
        level_net(),
        np.zeros(3),
    )


def _aero_rows(swings: Sequence[DaySwing]) -> Floats:
    return np.array([s.aerodynamics.row() for s in swings]).reshape(-1, 8)
