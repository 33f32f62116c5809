"""Club meets ball: speed, launch and spin from loft and delivery, and what the lie does to them.

Used for differences and for shots without launch data; levels come from the player's own balls.
"""

from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sin
from typing import TypeVar

import numpy as np

from carrybook.base import constants as c
from carrybook.base.errors import BadInputError, require_range
from carrybook.base.numerics import Floats
from carrybook.world.lie import Lie, Moisture

__all__ = [
    "DRY_FRICTION",
    "HEAD_MASS",
    "RESTITUTION",
    "TANGENTIAL_RESTITUTION",
    "TYPICAL_ATTACK",
    "LieEffect",
    "Strike",
    "delivered_loft",
    "launch_from_loft",
    "lie_effect",
    "off_face",
    "off_this_lie",
    "slip_angle",
    "strike",
]

Real = TypeVar("Real", float, Floats)

HEAD_MASS = 0.30  # kg; wedge heads are 290 to 310 g, from memory
TANGENTIAL_RESTITUTION = 0.17  # ours: middle of 0.1 to 0.6; fitted per club where data exist
DRY_FRICTION = 0.40  # 0.35 to 0.45 between clean dry face and ball, from memory
RESTITUTION = (0.86, 0.0029)  # 1, s/m: at rest, and its fall with normal speed, penner-2001
TYPICAL_ATTACK = radians(-5.0)  # ours (judgement, no source): where none was measured
FULL_WEDGE_SPEED = 31.3  # m/s of the head, 70 mph; ours, where launch_from_loft is evaluated

# Ours (judgement, no source): delivered loft over stamped loft of a stock wedge swing, what a low
# or high flight takes off or adds, and the least of it.
_DELIVERED = 0.78
_FLIGHT_LOFT = {"low": radians(-5.0), "stock": 0.0, "high": radians(4.0)}
_LEAST_DELIVERED = radians(5.0)


@dataclass(frozen=True, slots=True)
class Strike:
    """A ball leaving the face: speed [m/s], launch [rad], backspin [rad/s], and if it gripped."""

    speed_mps: float
    launch_rad: float
    spin_rad_s: float
    gripped: bool


@dataclass(frozen=True, slots=True)
class LieEffect:
    """What a lie does to spin and speed of a clean dry strike: low, middle and high factor."""

    spin: tuple[float, float, float]
    speed: tuple[float, float, float]


# Ours: working factors around published sign and size (grooves-2007); wide on purpose.
_LIE = {
    Lie.TEE: LieEffect((1.0, 1.0, 1.0), (1.0, 1.0, 1.0)),
    Lie.FAIRWAY: LieEffect((1.0, 1.0, 1.0), (1.0, 1.0, 1.0)),
    Lie.LIGHT_ROUGH: LieEffect((0.45, 0.60, 0.85), (0.94, 0.97, 1.00)),
    Lie.DEEP_ROUGH: LieEffect((0.20, 0.30, 0.50), (0.90, 0.95, 1.00)),
}
_MOISTURE = {
    Moisture.DRY: LieEffect((1.0, 1.0, 1.0), (1.0, 1.0, 1.0)),
    Moisture.DEW: LieEffect((0.75, 0.85, 0.95), (0.99, 0.995, 1.0)),
    Moisture.WET: LieEffect((0.40, 0.60, 0.90), (0.97, 0.985, 1.0)),
}


def strike(
    club_speed_mps: float,
    spin_loft_rad: float,
    attack_rad: float,
    *,
    friction: float = DRY_FRICTION,
    tangential_restitution: float = TANGENTIAL_RESTITUTION,
    head_mass: float = HEAD_MASS,
) -> Strike:
    """Strike a ball without any tilt of the spin axis.

    Parameters
    ----------
    club_speed_mps : float
        Speed of the head, 3 to 60. [m/s]
    spin_loft_rad : float
        Angle between face normal and path of the head, 5 to 75 deg. [rad]
    attack_rad : float
        Path of the head above the horizon; down is negative. [rad]
    friction : float
        Sliding friction between face and ball. [1]
    tangential_restitution : float
        Tangential coefficient of restitution while the ball grips. [1]
    head_mass : float
        Mass of the head. [kg]

    Returns
    -------
    strike : Strike
        How the ball leaves.

    Raises
    ------
    OutOfRangeError
        Club speed or spin loft outside its range.

    Notes
    -----
    Rigid bodies, e = 0.86 - 0.0029 v_n (penner-2001, from memory); the ball grips, or slips with
    constant friction. Whatever the friction, sin(delta) = 0.4 r w / v for the angle delta between
    face normal and launch.
    """
    normal, along, gripped = off_face(
        club_speed_mps,
        spin_loft_rad,
        friction=friction,
        tangential_restitution=tangential_restitution,
        head_mass=head_mass,
    )
    return Strike(
        speed_mps=hypot(normal, along),
        launch_rad=spin_loft_rad + attack_rad - atan2(along, normal),
        spin_rad_s=along / (0.4 * c.BALL_RADIUS),
        gripped=gripped,
    )


