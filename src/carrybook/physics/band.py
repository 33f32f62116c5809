"""One ball flown with every set of coefficients, whole paths kept: what a picture of it needs.

The band is widened, and says so, where the flight leaves what the sets were made for.
"""

from dataclasses import dataclass
from math import cos, sin

import numpy as np

from carrybook.base import constants as c
from carrybook.base.numerics import Floats
from carrybook.physics.aerodynamics import BAND, MID
from carrybook.physics.ball_model import STANDARD_BALL, BallModel
from carrybook.physics.flight import PATH_STEP, Landing, Launch, body_row, fly, fly_path, wind_row
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.wind import CALM, Wind

__all__ = ["FlownBand", "flight_numbers", "fly_band"]

# Where lift can vanish or reverse, lyu-2020: seen for Re 5e4 to 7e4 and 750 to 2250 rpm, no longer
# at 2500 rpm. The widening is ours (judgement).
_REVERSE_RE = 7.0e4
_REVERSE_SPIN = 2500.0 * c.RPM
_LEAST_BAND = 0.08
# Ours: what the sets may be trusted with, band and all; docs/sources.md.
_SPIN_PARAMETERS = (0.05, 1.0)
_REYNOLDS = (3.0e4, 2.5e5)


@dataclass(frozen=True, slots=True)
class FlownBand:
    """One ball as each set of the band flies it.

    Parameters
    ----------
    launch : Launch
        How it left the face.
    air, wind : Air, Wind
        What it flew through; the wind relative to its start line.
    landings : tuple of Landing
        Low, middle and high set.
    paths : tuple of ndarray, shape (n, 3)
        Their flights, as :func:`carrybook.physics.flight.fly_path` gives them. [m]
    carry_low_m, carry_high_m : float
        Ends of the band of carry: of the three sets, or wider where a warning says so. [m]
    warnings : tuple of str
        Where the flight leaves what the sets were made for; empty where it does not.
    """

    launch: Launch
    air: Air
    wind: Wind
    landings: tuple[Landing, ...]
    paths: tuple[Floats, ...]
    carry_low_m: float
    carry_high_m: float
    warnings: tuple[str, ...] = ()

    @property
    def middle(self) -> Landing:
        """The landing of the middle set."""
        return self.landings[BAND.index(MID)]


def fly_band(
    launch: Launch,
    air: Air = REFERENCE_DAY,
    wind: Wind = CALM,
    *,
    height_change_m: float = 0.0,
    ball: BallModel = STANDARD_BALL,
) -> FlownBand:
    """Fly one ball with every set of the band.

    Parameters and errors are those of :func:`carrybook.physics.flight.fly`.

    Notes
    -----
    Where the ball is slower than Re 7e4 and spins under 2500 rpm at once, lift can vanish or
    reverse (lyu-2020); the sets do not know that, and the band is widened to 8 % of the middle
    carry to either side at least. Beyond S 0.05 to 1.0 or Re 3e4 to 2.5e5 there is a warning only.
    """
    landings = tuple(
        fly(launch, air, wind, aerodynamics=a, height_change_m=height_change_m, ball=ball)
        for a in BAND
    )
    paths = tuple(
        fly_path(launch, air, wind, aerodynamics=a, height_change_m=height_change_m, ball=ball)
        for a in BAND
    )
    k = BAND.index(MID)
    spin_parameter, reynolds, spin = flight_numbers(
        launch, paths[k], landings[k].spin_rad_s, air, wind, ball=ball
    )
    reverse = bool(np.any((reynolds < _REVERSE_RE) & (spin < _REVERSE_SPIN)))
    carries = [landing.carry_m for landing in landings]
    room = _LEAST_BAND * abs(carries[k]) if reverse else 0.0
    return FlownBand(
        launch,
        air,
        wind,
        landings,
        paths,
        carry_low_m=min(*carries, carries[k] - room),
        carry_high_m=max(*carries, carries[k] + room),
        warnings=_warnings(reverse, spin_parameter, reynolds),
    )


