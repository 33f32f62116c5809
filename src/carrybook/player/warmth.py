"""Which ball is played and how warm it is, put into what every shot does on a day."""

from collections.abc import Sequence
from dataclasses import replace
from math import exp

import numpy as np

from carrybook.physics.ball_temperature import speed_when_at
from carrybook.physics.flight import level_carries
from carrybook.physics.solve import carry_speeds
from carrybook.player.ball_fit import BallFit
from carrybook.player.day import Day
from carrybook.player.summary import DayShift, ShotSummary
from carrybook.world.air import REFERENCE_DAY

__all__ = ["ball_shifts", "warmed", "with_ball"]


def ball_shifts(summaries: Sequence[ShotSummary], day: Day) -> list[float]:
    """Change of ln carry, shot by shot, that the temperature of the ball makes."""
    factor = speed_when_at(day.ball_temperature_k)
    if factor == 1.0 or not summaries:
        return [0.0] * len(summaries)
    return [_change(s, s.ball, factor) for s in summaries]


def with_ball(summary: ShotSummary, played: BallFit) -> ShotSummary:
    """Strike another ball with the same swing; as it was where that does not come down."""
    if played == summary.ball:
        return summary
    change = _change(summary, played, 1.0)
    return replace(
        summary,
        ball=played,
        stock_m=summary.stock_m * exp(change),
        stock_se_m=summary.stock_se_m * exp(change),
        bias=summary.bias + change,
    )


def _change(s: ShotSummary, played: BallFit, factor: float) -> float:
    """Change of ln carry by another ball, and by ball speed times a factor; 0 where none flies."""
    launch, ratio, stock = (np.array([x]) for x in (s.launch_rad, s.spin_per_speed, s.stock_m))
    axis = s.curve.axis_rad
    speed = carry_speeds(
        stock, launch, ratio, REFERENCE_DAY, aerodynamics=s.ball.best, axis_rad=axis
    )
    carry = level_carries(factor * speed, launch, ratio, aerodynamics=played.best, axis_rad=axis)
    return float(np.nan_to_num(np.log(carry / s.stock_m))[0])


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
