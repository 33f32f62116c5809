"""Flight asked backwards: the ball speed and start line that land a ball on a wanted spot."""

from dataclasses import dataclass, field, fields

import numpy as np

from carrybook.base import constants as c
from carrybook.base.errors import NoSolutionError
from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.physics.aerodynamics import MID, Aerodynamics
from carrybook.physics.flight import body_row, fly_batch, level_net, wind_row
from carrybook.world.air import Air
from carrybook.world.wind import CALM

__all__ = ["SOLVED_ROW", "carry_speeds", "solve_landings", "speed_for_carry"]

SOLVED_ROW = ("speed", "start_right", "time", "apex", "descent", "spin", "landing_speed", "solved")
_TOLERANCE = 1e-4  # m
_FIRST_POWER = 1.6  # ours: carry grows with about this power of speed
_MOST_TRIES = 60
_SLOWEST, _FASTEST = 1.0, 90.0  # m/s


def speed_for_carry(
    carry_m: float,
    launch_rad: float,
    spin_per_speed: float,
    air: Air,
    *,
    aerodynamics: Aerodynamics = MID,
    axis_rad: float = 0.0,
) -> float:
    """Ball speed that carries a distance over level ground in calm air.

    Parameters
    ----------
    carry_m : float
        Wanted carry. [m]
    launch_rad, spin_per_speed : float
        Launch angle, and spin over ball speed. [rad], [rad/m]
    air : Air
        The air it flies through.
    aerodynamics : Aerodynamics
        Set of coefficients.
    axis_rad : float
        Tilt of the spin axis; the carry is straight from launch to landing. [rad]

    Returns
    -------
    speed : float
        [m/s]

    Raises
    ------
    NoSolutionError
        No speed up to 90 m/s carries that far.
    """
    speeds = carry_speeds(
        np.array([carry_m]), np.array([launch_rad]), np.array([spin_per_speed]), air,
        aerodynamics=aerodynamics, axis_rad=axis_rad,
    )  # fmt: skip
    if np.isnan(speeds[0]):
        raise NoSolutionError(
            f"no ball speed up to 90 m/s carries {carry_m:.1f} m with a launch of"
            f" {np.degrees(launch_rad):.0f} deg; check launch, spin and carry"
        )
    return float(speeds[0])


def carry_speeds(
    carry_m: Floats,
    launch_rad: Floats,
    spin_per_speed: Floats,
    air: Air,
    *,
    aerodynamics: Aerodynamics = MID,
    axis_rad: Floats | float = 0.0,
) -> Floats:
    """Ball speeds that carry given distances, many at a time; nan where none does.

    Parameters
    ----------
    carry_m, launch_rad, spin_per_speed : ndarray, shape (n,)
        Wanted carries, launch angles, spin over speed. [m], [rad], [rad/m]
    air : Air
        The air they fly through; level ground, calm.
    aerodynamics : Aerodynamics
        Set of coefficients.
    axis_rad : float or ndarray, shape (n,)
        Tilt of the spin axis; the carry is straight from launch to landing. [rad]

    Returns
    -------
    speeds : ndarray, shape (n,)
        [m/s]
    """
    n = len(carry_m)
    targets = np.column_stack([carry_m, np.zeros(n), np.zeros(n)])
    shots = np.column_stack([launch_rad, spin_per_speed, np.broadcast_to(axis_rad, n)])
    solved = solve_landings(
        targets, shots, body_row(air), aerodynamics.row()[None, :], np.zeros(n, dtype=np.int64),
        wind_row(CALM),
    )  # fmt: skip
    return np.where(solved[:, 7] > 0.0, solved[:, 0], np.nan)


