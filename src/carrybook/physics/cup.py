"""Whether a rolling ball drops: speed against offset from the centre of the hole."""

import numpy as np

from carrybook.base import constants as c
from carrybook.base.numerics import kernel

__all__ = ["CENTRE_SPEED", "capture_speed", "capture_speed_kernel"]

CENTRE_SPEED = 1.63  # m/s, greatest speed that drops on the centre line; holmes-1991


def capture_speed(offset_m: float) -> float:
    """Greatest speed at which a ball drops whose path passes the centre at some offset.

    Parameters
    ----------
    offset_m : float
        Distance of the path from the centre of the hole. [m]

    Returns
    -------
    speed : float
        0 where the path misses the hole. [m/s]

    Notes
    -----
    1.63 (1 - (d/R)^2), a fit to holmes-1991 (penner-2002-putting, from memory), never below the
    speed at which a ball in free fall drops by its radius before the far rim. Flagstick ignored.
    """
    hole, ball = c.HOLE_RADIUS, c.BALL_RADIUS
    return float(capture_speed_kernel(abs(offset_m), hole, ball, c.GRAVITY, CENTRE_SPEED))


@kernel
def capture_speed_kernel(
    offset: float, hole: float, ball: float, gravity: float, centre: float
) -> float:
    """Greatest speed that drops."""
    if offset >= hole:
        return 0.0
    rim = centre * (1.0 - (offset / hole) ** 2)
    chord = np.sqrt(hole * hole - offset * offset)
    inner = (hole - ball) ** 2 - offset * offset
    fall = (chord + np.sqrt(max(inner, 0.0))) * np.sqrt(gravity / (2.0 * ball))
    if inner < 0.0:
        fall = 0.0
    fastest: float = max(rim, fall)
    return fastest
