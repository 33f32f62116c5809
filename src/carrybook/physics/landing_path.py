"""The way of one ball after its first touch, bounce by bounce, as points to draw."""

from dataclasses import dataclass

import numpy as np

from carrybook.base.numerics import Floats
from carrybook.physics.bounce import bounce
from carrybook.physics.flight_steps import fly_to_ground
from carrybook.physics.terrain import height_and_slope
from carrybook.physics.turf import Turf
from carrybook.world.ground import Ground

__all__ = ["Hop", "hops"]

_POINTS = 400  # of a hop: four seconds
_POINT_S = 0.01


@dataclass(frozen=True, slots=True)
class Hop:
    """One flight between two touches.

    Parameters
    ----------
    points : ndarray, shape (n, 3)
        Where the ball is, a point every hundredth of a second; first and last on the ground. [m]
    spin_rad_s : float
        Spin with which it leaves the ground, backspin positive. [rad/s]
    """

    points: Floats
    spin_rad_s: float


def hops(
    velocity: Floats, spin: Floats, turf: Turf, ground: Ground, body: Floats, aero: Floats,
    wind: Floats, *, hop_speed: float, most: int = 30,
) -> tuple[Hop, ...]:  # fmt: skip
    """Hops of a ball that touches the ground at the origin.

    Parameters
    ----------
    velocity, spin : ndarray, shape (3,)
        At the first touch. [m/s], [rad/s]
    turf : Turf
        How the ground takes it, the same everywhere.
    ground : Ground
        Its height.
    body, aero, wind : ndarray
        Rows as for one ball of :func:`carrybook.physics.flight.fly_batch`.
    hop_speed : float
        Below this upward speed it has stopped bouncing. [m/s]
    most : int
        Not more hops than these.
    """
    net = (ground.heights, ground.x0, ground.y0, ground.step)
    at, found = np.zeros(3), list[Hop]()
    landing = np.empty(10)
    while len(found) < most:
        at[2], gx, gy = height_and_slope(float(at[0]), float(at[1]), *net)
        normal = np.array([-gx, -gy, 1.0]) / np.sqrt(1.0 + gx * gx + gy * gy)
        velocity, spin = bounce(velocity, spin, normal, turf, radius=float(body[2]))
        if velocity @ normal < hop_speed:
            break
        rate = float(np.linalg.norm(spin)) + 1e-12
        track = np.full((_POINTS + 2, 3), np.nan)
        x, y, z = (float(v) for v in at)
        vx, vy, vz = (float(v) for v in velocity)
        ax, ay, az = (float(v) for v in spin / rate)
        fly_to_ground(
            x, y, z, vx, vy, vz, rate, ax, ay, az, body, aero, wind, *net, _POINT_S, 0, _POINTS,
            landing, track,
        )  # fmt: skip
        found.append(Hop(track[np.isfinite(track[:, 0])], -float(spin[1])))
        spin = spin * landing[6] / rate
        at, velocity = landing[:3].copy(), landing[3:6].copy()
    return tuple(found)
