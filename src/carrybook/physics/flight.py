"""Ball flight in three dimensions: drag, lift, spin decay and a logarithmic wind, over any ground.

Axes: x along the line, y to the left, z up; pure backspin points along -y. The kernels know only SI
and plain numbers; `fly` and its neighbours are the doors.
"""

from dataclasses import dataclass
from math import cos, log, sin

import numpy as np

from carrybook.base import constants as c
from carrybook.base.errors import NoSolutionError, require_range
from carrybook.base.numerics import Floats, Ints, in_parts
from carrybook.physics.aerodynamics import MID, Aerodynamics
from carrybook.physics.air import air_density, air_viscosity
from carrybook.physics.ball_model import STANDARD_BALL, BallModel
from carrybook.physics.flight_blocks import fly_blocks
from carrybook.physics.flight_steps import launch_one
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.wind import CALM, Wind

__all__ = [
    "BODY_ROW",
    "LANDING_ROW",
    "LONGEST",
    "PATH_STEP",
    "STEPS",
    "Landing",
    "Launch",
    "body_row",
    "fly",
    "fly_batch",
    "fly_path",
    "level_carries",
    "level_net",
    "wind_row",
]

# Ours, from the error study in docs/flight-error.md: lengths of the steps in which many balls fly.
# The first are short, as the wind changes fast near the ground; the last is kept on. [s]
STEPS = 0.25 / np.array([128.0, 128.0, 64.0, 32.0, 16.0, 8.0, 4.0, 2.0, 1.0])
PATH_STEP = 0.05  # s, between the points of a path and in a hop
LONGEST = 30.0  # s: no ball stays up so long
_AT_ONCE = 16_384  # ours: balls sorted and copied at once, so that memory stays flat

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
    ball: BallModel = STANDARD_BALL,
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
    ball : BallModel
        Its mass, its size, and its drag over that of the set.

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
    require_range("height change", height_change_m, -60.0, 60.0, "m")
    level = min(0.0, height_change_m)
    row = fly_batch(
        launch.row()[None, :],
        body_row(air, mass=ball.mass_kg, diameter=ball.diameter_m),
        aerodynamics.with_drag(ball.drag_factor).row()[None, :],
        np.zeros(1, dtype=np.int64),
        wind_row(wind, launch.start_right_rad, level)[None, :],
        level_net(height_change_m),
        np.zeros(3),
    )[0]
    _require_landed(row, height_change_m)
    return _landing(row)


def fly_path(
    launch: Launch,
    air: Air = REFERENCE_DAY,
    wind: Wind = CALM,
    *,
    aerodynamics: Aerodynamics = MID,
    height_change_m: float = 0.0,
    ball: BallModel = STANDARD_BALL,
) -> Floats:
    """Give the whole flight of one ball, a point every time step, the landing last.

    Parameters and errors are those of :func:`fly`.

    Returns
    -------
    path : ndarray, shape (n, 3)
        x along the line, y left, z above the launch. [m]
    """
    require_range("height change", height_change_m, -60.0, 60.0, "m")
    most = round(LONGEST / PATH_STEP)
    track, row = np.full((most + 2, 3), np.nan), np.empty(len(LANDING_ROW))
    launch_one(
        launch.row(),
        np.zeros(3),
        body_row(air, mass=ball.mass_kg, diameter=ball.diameter_m),
        aerodynamics.with_drag(ball.drag_factor).row(),
        wind_row(wind, launch.start_right_rad, min(0.0, height_change_m)),
        *level_net(height_change_m),
        PATH_STEP,
        most,
        row,
        track,
    )
    _require_landed(row, height_change_m)
    path: Floats = track[np.isfinite(track[:, 0])]
    return path


def _require_landed(row: Floats, height_change_m: float) -> None:
    if row[9] < 1.0:
        raise NoSolutionError(
            f"the ball does not come down on ground {height_change_m:+.1f} m from the launch;"
            " launch it higher or faster, or make the climb smaller"
        )


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


def level_carries(
    speed_mps: Floats,
    launch_rad: Floats | float,
    spin_per_speed: Floats | float,
    air: Air = REFERENCE_DAY,
    *,
    aerodynamics: Aerodynamics = MID,
    axis_rad: Floats | float = 0.0,
) -> Floats:
    """Carry of many balls over level ground in calm air.

    Parameters
    ----------
    speed_mps : ndarray, shape (n,)
        Ball speeds. [m/s]
    launch_rad, spin_per_speed : float or ndarray, shape (n,)
        Launch angles, and spin over speed. [rad], [rad/m]
    air : Air
        The air they fly through.
    aerodynamics : Aerodynamics
        Set of coefficients.
    axis_rad : float or ndarray, shape (n,)
        Tilt of their spin axis, as in :class:`Launch`. [rad]

    Returns
    -------
    carries : ndarray, shape (n,)
        Straight from launch to landing, however it curves; nan where a ball does not come down, or
        has no speed. [m]
    """
    speed = np.asarray(speed_mps, dtype=np.float64)
    n, nothing = len(speed), np.zeros(len(speed))
    launch, tilt = np.broadcast_to(launch_rad, n), np.broadcast_to(axis_rad, n)
    landed = fly_batch(
        np.column_stack([speed, launch, spin_per_speed * speed, tilt, nothing]),
        body_row(air),
        aerodynamics.row()[None, :],
        np.zeros(n, dtype=np.int64),
        np.tile(wind_row(CALM), (n, 1)),
        level_net(),
        np.zeros(3),
    )
    return np.where(landed[:, 9] > 0.0, np.hypot(landed[:, 0], landed[:, 1]), np.nan)


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
    starts: Floats,
) -> Floats:
    """Fly many balls.

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
    starts : ndarray, shape (3,) or (n, 3)
        Where they start; one that starts below the ground cannot land before it was above. [m]

    Returns
    -------
    landings : ndarray, shape (n, 10)
        Columns :data:`LANDING_ROW`; `landed` is 0 where a ball never came down.

    Notes
    -----
    Beyond what is given and returned, memory does not grow with the number of balls.
    """
    out = np.empty((len(launches), len(LANDING_ROW)))
    every = np.broadcast_to(starts, (len(launches), 3))

    def work(first: int, last: int) -> None:
        for low in range(first, last, _AT_ONCE):
            rows = slice(low, min(low + _AT_ONCE, last))
            order = _by_time_aloft(launches[rows])
            fly_blocks(
                0, len(order), order, launches[rows], np.array(every[rows]), body, aero,
                which_aero[rows], winds[rows], *net, STEPS, round(LONGEST / STEPS[-1]), out[rows],
            )  # fmt: skip

    in_parts(work, len(launches))
    return out


def _by_time_aloft(launches: Floats) -> Ints:
    """Order in which balls that fly about as long stand side by side."""
    rise = np.nan_to_num(np.abs(launches[:, 0] * np.sin(launches[:, 1])))
    return np.argsort((64.0 * rise).astype(np.uint16), kind="stable")