def flight_numbers(
    launch: Launch,
    path: Floats,
    landing_spin_rad_s: float,
    air: Air,
    wind: Wind = CALM,
    *,
    ball: BallModel = STANDARD_BALL,
) -> tuple[Floats, Floats, Floats]:
    """Spin parameter, Reynolds number and spin along a flight.

    Parameters
    ----------
    launch : Launch
        How the ball left the face.
    path : ndarray, shape (n, 3)
        From :func:`carrybook.physics.flight.fly_path`. [m]
    landing_spin_rad_s : float
        Spin at its end. [rad/s]
    air, wind : Air, Wind
        What it flew through.
    ball : BallModel
        The ball.

    Returns
    -------
    spin_parameter, reynolds, spin_rad_s : ndarray, shape (n - 1,)
        At the launch and between the points; the last, broken step is left out. [1], [1], [rad/s]

    Notes
    -----
    Velocities are differences of the points; the spin is taken to fall evenly in time. Both are
    good to about a percent.
    """
    steps = np.full(max(len(path) - 2, 0), PATH_STEP)
    steps[:8] *= 0.125  # as in flight_steps.launch_one
    up, right = launch.launch_rad, launch.start_right_rad
    first = launch.speed_mps * np.array([[cos(up) * cos(right), -cos(up) * sin(right), sin(up)]])
    moving = np.vstack([first, np.diff(path[:-1], axis=0) / steps[:, None]])
    height = np.concatenate([path[:1, 2], 0.5 * (path[1:-1, 2] + path[:-2, 2])])
    moving[:, :2] -= _wind_at(height - min(0.0, path[-1, 2]), wind, right)
    speed = np.maximum(np.linalg.norm(moving, axis=1), 1e-9)
    passed = np.concatenate([[0.0], np.cumsum(steps) - 0.5 * steps])
    whole = max(float(steps.sum()) + 0.5 * PATH_STEP, 1e-9)
    spin = launch.spin_rad_s + (landing_spin_rad_s - launch.spin_rad_s) * passed / whole
    body = body_row(air, mass=ball.mass_kg, diameter=ball.diameter_m)
    return spin * body[2] / speed, speed * body[1], spin


def _wind_at(above_m: Floats, wind: Wind, line_right_rad: float) -> Floats:
    """Wind vectors at heights, as the kernels have them. [m/s]"""
    x, y, shear, height, _ = wind_row(wind, line_right_rad)
    share = np.maximum(0.0, 1.0 + shear * np.log(np.maximum(above_m, 1e-6) / height))
    vectors: Floats = share[:, None] * np.array([x, y])
    return vectors


def _warnings(reverse: bool, spin_parameter: Floats, reynolds: Floats) -> tuple[str, ...]:
    found = []
    if reverse:
        found.append(
            "part of this flight is slow (Re under 70 000) with less than 2500 rpm: lift can vanish"
            " or reverse there, which is not modelled; the band is at least"
            f" {100.0 * _LEAST_BAND:.0f} % either way"
        )
    s_low, s_high = float(spin_parameter.min()), float(spin_parameter.max())
    if s_low < _SPIN_PARAMETERS[0] or s_high > _SPIN_PARAMETERS[1]:
        found.append(
            f"spin parameter {s_low:.2f} to {s_high:.2f} in flight, outside {_SPIN_PARAMETERS[0]:g}"
            f" to {_SPIN_PARAMETERS[1]:g}: lift and drag are hardly known there"
        )
    low, high = float(reynolds.min()), float(reynolds.max())
    if low < _REYNOLDS[0] or high > _REYNOLDS[1]:
        found.append(
            f"Reynolds number {low:.0f} to {high:.0f} in flight, outside {_REYNOLDS[0]:.0f} to"
            f" {_REYNOLDS[1]:.0f}: lift and drag are hardly known there"
        )
    return tuple(found)