def off_face(
    club_speed_mps: float,
    spin_loft_rad: float,
    *,
    friction: float,
    tangential_restitution: float,
    head_mass: float,
) -> tuple[float, float, bool]:
    """Speed of the ball along the face normal and along the face, and if it gripped.

    Parameters, errors and equations are those of :func:`strike`.

    Returns
    -------
    normal, along, gripped : float, float, bool
        [m/s], [m/s], whether it gripped.
    """
    require_range("club speed", club_speed_mps, 3.0, 60.0, "m/s")
    require_range("spin loft", degrees(spin_loft_rad), 5.0, 75.0, "deg")
    ratio = c.BALL_MASS / head_mass
    into = club_speed_mps * cos(spin_loft_rad)
    restitution = RESTITUTION[0] - RESTITUTION[1] * into
    normal = (1.0 + restitution) * into / (1.0 + ratio)
    grip = (1.0 + tangential_restitution) * club_speed_mps * sin(spin_loft_rad) / (3.5 + ratio)
    return normal, min(grip, friction * normal), grip <= friction * normal


def launch_from_loft(loft_rad: float, flight: str) -> tuple[float, float]:
    """Launch angle and spin over ball speed that a loft suggests, for a shot nobody measured.

    Parameters
    ----------
    loft_rad : float
        Loft of the club, 7 to 70 deg. [rad]
    flight : str
        "low", "stock" or "high".

    Returns
    -------
    launch_rad, spin_per_speed : float
        [rad], [rad/m]

    Raises
    ------
    OutOfRangeError
        The loft is outside its range.

    Notes
    -----
    Delivered loft is a judgement of ours; spin so predicted can be 40 % off for a partial shot.
    """
    require_range("loft", degrees(loft_rad), 7.0, 70.0, "deg")
    delivered = delivered_loft(loft_rad, flight)
    hit = strike(FULL_WEDGE_SPEED, delivered - TYPICAL_ATTACK, TYPICAL_ATTACK)
    return hit.launch_rad, hit.spin_rad_s / hit.speed_mps


def delivered_loft(loft_rad: float, flight: str) -> float:
    """Dynamic loft that a stamped loft is usually delivered with; a judgement of ours. [rad]

    Parameters
    ----------
    loft_rad : float
        Loft of the club. [rad]
    flight : str
        "low", "stock" or "high".
    """
    return max(_DELIVERED * loft_rad + _FLIGHT_LOFT[flight], _LEAST_DELIVERED)


def lie_effect(lie: Lie, moisture: Moisture) -> LieEffect:
    """What this lie and moisture do to a clean dry strike, with the range that is believable.

    Raises
    ------
    BadInputError
        Sand: a splash shot is not a strike and is not modelled.
    """
    if lie is Lie.SAND:
        raise BadInputError(
            f"lie = {lie.value!r} is not modelled: the club does not touch the ball;"
            f" choose one of: {', '.join(_LIE)}"
        )
    a, b = _LIE[lie], _MOISTURE[moisture]
    spin = (a.spin[0] * b.spin[0], a.spin[1] * b.spin[1], a.spin[2] * b.spin[2])
    speed = (a.speed[0] * b.speed[0], a.speed[1] * b.speed[1], a.speed[2] * b.speed[2])
    return LieEffect(spin, speed)


def off_this_lie(launch_rad: Real, spin_per_speed: Real, spin_factor: Real) -> tuple[Real, Real]:
    """Launch angle and spin over speed once the lie has taken some spin off.

    Parameters
    ----------
    launch_rad, spin_per_speed : float or ndarray, shape (...)
        Of the clean dry strike. [rad], [rad/m]
    spin_factor : float or ndarray, shape (...)
        Share of the spin that is left. [1]

    Returns
    -------
    launch_rad, spin_per_speed : float or ndarray, shape (...)
        The launch rises by what the identity sin(delta) = 0.4 r w / v asks for.
    """
    less = spin_per_speed * spin_factor
    rise = slip_angle(spin_per_speed) - slip_angle(less)
    return launch_rad + rise, less


def slip_angle(spin_per_speed: Real) -> Real:
    """Angle between face normal and launch that goes with a spin, whatever the friction.

    Parameters
    ----------
    spin_per_speed : float or ndarray, shape (...)
        Spin over ball speed. [rad/m]

    Returns
    -------
    delta_rad : float or ndarray, shape (...)
        sin(delta) = 0.4 r w / v, held where the sine would pass 0.95. [rad]
    """
    angle: Real = np.arcsin(np.minimum(0.4 * c.BALL_RADIUS * spin_per_speed, 0.95))
    return angle
