"""A swing: the reference-day carry it is meant to have, and what it takes to get it.

Its speed is the one that gives its reference carry under each set of lift and drag, so that only
*differences* between today and that day depend on the set.
"""

from dataclasses import dataclass

import numpy as np

from carrybook.base.numerics import Floats
from carrybook.physics.aerodynamics import Aerodynamics
from carrybook.physics.flight import level_carries
from carrybook.physics.solve import carry_speeds
from carrybook.player.summary import ShotSummary
from carrybook.world.air import REFERENCE_DAY

__all__ = ["SETS", "SETS_ROW", "Swing", "swings_of"]

SETS_ROW = ("speed", "per_speed", "per_launch", "per_spin")
SETS = 9  # of lift and drag: low, middle, high, each with less, its own and more drag
_STEP = 0.01  # of the differences: 1 % in speed and spin, 0.01 rad in launch


@dataclass(frozen=True, slots=True)
class Swing:
    """One shot, the reference-day carry it is meant to have, and its start line.

    Parameters
    ----------
    summary : ShotSummary
        The shot and its scatter.
    playing_m : float
        Carry on the reference day from a clean dry lie. [m]
    start_right_rad : float
        Start line, right of the x axis. [rad]
    sets : ndarray, shape (4, 9)
        Rows :data:`SETS_ROW` for each set of lift and drag that the ball played may fly with,
        :meth:`carrybook.player.ball_fit.BallFit.drawn`: ball speed [m/s], nan where none carries
        that far, and the change of ln carry per ln speed with its spin, per radian of launch, per
        ln spin.
    """

    summary: ShotSummary
    playing_m: float
    start_right_rad: float
    sets: Floats


def swings_of(summary: ShotSummary, playing_m: Floats, start_right_rad: Floats) -> list[Swing]:
    """Swings of one shot with these reference carries and start lines.

    Parameters
    ----------
    summary : ShotSummary
        The shot.
    playing_m : ndarray, shape (n,)
        Carries on the reference day. [m]
    start_right_rad : ndarray, shape (n,)
        Start lines, right of the x axis. [rad]
    """
    launch, ratio, tilt = summary.launch_rad, summary.spin_per_speed, summary.curve.axis_rad
    n, fitted = len(playing_m), summary.ball.drawn()[0]
    sets = np.empty((n, len(SETS_ROW), len(fitted)))
    for k, a in enumerate(fitted):
        sets[:, 0, k] = carry_speeds(
            playing_m, np.full(n, launch), np.full(n, ratio), REFERENCE_DAY,
            aerodynamics=a, axis_rad=tilt,
        )  # fmt: skip
        sets[:, 1:, k] = _sensitivities(sets[:, 0, k], launch, ratio, tilt, a)
    return [
        Swing(summary, float(p), float(r), s)
        for p, r, s in zip(playing_m, start_right_rad, sets, strict=True)
    ]


def _sensitivities(
    speed: Floats, launch: float, ratio: float, tilt: float, a: Aerodynamics
) -> Floats:
    """Change of ln carry per ln speed with its spin, per radian of launch, per ln spin: (n, 3)."""
    h = _STEP
    changes = ((h, 0, 0), (-h, 0, 0), (0, h, 0), (0, -h, 0), (0, 0, h), (0, 0, -h))
    carries = [
        level_carries(
            speed * np.exp(faster),
            launch + higher,
            ratio * np.exp(spinning),
            aerodynamics=a,
            axis_rad=tilt,
        )
        for faster, higher, spinning in changes
    ]
    logs = np.log(carries).reshape(3, 2, -1)
    return np.asarray((logs[:, 0] - logs[:, 1]).T / (2.0 * h))
