"""Ball flight in three dimensions: drag, lift, spin decay and a logarithmic wind, over any ground.

Axes: x along the line, y to the left, z up; pure backspin points along -y. The kernels know only SI
and plain numbers; `fly` and its neighbours are the doors.
"""

from dataclasses import dataclass
from math import cos, log, sin

import numpy as np

from carrybook.base import constants as c
from carrybook.base.errors import NoSolutionError, require_range
from carrybook.base.numerics import Floats, Ints, in_parts, kernel
from carrybook.physics.aerodynamics import MID, Aerodynamics
from carrybook.physics.air import air_density, air_viscosity
from carrybook.physics.terrain import height_and_slope
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.wind import CALM, Wind

__all__ = [
    "BODY_ROW",
    "LANDING_ROW",
    "MOST_STEPS",
    "TIME_STEP",
    "Landing",
    "Launch",
    "body_row",
    "fly",
    "fly_batch",
    "fly_path",
    "fly_to_ground",
    "level_net",
    "wind_row",
]

TIME_STEP = 0.05  # s; ours: halving it moves carry by less than 1 mm (tests/physics/test_flight.py)
MOST_STEPS = 600  # 30 s: no ball stays up so long

# What a kernel reads of ball and air, and what it gives back of a landing.
BODY_ROW = ("drag_gain", "reynolds_per_speed", "radius", "gravity")
LANDING_ROW = ("x", "y", "z", "vx", "vy", "vz", "spin", "time", "apex", "landed")


@dataclass(frozen=True, slots=True)
class Launch:
    """How the ball leaves the face.

    Parameters
    ----------
    speed_mps : float
        Ball speed, 1 to 90. [m/s]
    launch_rad : float
        Launch angle above the horizon, 0 to 80 deg. [rad]
    spin_rad_s : float
        Spin rate, 0 to 16 000 rpm. [rad/s]
    axis_rad : float
        Tilt of the spin axis from level, in the upright plane across the start line; right
        positive: the ball curves to the right; -80 to 80 deg. [rad]
    start_right_rad : float
        Start line, right of the x axis. [rad]

    Raises
    ------
    OutOfRangeError
        A quantity is outside its range.
    """

    speed_mps: float
    launch_rad: float
    spin_rad_s: float
    axis_rad: float = 0.0
    start_right_rad: float = 0.0

    def __post_init__(self) -> None:
        degree = np.pi / 180.0
        require_range("ball speed", self.speed_mps, 1.0, 90.0, "m/s")
        require_range("launch angle", self.launch_rad / degree, 0.0, 80.0, "deg")
        require_range("spin", self.spin_rad_s / c.RPM, 0.0, 16_000.0, "rpm")
        require_range("spin axis", self.axis_rad / degree, -80.0, 80.0, "deg")
        require_range("start line", self.start_right_rad / degree, -90.0, 90.0, "deg")

    def row(self) -> Floats:
        """The five numbers in the order in which kernels read them."""
        return np.array(
            [self.speed_mps, self.launch_rad, self.spin_rad_s, self.axis_rad, self.start_right_rad]
        )


@dataclass(frozen=True, slots=True)
class Landing:
    """The first touch of the ground.

    Parameters
    ----------
    carry_m, side_m : float
        Along the x axis, and right of it. [m]
    apex_m : float
        Greatest height above the launch point. [m]
    time_s : float
        Time in the air. [s]
    descent_rad : float
        Angle of descent below the horizon. [rad]
    speed_mps, spin_rad_s : float
        Speed over the ground and spin at landing. [m/s], [rad/s]
    """

    carry_m: float
    side_m: float
    apex_m: float
    time_s: float
    descent_rad: float
    speed_mps: float
    spin_rad_s: float

    @property
    def distance_m(self) -> float:
        """Straight distance over the ground from launch to landing. [m]"""
        return float(np.hypot(self.carry_m, self.side_m))


def fly(
    launch: Launch,
    air: Air = REFERENCE_DAY,
    wind: Wind = CALM,
    *,
    aerodynamics: Aerodynamics = MID,
    height_change_m: float = 0.0,
) -> Landing:
    """Fly one ball to level ground at some height above or below the launch.

    Parameters
    ----------
    launch : Launch
        How it leaves the face.
    air : Air
        Air along the whole flight.
    wind : Wind
        Its direction is relative to the start line of the launch.
    aerodynamics : Aerodynamics
        Set of coefficients; the others of the band tell how unsure the result is.
    height_change_m : float
        Landing ground above (positive) or below the launch, -60 to 60. [m]

    Returns
    -------
    landing : Landing
        The first touch.

    Raises
    ------
    OutOfRangeError
        The height change is outside its range.
    NoSolutionError
        The ball never comes down on ground of that height.

    Notes
    -----
    Fourth-order Runge-Kutta steps on m dv/dt = -m g z - rho A U (C_D u - C_L w x u) / 2 with
    u = v - wind(z). The spin axis stays fixed in space. The wind profile is measured from the
    lower of launch and landing; up and down draughts on a slope are left out.
    """
    row = _fly_rows(launch, air, wind, aerodynamics, height_change_m, np.empty((0, 3)))
    return _landing(row)