def solve_landings(
    targets: Floats, shots: Floats, body: Floats, aero: Floats, which_aero: Ints, wind: Floats
) -> Floats:
    """Solve many launches for where they land.

    Parameters
    ----------
    targets : ndarray, shape (n, 3)
        Distance over the ground from the start, bearing right of the x axis, and height of the
        landing spot against the start. [m], [rad], [m]
    shots : ndarray, shape (n, 3)
        Launch angle, spin over speed, axis tilt. [rad], [rad/m], [rad]
    body : ndarray, shape (4,)
        From :func:`carrybook.physics.flight.body_row`.
    aero : ndarray, shape (k, 8)
        Rows of coefficients.
    which_aero : ndarray of int64, shape (n,)
        Which of them each shot flies with.
    wind : ndarray, shape (5,)
        From :func:`carrybook.physics.flight.wind_row`.

    Returns
    -------
    solved : ndarray, shape (n, 8)
        Columns :data:`SOLVED_ROW`; `solved` is 0 where no speed from 1 to 90 m/s gets there.

    Notes
    -----
    Newton in the logarithm of the speed with the slope of the last two tries, and a plain turn of
    the start line, all shots at once; ends within 0.1 mm. Where so much spin goes with speed that
    more speed carries no further, what lies beyond is not reached.
    """
    n = len(targets)
    out = np.zeros((n, len(SOLVED_ROW)))
    tries = _Tries(np.arange(n), _first_speed(targets, shots), targets[:, 1].copy())
    for _ in range(_MOST_TRIES):
        if not len(tries.row):
            break
        hit = _fly(tries, targets, shots, body, aero, which_aero, wind)
        tries = _improve(tries, hit, targets, out)
    return out


@dataclass(slots=True)
class _Tries:
    """Shots not solved yet: row, speed and start line to try, last speed and range, last slope."""

    row: Ints
    speed: Floats
    right: Floats
    last_speed: Floats = field(default_factory=lambda: np.empty(0))
    last_range: Floats = field(default_factory=lambda: np.empty(0))
    power: Floats = field(default_factory=lambda: np.empty(0))

    def __post_init__(self) -> None:
        if not len(self.power):
            nothing = np.full(len(self.row), np.nan)
            self.last_speed, self.last_range = nothing, nothing.copy()
            self.power = np.full(len(self.row), _FIRST_POWER)

    def only(self, keep: Flags) -> "_Tries":
        return _Tries(*(getattr(self, f.name)[keep] for f in fields(self)))


def _first_speed(targets: Floats, shots: Floats) -> Floats:
    """A little more than without air."""
    still = np.sqrt(c.GRAVITY * targets[:, 0] / np.sin(2.0 * shots[:, 0]))
    return np.minimum(1.2 * still + 1.0, 60.0)


def _fly(
    tries: _Tries,
    targets: Floats,
    shots: Floats,
    body: Floats,
    aero: Floats,
    which_aero: Ints,
    wind: Floats,
) -> Floats:
    """Landings on a level at zero, from below or above it."""
    k = tries.row
    launch, ratio, tilt = shots[k].T
    rows = np.column_stack([tries.speed, launch, ratio * tries.speed, tilt, tries.right])
    starts = np.column_stack([np.zeros((len(k), 2)), -targets[k, 2]])
    winds = np.tile(wind, (len(k), 1))
    winds[:, 4] -= targets[k, 2]
    return fly_batch(rows, body, aero, which_aero[k], winds, level_net(), starts)


def _improve(tries: _Tries, hit: Floats, targets: Floats, out: Floats) -> _Tries:
    """Write down what is solved; give the rest with better speeds and start lines."""
    distance, bearing = targets[tries.row, 0], targets[tries.row, 1]
    reached = np.hypot(hit[:, 0], hit[:, 1])
    short = (hit[:, 9] < 1.0) | (reached < 1e-3)  # never got up to ground that lies higher
    reached = np.where(short, np.nan, reached)
    miss = bearing - np.arctan2(-hit[:, 1], hit[:, 0])
    solved = (np.abs(reached - distance) < _TOLERANCE) & (np.abs(miss) * distance < _TOLERANCE)
    level = np.hypot(hit[:, 3], hit[:, 4])
    found = (
        tries.speed, tries.right, hit[:, 7], hit[:, 8], np.arctan2(-hit[:, 5], level), hit[:, 6],
        np.hypot(level, hit[:, 5]), np.ones(len(hit)),
    )  # fmt: skip
    out[tries.row[solved]] = np.column_stack(found)[solved]
    step = np.log(tries.speed / tries.last_speed)
    with np.errstate(divide="ignore", invalid="ignore"):
        slope = np.log(reached / tries.last_range) / step
    usable = (slope > 0.2) & (slope < 4.0) & (np.abs(step) > 1e-9)
    tries.power = np.where(usable, slope, tries.power)
    change = np.clip(np.log(distance / reached) / tries.power, -0.5, 0.5)
    tries.last_speed, tries.last_range = np.where(short, np.nan, tries.speed), reached
    tries.speed = tries.speed * np.exp(np.where(short, 0.14, change))
    tries.right = np.where(short, tries.right, tries.right + miss)
    believable = (tries.speed >= _SLOWEST) & (tries.speed <= _FASTEST)
    return tries.only(~solved & believable)
