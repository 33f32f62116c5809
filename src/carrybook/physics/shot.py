"""A whole shot: flight, bounces with flight between them, skid and roll to rest, on real ground."""

from dataclasses import replace
from enum import IntEnum

import numpy as np

from carrybook.base import constants as c
from carrybook.base.numerics import Floats, Ints, in_parts, kernel
from carrybook.physics.bounce import CRATER, RESTITUTION, bounce_kernel
from carrybook.physics.cup import CENTRE_SPEED
from carrybook.physics.flight import LANDING_ROW, fly_batch
from carrybook.physics.hop import hop_kernel
from carrybook.physics.roll import roll_kernel
from carrybook.physics.terrain import height_and_slope, surface_code
from carrybook.physics.turf import TURF_ROW, Turf
from carrybook.world.ground import Ground, Surface

__all__ = [
    "END_ROW",
    "GROUND_ROWS",
    "HOP_SPEED",
    "STRIDE",
    "TURF_ROW",
    "End",
    "play_batch",
    "turf_on",
]

STRIDE = 0.18  # m; ours: longest step of the roll, from the study in docs/turf.md
HOP_SPEED = 0.25  # m/s; ours: below this upward speed a ball has stopped bouncing
# Ours: longest step [s], what a parabola may fly [s], most steps, longest hop of one step [s].
_HOP_LIMITS = np.array([0.4, 0.004, 60.0, 0.18])
_CHUNK = 1 << 14  # balls in hand at once: so much memory, whatever their number

END_ROW = ("x", "y", "code", "bounces", "land_x", "land_y", "dry_x", "dry_y", "time")

# Ours (judgement, no source): how other ground takes a ball, as factors on the green's crater tilt
# and restitution, its own rolling resistance [m/s2], and factors on friction and wrap. Longer grass
# grips and gives; sand holds a ball where it lands; a path neither dents nor grips.
_GROUND = {
    Surface.GREEN: (1.0, 1.0, 0.5, 1.0, 1.0),  # its resistance comes from the stimp, ball by ball
    Surface.FRINGE: (1.0, 0.95, 0.8, 1.1, 1.0),
    Surface.FAIRWAY: (1.0, 0.9, 1.2, 1.2, 1.0),
    Surface.ROUGH: (1.15, 0.55, 4.5, 1.6, 1.1),
    Surface.BUNKER: (1.3, 0.0, 8.0, 2.0, 0.0),
    Surface.WATER: (1.0, 0.0, -1.0, 1.0, 1.0),
    Surface.OUT_OF_BOUNDS: (1.15, 0.55, 4.5, 1.6, 1.1),
    Surface.PATH: (0.2, 1.5, 0.4, 1.0, 0.1),
}
GROUND_ROWS = np.array([_GROUND[surface] for surface in Surface])


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
    stride: float = STRIDE,
    landings: Floats | None = None,
) -> tuple[Floats, Floats]:
    """Play many balls from one spot to where they end.

    Parameters
    ----------
    launches : ndarray, shape (n, 5)
        Rows of :meth:`carrybook.physics.flight.Launch.row`.
    turf : ndarray, shape (n, 8) or (n, 5)
        Columns :data:`TURF_ROW`: the green as each ball meets it, and how forgiving the cup is. Of
        five columns the rest is that of a turf without wrap or tangential restitution.
    body, aero, which_aero, winds
        As in :func:`carrybook.physics.flight.fly_batch`.
    ground : Ground
        Height and surface.
    start : ndarray, shape (3,)
        Where they start. [m]
    hole : tuple of float
        Where the hole is cut: x, y. [m]
    stride : float
        Longest step of the roll. [m]
    landings : ndarray, shape (n, 10), optional
        First touch of the same balls, where they were flown already over ground of this height.

    Returns
    -------
    ends : ndarray, shape (n, 9)
        Columns :data:`END_ROW`; `land` is the first touch, `dry` the last point before water.
    landings : ndarray, shape (n, 10)
        The first touch, columns :data:`carrybook.physics.flight.LANDING_ROW`.
    """
    net = (ground.heights, ground.x0, ground.y0, ground.step)
    count = len(launches)
    flown = landings is not None
    landings = np.empty((count, len(LANDING_ROW))) if landings is None else landings
    ends = np.empty((count, len(END_ROW)))
    cup = np.array([stride, c.GRAVITY, c.HOLE_RADIUS, c.BALL_RADIUS, CENTRE_SPEED])
    rolling = np.empty((min(count, _CHUNK), 4))
    for first in range(0, count, _CHUNK):
        rows = slice(first, min(first + _CHUNK, count))
        here, turfs, blown, which = launches[rows], _full(turf[rows]), winds[rows], which_aero[rows]
        if not flown:
            landings[rows] = fly_batch(here, body, aero, which, blown, net, start)
        landed, ended = landings[rows], ends[rows]

        def bounce(
            a: int, b: int, here: Floats = here, landed: Floats = landed, turfs: Floats = turfs,
            which: Ints = which, blown: Floats = blown, ended: Floats = ended,
        ) -> None:  # fmt: skip
            bounce_many(
                a, b, here, landed, turfs, start, body, aero, which, blown, ground.heights,
                ground.surfaces, ground.x0, ground.y0, ground.step, HOP_SPEED, _HOP_LIMITS,
                RESTITUTION, CRATER, GROUND_ROWS, rolling, ended,
            )  # fmt: skip

        def roll(a: int, b: int, turfs: Floats = turfs, ended: Floats = ended) -> None:
            roll_many(
                a, b, turfs, hole[0], hole[1], cup, ground.heights, ground.surfaces, ground.x0,
                ground.y0, ground.step, GROUND_ROWS, rolling, ended,
            )  # fmt: skip

        in_parts(bounce, len(here))
        in_parts(roll, len(here))
    return ends, landings


