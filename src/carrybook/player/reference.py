"""Logged balls carried to the reference day, so that days compare.

The swing that gave the measured carry in that air, from that lie, is solved for and flown again
clean and dry on the reference day.
"""

from collections import defaultdict
from collections.abc import Sequence

import numpy as np

from carrybook.base.numerics import Floats
from carrybook.physics.ball_temperature import speed_when_at
from carrybook.physics.flight import level_carries
from carrybook.physics.solve import carry_speeds
from carrybook.physics.strike import lie_effect, off_this_lie
from carrybook.player.ball_fit import NO_FIT, BallFit, BallFits
from carrybook.player.balls import Ball
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie, Moisture

__all__ = ["is_clean", "reference_carries"]

_NO_FITS = BallFits()


def reference_carries(
    balls: Sequence[Ball],
    launch_rad: Floats | float,
    spin_per_speed: Floats | float,
    *,
    axis_rad: Floats | float = 0.0,
    fits: BallFits = _NO_FITS,
    played: BallFit = NO_FIT,
) -> Floats:
    """Carry each ball to the reference day.

    Parameters
    ----------
    balls : sequence of Ball
        With a measured carry, none from sand. A ball with no air logged counts as flown on the
        reference day.
    launch_rad, spin_per_speed : float or ndarray, shape (n,)
        Launch of the shot from a clean dry lie; a ball's own measured launch and spin go first.
    axis_rad : float or ndarray, shape (n,)
        Tilt of its spin axis. [rad]
    fits : BallFits
        How the model of each ball flies.
    played : BallFit
        How the ball flies that would be played on the reference day.

    Returns
    -------
    carries : ndarray, shape (n,)
        On the reference day, clean, dry, level and calm, with a ball at 20 C; a logged ball was
        as warm as its air. nan where no flight gives the measured carry. [m]
    """
    n = len(balls)
    launch, ratio, axis = (np.broadcast_to(x, n) for x in (launch_rad, spin_per_speed, axis_rad))
    swings = zip(balls, launch.tolist(), ratio.tolist(), strict=True)
    rows = np.array([_swing_row(*swing) for swing in swings]).reshape(-1, 6)
    swung = np.full(n, np.nan)
    alike: dict[tuple[Air, str], list[int]] = defaultdict(list)
    for k, ball in enumerate(balls):
        alike[ball.air or REFERENCE_DAY, ball.ball_model].append(k)
    for (air, model), where in alike.items():
        part = rows[where]
        speeds = carry_speeds(
            part[:, 0], part[:, 1], part[:, 2], air,
            aerodynamics=fits.of(model).best, axis_rad=axis[where],
        )  # fmt: skip
        swung[where] = speeds / rows[where, 3]
    return level_carries(swung, rows[:, 4], rows[:, 5], aerodynamics=played.best, axis_rad=axis)


def _swing_row(ball: Ball, launch: float, ratio: float) -> tuple[float, ...]:
    """Carry, launch and spin ratio as struck, speed factor, launch and ratio when clean."""
    effect = lie_effect(ball.lie, ball.moisture)
    struck = off_this_lie(launch, ratio, effect.spin[1])
    clean = (launch, ratio)
    if None not in (ball.launch_rad, ball.spin_rad_s, ball.ball_speed_mps):
        struck = (ball.launch_rad, ball.spin_rad_s / ball.ball_speed_mps)  # type: ignore[operator, assignment]
        clean = struck if is_clean(ball) else clean
    slower = speed_when_at((ball.air or REFERENCE_DAY).temperature_k)
    return (ball.carry_m or np.nan, *struck, effect.speed[1] * slower, *clean)


def is_clean(ball: Ball) -> bool:
    """Whether a ball was struck clean and dry, so that its launch is the shot's own.

    Parameters
    ----------
    ball : Ball
        The ball.
    """
    return ball.moisture is Moisture.DRY and ball.lie in (Lie.FAIRWAY, Lie.TEE)