def fly_path(
    launch: Launch,
    air: Air = REFERENCE_DAY,
    wind: Wind = CALM,
    *,
    aerodynamics: Aerodynamics = MID,
    height_change_m: float = 0.0,
) -> Floats:
    """Give the whole flight of one ball, a point every time step, the landing last.

    Parameters and errors are those of :func:`fly`.

    Returns
    -------
    path : ndarray, shape (n, 3)
        x along the line, y left, z above the launch. [m]
    """
    track = np.full((MOST_STEPS + 2, 3), np.nan)
    _fly_rows(launch, air, wind, aerodynamics, height_change_m, track)
    path: Floats = track[np.isfinite(track[:, 0])]
    return path


def _fly_rows(
    launch: Launch,
    air: Air,
    wind: Wind,
    aerodynamics: Aerodynamics,
    height_change_m: float,
    track: Floats,
) -> Floats:
    require_range("height change", height_change_m, -60.0, 60.0, "m")
    out = np.empty(len(LANDING_ROW))
    _launch_one(
        launch.row(),
        np.zeros(3),
        body_row(air),
        aerodynamics.row(),
        wind_row(wind, launch.start_right_rad, min(0.0, height_change_m)),
        *level_net(height_change_m),
        TIME_STEP,
        MOST_STEPS,
        out,
        track,
    )
    if out[9] < 1.0:
        raise NoSolutionError(
            f"the ball does not come down on ground {height_change_m:+.1f} m from the launch;"
            " launch it higher or faster, or make the climb smaller"
        )
    return out


def _landing(row: Floats) -> Landing:
    x, y, _, vx, vy, vz, spin, time, apex, _ = (float(v) for v in row)
    level = float(np.hypot(vx, vy))
    return Landing(
        carry_m=x,
        side_m=0.0 - y,  # never a negative zero
        apex_m=apex,
        time_s=time,
        descent_rad=float(np.arctan2(-vz, level)),
        speed_mps=float(np.hypot(level, vz)),
        spin_rad_s=spin,
    )


def body_row(air: Air, *, mass: float = c.BALL_MASS, diameter: float = c.BALL_DIAMETER) -> Floats:
    """What a kernel needs of ball and air: rho A / 2m [1/m], Re per speed [s/m], radius [m], g.

    Parameters
    ----------
    air : Air
        Air along the flight.
    mass, diameter : float
        Of the ball. [kg], [m]
    """
    density = air_density(air)
    area = np.pi * diameter**2 / 4.0
    reynolds = density * diameter / air_viscosity(air)
    return np.array([density * area / (2.0 * mass), reynolds, diameter / 2.0, c.GRAVITY])


def wind_row(wind: Wind, line_right_rad: float = 0.0, level_m: float = 0.0) -> Floats:
    """What a kernel needs of the wind: vector at its stated height, shear, that height, level.

    Parameters
    ----------
    wind : Wind
        Direction relative to the line.
    line_right_rad : float
        That line, right of the x axis. [rad]
    level_m : float
        Height from which the profile is measured. [m]
    """
    bearing = wind.from_rad + line_right_rad  # right of the x axis, where it comes from
    toward_x, toward_y = -cos(bearing), sin(bearing)
    shear = 1.0 / log(wind.height_m / wind.roughness_m)
    return np.array(
        [wind.speed_mps * toward_x, wind.speed_mps * toward_y, shear, wind.height_m, level_m]
    )


def level_net(height_m: float = 0.0) -> tuple[Floats, float, float, float]:
    """The smallest height net, level everywhere: heights, x0, y0, step as kernels take them."""
    return np.full((4, 4), height_m), 0.0, 0.0, 1.0


