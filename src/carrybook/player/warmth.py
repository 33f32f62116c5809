"""How warm the ball is, put into what every shot does on a day."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from carrybook.physics.ball_temperature import speed_when_at
from carrybook.physics.flight import level_carries
from carrybook.physics.solve import carry_speeds
from carrybook.player.day import Day
from carrybook.player.summary import DayShift, ShotSummary
from carrybook.world.air import REFERENCE_DAY

__all__ = ["ball_shifts", "warmed"]


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
