"""A whole shot: flight, bounces with flight between them, skid and roll to rest, on real ground."""

from enum import IntEnum

import numpy as np

from carrybook.base import constants as c
from carrybook.base.numerics import Floats, Ints, in_parts, kernel
from carrybook.physics.bounce import (
    MOST_TILT,
    RESTITUTION,
    TILT_SHAPE,
    TILT_SPEED,
    bounce_kernel,
)
from carrybook.physics.cup import CENTRE_SPEED
from carrybook.physics.flight import fly_batch
from carrybook.physics.flight_steps import fly_to_ground
from carrybook.physics.roll import roll_kernel
from carrybook.physics.terrain import height_and_slope, surface_code
from carrybook.world.ground import Ground, Surface

__all__ = ["END_ROW", "TURF_ROW", "End", "play_batch"]

ROLL_STEP = 0.05  # s; ours: against 2 ms it moves 95 % of finishes by less than 3 cm (tests)
HOP_SPEED = 0.25  # m/s; ours: below this upward speed a ball has stopped bouncing
_HOP_STEPS = 400  # of a quarter of a hop over level ground; enough for any fall

TURF_ROW = ("tilt_rad", "restitution", "friction", "green_resistance", "cup_shift")
END_ROW = ("x", "y", "code", "bounces", "land_x", "land_y", "dry_x", "dry_y", "time")

# Ours (judgement, no source): how other ground takes a ball, as factors on the green's crater tilt
# and restitution, and its own rolling resistance [m/s2]; sand holds a ball where it lands.
_GROUND = {
    Surface.GREEN: (1.0, 1.0, 0.5),  # its resistance comes from the stimp, ball by ball
    Surface.FRINGE: (1.0, 0.95, 0.8),
    Surface.FAIRWAY: (1.0, 0.9, 1.2),
    Surface.ROUGH: (1.15, 0.55, 4.5),
    Surface.BUNKER: (1.3, 0.0, 8.0),
    Surface.WATER: (1.0, 0.0, -1.0),
    Surface.OUT_OF_BOUNDS: (1.15, 0.55, 4.5),
    Surface.PATH: (0.2, 1.5, 0.4),
}
_GROUND_ROWS = np.array([_GROUND[surface] for surface in Surface])


class End(IntEnum):
    """How a shot ended: the `code` of END_ROW."""

    REST = 1
    HOLED = 2
    WATER = 3
    ROLLING = 4  # still rolling after a minute
    ALOFT = 5  # never came down


def play_batch(
    launches: Floats,
    turf: Floats,
    body: Floats,
    aero: Floats,
    which_aero: Ints,
    winds: Floats,
    ground: Ground,
    start: Floats,
    hole: tuple[float, float],
    *,
    roll_step: float = ROLL_STEP,
) -> tuple[Floats, Floats]:
    """Play many balls from one spot to where they end.

    Parameters
    ----------
    launches : ndarray, shape (n, 5)
        Rows of :meth:`carrybook.physics.flight.Launch.row`.
    turf : ndarray, shape (n, 5)
        Columns :data:`TURF_ROW`: the green as each ball meets it, and how forgiving the cup is.
    body, aero, which_aero, winds
        As in :func:`carrybook.physics.flight.fly_batch`.
    ground : Ground
        Height and surface.
    start : ndarray, shape (3,)
        Where they start. [m]
    hole : tuple of float
        Where the hole is cut: x, y. [m]
    roll_step : float
        Time step of the roll. [s]

    Returns
    -------
    ends : ndarray, shape (n, 9)
        Columns :data:`END_ROW`; `land` is the first touch, `dry` the last point before water.
    landings : ndarray, shape (n, 10)
        The first touch, columns :data:`carrybook.physics.flight.LANDING_ROW`.
    """
    net = (ground.heights, ground.x0, ground.y0, ground.step)
    landings = fly_batch(launches, body, aero, which_aero, winds, net, start)
    ends = np.empty((len(launches), len(END_ROW)))
    tilt = np.array([TILT_SPEED, TILT_SHAPE, MOST_TILT])
    cup = np.array([roll_step, c.GRAVITY, c.HOLE_RADIUS, c.BALL_RADIUS, CENTRE_SPEED])

    def work(first: int, last: int) -> None:
        _settle_many(
            first, last, launches, landings, turf, start, body, aero, which_aero, winds,
            ground.heights, ground.surfaces, ground.x0, ground.y0, ground.step,
            hole[0], hole[1], HOP_SPEED, _HOP_STEPS, RESTITUTION, tilt, cup, _GROUND_ROWS, ends,
        )  # fmt: skip

    in_parts(work, len(launches))
    return ends, landings