def fly_batch(
    launches: Floats,
    body: Floats,
    aero: Floats,
    which_aero: Ints,
    winds: Floats,
    net: tuple[Floats, float, float, float],
    start: Floats,
) -> Floats:
    """Fly many balls from one spot.

    Parameters
    ----------
    launches : ndarray, shape (n, 5)
        Rows of :meth:`Launch.row`.
    body : ndarray, shape (4,)
        From :func:`body_row`.
    aero : ndarray, shape (k, 8)
        Rows of :meth:`Aerodynamics.row`.
    which_aero : ndarray of int64, shape (n,)
        Which of them each ball flies with.
    winds : ndarray, shape (n, 5)
        Rows of :func:`wind_row`.
    net : tuple
        Heights of the ground as from :func:`level_net`.
    start : ndarray, shape (3,)
        Where they start. [m]

    Returns
    -------
    landings : ndarray, shape (n, 10)
        Columns :data:`LANDING_ROW`; `landed` is 0 where a ball never came down.
    """
    out = np.empty((len(launches), len(LANDING_ROW)))

    def work(first: int, last: int) -> None:
        _launch_many(
            first,
            last,
            launches,
            start,
            body,
            aero,
            which_aero,
            winds,
            *net,
            TIME_STEP,
            MOST_STEPS,
            out,
        )

    in_parts(work, len(launches))
    return out


@kernel
def _acceleration(
    vx: float,
    vy: float,
    vz: float,
    z: float,
    spin: float,
    ax: float,
    ay: float,
    az: float,
    body: Floats,
    aero: Floats,
    wind: Floats,
) -> tuple[float, float, float, float]:
    """Acceleration of the ball, and the rate of change of its spin."""
    above = max(z - wind[4], 1e-6)
    share = max(0.0, 1.0 + wind[2] * np.log(above / wind[3]))
    ux, uy, uz = vx - wind[0] * share, vy - wind[1] * share, vz
    speed = np.sqrt(ux * ux + uy * uy + uz * uz) + 1e-12
    s = spin * body[2] / speed
    lift = aero[0] * (1.0 - np.exp(-s / aero[1]))
    drag = aero[2] + aero[3] * s
    drag += aero[4] / (1.0 + np.exp((speed * body[1] - aero[5]) / aero[6]))
    gain = body[0] * speed
    fx = gain * (lift * (ay * uz - az * uy) - drag * ux)
    fy = gain * (lift * (az * ux - ax * uz) - drag * uy)
    fz = gain * (lift * (ax * uy - ay * ux) - drag * uz) - body[3]
    return fx, fy, fz, -aero[7] * spin * speed / body[2]


@kernel
def _step(
    x: float,
    y: float,
    z: float,
    vx: float,
    vy: float,
    vz: float,
    spin: float,
    ax: float,
    ay: float,
    az: float,
    body: Floats,
    aero: Floats,
    wind: Floats,
    dt: float,
) -> tuple[float, float, float, float, float, float, float]:
    """One fourth-order Runge-Kutta step."""
    h = 0.5 * dt
    p1, q1, r1, s1 = _acceleration(vx, vy, vz, z, spin, ax, ay, az, body, aero, wind)
    u2, v2, w2 = vx + h * p1, vy + h * q1, vz + h * r1
    p2, q2, r2, s2 = _acceleration(
        u2, v2, w2, z + h * vz, spin + h * s1, ax, ay, az, body, aero, wind
    )
    u3, v3, w3 = vx + h * p2, vy + h * q2, vz + h * r2
    p3, q3, r3, s3 = _acceleration(
        u3, v3, w3, z + h * w2, spin + h * s2, ax, ay, az, body, aero, wind
    )
    u4, v4, w4 = vx + dt * p3, vy + dt * q3, vz + dt * r3
    p4, q4, r4, s4 = _acceleration(
        u4, v4, w4, z + dt * w3, spin + dt * s3, ax, ay, az, body, aero, wind
    )
    k = dt / 6.0
    return (
        x + k * (vx + 2.0 * (u2 + u3) + u4),
        y + k * (vy + 2.0 * (v2 + v3) + v4),
        z + k * (vz + 2.0 * (w2 + w3) + w4),
        vx + k * (p1 + 2.0 * (p2 + p3) + p4),
        vy + k * (q1 + 2.0 * (q2 + q3) + q4),
        vz + k * (r1 + 2.0 * (r2 + r3) + r4),
        spin + k * (s1 + 2.0 * (s2 + s3) + s4),
    )


