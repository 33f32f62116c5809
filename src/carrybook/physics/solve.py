"""Flight asked backwards: the ball speed and start line that land a ball on a wanted spot."""

import numpy as np

from carrybook.base.errors import NoSolutionError
from carrybook.base.numerics import Floats, Ints, in_parts, kernel
from carrybook.physics.aerodynamics import MID, Aerodynamics
from carrybook.physics.flight import (
    MOST_STEPS,
    TIME_STEP,
    body_row,
    fly_to_ground,
    wind_row,
)
from carrybook.world.air import Air
from carrybook.world.wind import CALM

__all__ = ["SOLVED_ROW", "carry_speeds", "solve_landings", "speed_for_carry"]

SOLVED_ROW = ("speed", "start_right", "time", "apex", "descent", "spin", "landing_speed", "solved")
_TOLERANCE = 1e-4  # m


def speed_for_carry(
    carry_m: float,
    launch_rad: float,
    spin_per_speed: float,
    air: Air,
    *,
    aerodynamics: Aerodynamics = MID,
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
        aerodynamics=aerodynamics,
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

    Returns
    -------
    speeds : ndarray, shape (n,)
        [m/s]
    """
    n = len(carry_m)
    targets = np.column_stack([carry_m, np.zeros(n), np.zeros(n)])
    shots = np.column_stack([launch_rad, spin_per_speed, np.zeros(n)])
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
    the start line; ends within 0.1 mm.
    """
    out = np.empty((len(targets), len(SOLVED_ROW)))

    def work(first: int, last: int) -> None:
        _solve_many(
            first, last, targets, shots, body, aero, which_aero, wind,
            TIME_STEP, MOST_STEPS, _TOLERANCE, out,
        )  # fmt: skip

    in_parts(work, len(targets), least=32)
    return out


@kernel
def _solve_many(
    first: int,
    last: int,
    targets: Floats,
    shots: Floats,
    body: Floats,
    aero: Floats,
    which_aero: Ints,
    wind: Floats,
    dt: float,
    most_steps: int,
    tolerance: float,
    out: Floats,
) -> None:
    """Solve rows first..last."""
    net = np.empty((4, 4))
    track = np.empty((0, 3))
    hit = np.empty(10)
    for k in range(first, last):
        net[:, :] = targets[k, 2]
        distance, bearing = targets[k, 0], targets[k, 1]
        angle, ratio, tilt = shots[k, 0], shots[k, 1], shots[k, 2]
        right = bearing
        speed = min(np.sqrt(body[3] * distance / np.sin(2.0 * angle)) * 1.2 + 1.0, 60.0)
        last_speed, last_range, power = 0.0, 0.0, 1.6
        out[k, 7] = 0.0
        for _ in range(60):
            cr, sr, ct, st = np.cos(right), np.sin(right), np.cos(tilt), np.sin(tilt)
            level = speed * np.cos(angle)
            fly_to_ground(
                0.0, 0.0, 0.0, level * cr, -level * sr, speed * np.sin(angle), ratio * speed,
                -sr * ct, -cr * ct, -st, body, aero[which_aero[k]], wind,
                net, 0.0, 0.0, 1.0, dt, most_steps, hit, track,
            )  # fmt: skip
            if hit[9] < 1.0 or hit[0] * hit[0] + hit[1] * hit[1] < 1e-6:
                speed *= 1.15  # did not reach ground that lies higher
                if speed > 90.0:
                    break
                continue
            reached = np.sqrt(hit[0] * hit[0] + hit[1] * hit[1])
            miss = bearing - np.arctan2(-hit[1], hit[0])
            if abs(reached - distance) < tolerance and abs(miss) * distance < tolerance:
                out[k, 0], out[k, 1], out[k, 2], out[k, 3] = speed, right, hit[7], hit[8]
                flat = np.sqrt(hit[3] * hit[3] + hit[4] * hit[4])
                out[k, 4], out[k, 5] = np.arctan2(-hit[5], flat), hit[6]
                out[k, 6] = np.sqrt(flat * flat + hit[5] * hit[5])
                out[k, 7] = 1.0
                break
            if last_range > 0.0 and abs(np.log(speed / last_speed)) > 1e-9:
                slope = np.log(reached / last_range) / np.log(speed / last_speed)
                if 0.2 < slope < 4.0:
                    power = slope
            last_speed, last_range = speed, reached
            change = np.log(distance / reached) / power
            speed *= np.exp(min(max(change, -0.5), 0.5))
            right += miss
            if speed > 90.0 or speed < 1.0:
                break
