"""Whether a rolling ball drops: speed against offset from the centre of the hole."""

import numpy as np

from carrybook.base import constants as c
from carrybook.base.numerics import kernel

__all__ = ["CENTRE_SPEED", "capture_speed", "capture_speed_kernel", "drops_kernel"]

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


@kernel
def drops_kernel(
    x: float,
    y: float,
    nx: float,
    ny: float,
    speed2: float,
    new_speed2: float,
    shift: float,
    hole_x: float,
    hole_y: float,
    hole: float,
    ball: float,
    gravity: float,
    centre: float,
) -> bool:
    """Whether a ball drops on its way from (x, y) to (nx, ny), given its speeds squared there.

    `shift` is the relative change of the help from the rim: drawn anew for each ball it makes a
    smooth edge of the sharp one, as balls that lip out do (hogan-antali-2025), never below free
    fall. The flagstick is ignored.
    """
    dx, dy = nx - x, ny - y
    length2 = dx * dx + dy * dy + 1e-30
    part = min(max(((hole_x - x) * dx + (hole_y - y) * dy) / length2, 0.0), 1.0)
    ex, ey = x + part * dx - hole_x, y + part * dy - hole_y
    offset2 = ex * ex + ey * ey
    if offset2 >= hole * hole:
        return False
    eased = centre * (1.0 + shift)  # the rim forgives more or less; free fall does not change
    limit = capture_speed_kernel(np.sqrt(offset2), hole, ball, gravity, eased)
    drops: bool = speed2 + part * (new_speed2 - speed2) < limit * limit
    return drops