@kernel
def fly_to_ground(
    x: float,
    y: float,
    z: float,
    vx: float,
    vy: float,
    vz: float,
    spin: float,
    ax: float,
    ay: float,
    az: float,
    body: Floats,
    aero: Floats,
    wind: Floats,
    heights: Floats,
    x0: float,
    y0: float,
    step: float,
    dt: float,
    most_steps: int,
    out: Floats,
    track: Floats,
) -> None:
    """Fly from a state until the ball meets the ground; the landing goes to `out` (LANDING_ROW).

    A `track` with rows is filled with the points on the way. A ball that starts below the ground,
    as one hit to a raised level, cannot land before it has been above it.
    """
    start_z, apex, time = z, z, 0.0
    above = z - height_and_slope(x, y, heights, x0, y0, step)[0] > -1e-6
    out[9] = 0.0
    n = 0
    for n in range(most_steps):
        if n < track.shape[0]:
            track[n, 0], track[n, 1], track[n, 2] = x, y, z
        h = dt if n >= 8 else 0.125 * dt  # short first steps, where the wind changes fast
        nx, ny, nz, nvx, nvy, nvz, nspin = _step(
            x, y, z, vx, vy, vz, spin, ax, ay, az, body, aero, wind, h
        )
        if vz > 0.0 and nvz <= 0.0:  # the top lies within this step; a parabola is exact enough
            apex = max(apex, z + 0.5 * vz * vz / (vz - nvz) * h)
        gap = nz - height_and_slope(nx, ny, heights, x0, y0, step)[0]
        if gap < 0.0 and above and (n > 0 or nvz < 0.0):
            part = _meeting(
                x, y, z, vx, vy, vz, spin, ax, ay, az, body, aero, wind,
                heights, x0, y0, step, h, gap,
            )  # fmt: skip
            x, y, z, vx, vy, vz, spin = _step(
                x, y, z, vx, vy, vz, spin, ax, ay, az, body, aero, wind, part
            )
            time += part
            out[9] = 1.0
            break
        above = above or gap >= 0.0
        x, y, z, vx, vy, vz, spin = nx, ny, nz, nvx, nvy, nvz, nspin
        time += h
        apex = max(apex, z)
        if z < start_z - 200.0:
            break
    if n + 1 < track.shape[0]:
        track[n + 1, 0], track[n + 1, 1], track[n + 1, 2] = x, y, z
    out[0], out[1], out[2] = x, y, z
    out[3], out[4], out[5] = vx, vy, vz
    out[6], out[7], out[8] = spin, time, apex - start_z


@kernel
def _meeting(
    x: float,
    y: float,
    z: float,
    vx: float,
    vy: float,
    vz: float,
    spin: float,
    ax: float,
    ay: float,
    az: float,
    body: Floats,
    aero: Floats,
    wind: Floats,
    heights: Floats,
    x0: float,
    y0: float,
    step: float,
    dt: float,
    gap_end: float,
) -> float:
    """Part of the step after which ball and ground meet: secant in a bracket (Illinois)."""
    low, high = 0.0, dt
    gap_low = z - height_and_slope(x, y, heights, x0, y0, step)[0]
    gap_high = gap_end
    part = dt
    side = 0
    for _ in range(30):
        part = (low * gap_high - high * gap_low) / (gap_high - gap_low)
        if not low < part < high:
            part = 0.5 * (low + high)
        px, py, pz, _, _, _, _ = _step(
            x, y, z, vx, vy, vz, spin, ax, ay, az, body, aero, wind, part
        )
        gap = pz - height_and_slope(px, py, heights, x0, y0, step)[0]
        if abs(gap) < 1e-9:
            break
        if gap > 0.0:
            low, gap_low = part, gap
            if side == 1:
                gap_high *= 0.5
            side = 1
        else:
            high, gap_high = part, gap
            if side == -1:
                gap_low *= 0.5
            side = -1
    return part


@kernel
def _launch_one(
    launch: Floats,
    start: Floats,
    body: Floats,
    aero: Floats,
    wind: Floats,
    heights: Floats,
    x0: float,
    y0: float,
    step: float,
    dt: float,
    most_steps: int,
    out: Floats,
    track: Floats,
) -> None:
    """Turn a launch row into a state and fly it."""
    speed, angle, spin, tilt, right = launch[0], launch[1], launch[2], launch[3], launch[4]
    cr, sr = np.cos(right), np.sin(right)
    level, up = speed * np.cos(angle), speed * np.sin(angle)
    ct, st = np.cos(tilt), np.sin(tilt)
    fly_to_ground(
        start[0], start[1], start[2], level * cr, -level * sr, up, spin,
        -sr * ct, -cr * ct, -st,
        body, aero, wind, heights, x0, y0, step, dt, most_steps, out, track,
    )  # fmt: skip


@kernel
def _launch_many(
    first: int,
    last: int,
    launches: Floats,
    start: Floats,
    body: Floats,
    aero: Floats,
    which_aero: Ints,
    winds: Floats,
    heights: Floats,
    x0: float,
    y0: float,
    step: float,
    dt: float,
    most_steps: int,
    out: Floats,
) -> None:
    """Fly rows first..last."""
    track = np.empty((0, 3))
    for k in range(first, last):
        _launch_one(
            launches[k], start, body, aero[which_aero[k]], winds[k],
            heights, x0, y0, step, dt, most_steps, out[k], track,
        )  # fmt: skip
