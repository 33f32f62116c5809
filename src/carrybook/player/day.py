"""The day a number is for: air, wind, lie, how warm the ball is, and whether it counts."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from carrybook.physics.ball_temperature import speed_when_at
from carrybook.physics.flight import level_carries
from carrybook.physics.solve import carry_speeds
from carrybook.player.summary import DayShift, ShotSummary
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import CALM, Wind

__all__ = ["Day", "ball_shifts", "warmed"]


@dataclass(frozen=True, slots=True)
class Day:
    """What a number is asked for.

    Parameters
    ----------
    air : Air
        The air.
    wind : Wind
        Along the line of the shot.
    lie, moisture : Lie, Moisture
        Where the ball lies and how wet it is.
    ball_k : float, optional
        Temperature of the ball; none: that of the air. [K]
    competition : bool
        Whether it is for a score.
    """

    air: Air = REFERENCE_DAY
    wind: Wind = CALM
    lie: Lie = Lie.FAIRWAY
    moisture: Moisture = Moisture.DRY
    ball_k: float | None = None
    competition: bool = False

    @property
    def ball_temperature_k(self) -> float:
        """How warm the ball is. [K]"""
        return self.air.temperature_k if self.ball_k is None else self.ball_k


def ball_shifts(summaries: Sequence[ShotSummary], day: Day) -> list[float]:
    """Change of ln carry, shot by shot, that the temperature of the ball makes."""
    factor = speed_when_at(day.ball_temperature_k)
    if factor == 1.0 or not summaries:
        return [0.0] * len(summaries)
    launch = np.array([s.launch_rad for s in summaries])
    ratio = np.array([s.spin_per_speed for s in summaries])
    stock = np.array([s.stock_m for s in summaries])
    speeds = carry_speeds(stock, launch, ratio, REFERENCE_DAY)
    change = np.log(level_carries(factor * speeds, launch, ratio) / stock)
    return [float(x) for x in np.nan_to_num(change)]


def warmed(summaries: Sequence[ShotSummary], day: Day) -> tuple[ShotSummary, ...]:
    """Put the temperature of the ball into the bias of every shot, and say so in its shift.

    Parameters
    ----------
    summaries : sequence of ShotSummary
        Shots without it.
    day : Day
        The day.
    """
    return tuple(
        replace(
            s,
            bias=s.bias + ball,
            shift=DayShift(ball, s.shift.body, s.shift.lie, s.shift.competition),
        )
        for s, ball in zip(summaries, ball_shifts(summaries, day), strict=True)
    )
