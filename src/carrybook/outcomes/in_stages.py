"""A shot in two stages: many balls to their first touch, then some of them to where they end.

What :func:`carrybook.outcomes.simulate.simulate` does at once, for those who need the flight of all
balls, but bounces and roll only of some, or on several kinds of ground.
"""

import numpy as np

from carrybook.base.numerics import Flags, Floats
from carrybook.outcomes.simulate import Struck, World
from carrybook.physics.flight import LANDING_ROW, body_row, fly_batch
from carrybook.physics.shot import STRIDE, play_batch

__all__ = ["fly", "play_on"]


def fly(world: World, struck: Struck) -> Floats:
    """Fly every ball to its first touch.

    Parameters
    ----------
    world : World
        Everything around the swing.
    struck : Struck
        The balls.

    Returns
    -------
    landings : ndarray, shape (k, n, 10)
        Columns :data:`carrybook.physics.flight.LANDING_ROW`.
    """
    k, n = struck.which.shape
    ground, winds = world.ground, np.tile(struck.winds, (k, 1))
    net = (ground.heights, ground.x0, ground.y0, ground.step)
    landings = fly_batch(
        struck.launches.reshape(k * n, -1), body_row(world.air), struck.aero, struck.which.ravel(),
        winds, net, world.start,
    )  # fmt: skip
    return landings.reshape(k, n, len(LANDING_ROW))


def play_on(
    world: World,
    struck: Struck,
    landings: Floats,
    turf: Floats,
    wanted: Flags,
    *,
    stride: float = STRIDE,
) -> Floats:
    """Play balls from their first touch to where they end.

    Parameters
    ----------
    world : World
        Everything around the swing.
    struck : Struck
        The balls.
    landings : ndarray, shape (k, n, 10)
        From :func:`fly`, over ground of the same height.
    turf : ndarray, shape (n, 8)
        From :func:`turf_rows`.
    wanted : ndarray of bool, shape (k, n)
        Which of them, m in all.
    stride : float
        Longest step of the roll. [m]

    Returns
    -------
    ends : ndarray, shape (m, 9)
        Columns :data:`carrybook.physics.shot.END_ROW`, swing by swing.
    """
    draws = np.broadcast_to(np.arange(wanted.shape[1]), wanted.shape)[wanted]
    ends, _ = play_batch(
        struck.launches[wanted], turf[draws], body_row(world.air), struck.aero,
        struck.which[wanted], struck.winds[draws], world.ground, world.start, world.hole,
        stride=stride, landings=landings[wanted],
    )  # fmt: skip
    return ends