@kernel
def _settle_many(
    first: int,
    last: int,
    launches: Floats,
    landings: Floats,
    turf: Floats,
    start: Floats,
    body: Floats,
    aero: Floats,
    which_aero: Ints,
    winds: Floats,
    heights: Floats,
    surfaces: Ints,
    x0: float,
    y0: float,
    step: float,
    hole_x: float,
    hole_y: float,
    hop_speed: float,
    most_steps: int,
    curve: Floats,
    tilt: Floats,
    cup: Floats,
    grounds: Floats,
    ends: Floats,
) -> None:
    """Take rows first..last from the first touch to where they end."""
    track = np.empty((0, 3))
    hop = np.empty(landings.shape[1])
    rest = np.empty(6)
    resistances = grounds[:, 2].copy()
    for k in range(first, last):
        ct, st = np.cos(launches[k, 3]), np.sin(launches[k, 3])
        cr, sr = np.cos(launches[k, 4]), np.sin(launches[k, 4])
        air, wind = aero[which_aero[k]], winds[k]
        hop[:] = landings[k]
        ends[k, 4], ends[k, 5] = hop[0], hop[1]
        ends[k, 6], ends[k, 7] = start[0], start[1]
        time, bounces, code = hop[7], 0, 0
        wx, wy, wz = -hop[6] * sr * ct, -hop[6] * cr * ct, -hop[6] * st
        if hop[9] < 1.0:
            code = 5
        while code == 0:
            x, y = hop[0], hop[1]
            surface = surface_code(x, y, surfaces, x0, y0, step)
            if grounds[surface, 2] < 0.0:
                code = 3
                break
            ends[k, 6], ends[k, 7] = x, y
            z, gx, gy = height_and_slope(x, y, heights, x0, y0, step)
            nz = 1.0 / np.sqrt(1.0 + gx * gx + gy * gy)
            nx, ny = -gx * nz, -gy * nz
            vx, vy, vz, wx, wy, wz = bounce_kernel(
                hop[3], hop[4], hop[5], wx, wy, wz, nx, ny, nz,
                turf[k, 0] * grounds[surface, 0], turf[k, 1] * grounds[surface, 1], turf[k, 2],
                body[2], curve, tilt[0], tilt[1], tilt[2],
            )  # fmt: skip
            bounces += 1
            up = vx * nx + vy * ny + vz * nz
            if up < hop_speed or bounces >= 30:
                break
            spin = np.sqrt(wx * wx + wy * wy + wz * wz) + 1e-12
            kept = spin
            fly_to_ground(
                x, y, z, vx, vy, vz, spin, wx / spin, wy / spin, wz / spin,
                body, air, wind, heights, x0, y0, step,
                max(0.5 * up / body[3], 1e-3), 0, most_steps, hop, track,
            )  # fmt: skip
            wx, wy, wz = wx * hop[6] / kept, wy * hop[6] / kept, wz * hop[6] / kept
            time += hop[7]
            if hop[9] < 1.0:
                code = 5
        if code == 0:
            # slip of the contact point on the way into the roll, along x and y
            sx = vx - body[2] * (wy * nz - wz * ny)
            sy = vy - body[2] * (wz * nx - wx * nz)
            roll_kernel(
                x, y, vx, vy, sx, sy, turf[k, 3], turf[k, 2], turf[k, 4], hole_x, hole_y,
                cup, resistances, heights, surfaces, x0, y0, step, rest,
            )  # fmt: skip
            ends[k, 0], ends[k, 1] = rest[0], rest[1]
            ends[k, 6], ends[k, 7] = rest[4], rest[5]
            time += rest[2]
            code = int(rest[3])
        else:
            ends[k, 0], ends[k, 1] = hop[0], hop[1]
        ends[k, 2], ends[k, 3], ends[k, 8] = code, bounces, time
