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

__all__ = [
    "GUARDED_BAND",
    "REVERSE_RE",
    "REVERSE_SPIN",
    "UNGUARDED",
    "FlownBand",
    "Guard",
    "flight_numbers",
    "fly_band",
    "guard_flight",
]

# Where lift can vanish or reverse, lyu-2020: seen for Re 5e4 to 7e4 and 750 to 2250 rpm, no longer
# at 2500 rpm. The widening is ours (judgement).
REVERSE_RE = 7.0e4
REVERSE_SPIN = 2500.0 * c.RPM
GUARDED_BAND = 0.08  # of the carry, either way
# Ours: what the sets may be trusted with, band and all; docs/sources.md.
_SPIN_PARAMETERS = (0.05, 1.0)
_REYNOLDS = (3.0e4, 2.5e5)


@dataclass(frozen=True, slots=True)
class Guard:
    """Where a flight leaves what lift and drag were made for.

    Parameters
    ----------
    reverse : bool
        Part of it is slow with little spin at once: lift can vanish or reverse.
    spin_parameters, reynolds : tuple of float
        Least and greatest in flight. [1], [1]
    """

    reverse: bool
    spin_parameters: tuple[float, float]
    reynolds: tuple[float, float]

    @property
    def spin_beyond(self) -> bool:
        """Whether the spin parameter leaves 0.05 to 1.0."""
        return _leaves(self.spin_parameters, _SPIN_PARAMETERS)

    @property
    def reynolds_beyond(self) -> bool:
        """Whether the Reynolds number leaves 3e4 to 2.5e5."""
        return _leaves(self.reynolds, _REYNOLDS)

    @property
    def warnings(self) -> tuple[str, ...]:
        """Each of them in words; empty where there is none."""
        found = []
        if self.reverse:
            found.append(
                "part of this flight is slow (Re under 70 000) with less than 2500 rpm: lift can"
                " vanish or reverse there, which is not modelled; the band is at least"
                f" {100.0 * GUARDED_BAND:.0f} % either way"
            )
        if self.spin_beyond:
            low, high = self.spin_parameters
            found.append(
                f"spin parameter {low:.2f} to {high:.2f} in flight, outside"
                f" {_SPIN_PARAMETERS[0]:g} to {_SPIN_PARAMETERS[1]:g}: lift and drag are hardly"
                " known there"
            )
        if self.reynolds_beyond:
            low, high = self.reynolds
            found.append(
                f"Reynolds number {low:.0f} to {high:.0f} in flight, outside {_REYNOLDS[0]:.0f} to"
                f" {_REYNOLDS[1]:.0f}: lift and drag are hardly known there"
            )
        return tuple(found)


UNGUARDED = Guard(False, _SPIN_PARAMETERS, _REYNOLDS)


def _leaves(seen: tuple[float, float], allowed: tuple[float, float]) -> bool:
    return seen[0] < allowed[0] or seen[1] > allowed[1]


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
    guard = guard_flight(launch, paths[k], landings[k].spin_rad_s, air, wind, ball=ball)
    carries = [landing.carry_m for landing in landings]
    room = GUARDED_BAND * abs(carries[k]) if guard.reverse else 0.0
    return FlownBand(
        launch,
        air,
        wind,
        landings,
        paths,
        carry_low_m=min(*carries, carries[k] - room),
        carry_high_m=max(*carries, carries[k] + room),
        warnings=guard.warnings,
    )


def guard_flight(
    launch: Launch,
    path: Floats,
    landing_spin_rad_s: float,
    air: Air,
    wind: Wind = CALM,
    *,
    ball: BallModel = STANDARD_BALL,
) -> Guard:
    """Look whether a flight leaves what lift and drag were made for.

    Parameters are those of :func:`flight_numbers`.
    """
    spin_parameter, reynolds, spin = flight_numbers(
        launch, path, landing_spin_rad_s, air, wind, ball=ball
    )
    return Guard(
        reverse=bool(np.any((reynolds < REVERSE_RE) & (spin < REVERSE_SPIN))),
        spin_parameters=(float(spin_parameter.min()), float(spin_parameter.max())),
        reynolds=(float(reynolds.min()), float(reynolds.max())),
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