def turf_on(turf: Turf, surface: Surface) -> Turf:
    """Turf of another surface beside a green of this turf.

    Parameters
    ----------
    turf : Turf
        Of the green.
    surface : Surface
        What the ball lands on.
    """
    tilt, restitution, _, friction, wrap = _GROUND[surface]
    return replace(
        turf,
        tilt_rad=turf.tilt_rad * tilt,
        restitution=turf.restitution * restitution,
        friction=turf.friction * friction,
        wrap_rad=turf.wrap_rad * wrap,
    )


def _full(turf: Floats) -> Floats:
    """Turf rows of all columns: without wrap and tangential restitution where those are missing."""
    rows = np.zeros((len(turf), len(TURF_ROW)))
    rows[:, : turf.shape[1]] = turf
    if turf.shape[1] < len(TURF_ROW):
        rows[:, 6] = turf[:, 2]
    return rows


@kernel
def bounce_many(
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
    hop_speed: float,
    limits: Floats,
    curve: Floats,
    crater: Floats,
    grounds: Floats,
    rolling: Floats,
    ends: Floats,
) -> None:
    """Take rows first..last from the first touch to where they stop bouncing.

    Velocity and slip along x and y go to `rolling`; `ends` gets all it can, code 0: still rolling.
    """
    hop = np.empty(landings.shape[1])
    for k in range(first, last):
        ct, st = np.cos(launches[k, 3]), np.sin(launches[k, 3])
        cr, sr = np.cos(launches[k, 4]), np.sin(launches[k, 4])
        air, wind = aero[which_aero[k]], winds[k]
        offset = 1.0 - wind[2] * np.log(wind[3])
        hop[:] = landings[k]
        ends[k, 4], ends[k, 5] = hop[0], hop[1]
        ends[k, 6], ends[k, 7] = start[0], start[1]
        time, bounces, code = hop[7], 0, 0 if hop[9] > 0.0 else 5
        wx, wy, wz = -hop[6] * sr * ct, -hop[6] * cr * ct, -hop[6] * st
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
                turf[k, 0] * grounds[surface, 0], turf[k, 1] * grounds[surface, 1],
                turf[k, 2] * grounds[surface, 3], turf[k, 5], turf[k, 6],
                turf[k, 7] * grounds[surface, 4], body[2], curve, crater,
            )  # fmt: skip
            bounces += 1
            up = vx * nx + vy * ny + vz * nz
            if up < hop_speed or bounces >= 30:
                # slip of the contact point on the way into the roll
                rolling[k, 0], rolling[k, 1] = vx, vy
                rolling[k, 2] = vx - body[2] * (wy * nz - wz * ny)
                rolling[k, 3] = vy - body[2] * (wz * nx - wx * nz)
                break
            spin = np.sqrt(wx * wx + wy * wy + wz * wz) + 1e-12
            hop_kernel(
                x, y, z, vx, vy, vz, spin, wx / spin, wy / spin, wz / spin, body, air, wind,
                offset, heights, x0, y0, step, limits, hop,
            )  # fmt: skip
            kept = hop[6] / spin
            wx, wy, wz = wx * kept, wy * kept, wz * kept
            time += hop[7]
            code = 0 if hop[9] > 0.0 else 5
        ends[k, 0], ends[k, 1] = hop[0], hop[1]
        ends[k, 2], ends[k, 3], ends[k, 8] = code, bounces, time


@kernel
def roll_many(
    first: int,
    last: int,
    turf: Floats,
    hole_x: float,
    hole_y: float,
    cup: Floats,
    heights: Floats,
    surfaces: Ints,
    x0: float,
    y0: float,
    step: float,
    grounds: Floats,
    rolling: Floats,
    ends: Floats,
) -> None:
    """Roll the rows first..last that still do (code 0) to where they end."""
    rest = np.empty(6)
    resistances = grounds[:, 2].copy()
    for k in range(first, last):
        if ends[k, 2] != 0.0:
            continue
        roll_kernel(
            ends[k, 0], ends[k, 1], rolling[k, 0], rolling[k, 1], rolling[k, 2], rolling[k, 3],
            turf[k, 3], turf[k, 6], turf[k, 4], hole_x, hole_y, cup, resistances, heights,
            surfaces, x0, y0, step, rest,
        )  # fmt: skip
        ends[k, 0], ends[k, 1], ends[k, 2] = rest[0], rest[1], rest[3]
        ends[k, 6], ends[k, 7] = rest[4], rest[5]
        ends[k, 8] += rest[2]
