"""A full delivery of the club: how face and path together start, spin and curve the ball.

Axes as in flight: x along the line, y to the left, z up. Used for differences between deliveries
of one shot; the shot itself comes from the player's balls, through `delivery_for`.
"""

from dataclasses import dataclass
from math import asin, atan, atan2, cos, degrees, hypot, radians, sin, sqrt, tan

import numpy as np

from carrybook.base import constants as c
from carrybook.base.errors import require_range
from carrybook.base.numerics import Floats
from carrybook.physics.flight import Launch
from carrybook.physics.strike import (
    DRY_FRICTION,
    HEAD_MASS,
    RESTITUTION,
    TANGENTIAL_RESTITUTION,
    TYPICAL_ATTACK,
    off_face,
    slip_angle,
)

__all__ = ["Contact", "Delivery", "deliver", "delivery_for", "is_consistent", "launch_loft"]

# Ours, for measured balls: how far the loft implied may be from the loft delivered (1 deg of
# launch, 2 deg of loft and a tenth of the spin make 3), and the greatest tangential restitution.
CONSISTENT = radians(4.0)
_MOST_GRIP = 0.6
_LEAST_RESTITUTION = 0.70
_SPIN_LOFTS = (radians(5.0), radians(75.0))  # as in strike


@dataclass(frozen=True, slots=True)
class Delivery:
    """How the head meets the ball, struck in the middle of the face.

    Parameters
    ----------
    club_speed_mps : float
        Speed of the head, 3 to 60. [m/s]
    dynamic_loft_rad : float
        Face normal above the horizon, 0 to 75 deg. [rad]
    attack_rad : float
        Path of the head above the horizon, -20 to 15 deg; down is negative. [rad]
    path_right_rad, face_right_rad : float
        Where head and face normal point, right of the line, -30 to 30 deg. [rad]

    Raises
    ------
    OutOfRangeError
        A quantity is outside its range.
    """

    club_speed_mps: float
    dynamic_loft_rad: float
    attack_rad: float
    path_right_rad: float = 0.0
    face_right_rad: float = 0.0

    def __post_init__(self) -> None:
        require_range("club speed", self.club_speed_mps, 3.0, 60.0, "m/s")
        require_range("dynamic loft", degrees(self.dynamic_loft_rad), 0.0, 75.0, "deg")
        require_range("attack", degrees(self.attack_rad), -20.0, 15.0, "deg")
        require_range("path", degrees(self.path_right_rad), -30.0, 30.0, "deg")
        require_range("face", degrees(self.face_right_rad), -30.0, 30.0, "deg")

    def spin_loft_rad(self) -> float:
        """Angle between face normal and path of the head. [rad]"""
        face, path = self._face(), self._path()
        return atan2(float(np.linalg.norm(np.cross(face, path))), float(face @ path))

    def _face(self) -> Floats:
        return _direction(self.dynamic_loft_rad, self.face_right_rad)

    def _path(self) -> Floats:
        return _direction(self.attack_rad, self.path_right_rad)


@dataclass(frozen=True, slots=True)
class Contact:
    """What ball and face do to each other: friction, tangential restitution; head mass [kg]."""

    friction: float = DRY_FRICTION
    tangential_restitution: float = TANGENTIAL_RESTITUTION
    head_mass: float = HEAD_MASS


def deliver(delivery: Delivery, contact: Contact | None = None) -> Launch:
    """Strike a ball with face and path pointing where they do.

    Parameters
    ----------
    delivery : Delivery
        How the head comes.
    contact : Contact, optional
        Ball on face; dry and clean if not given.

    Returns
    -------
    launch : Launch
        How the ball leaves.

    Raises
    ------
    OutOfRangeError
        Spin loft outside 5 to 75 deg, or a launch that is not believable.

    Notes
    -----
    :func:`carrybook.physics.strike.strike` in the plane of path and face normal; the spin axis
    stands square to that plane, hence square to the launch: the ball leaves without rifle spin.
    `Launch` has no room for the part of the axis that lies along the start line, sin(tilt of
    the plane) sin(launch): it is dropped and the spin rate kept. That weakens the side force on
    the way up and strengthens it on the way down; the curve of a wedge comes out 10 to 17 % small
    (a test flies both). Gear effect and bending of the shaft are left out.
    """
    touch = contact or Contact()
    face, path = delivery._face(), delivery._path()
    normal, along, _ = off_face(
        delivery.club_speed_mps,
        delivery.spin_loft_rad(),
        friction=touch.friction,
        tangential_restitution=touch.tangential_restitution,
        head_mass=touch.head_mass,
    )
    slip = path - (path @ face) * face
    slip /= np.linalg.norm(slip)
    leaving = normal * face + along * slip
    x, y, z = (float(v) for v in leaving)
    right = atan2(0.0 - y, x)
    axis = -np.cross(face, slip)  # the torque of (-r face) x (force along slip)
    across = -float(axis[0]) * sin(right) - float(axis[1]) * cos(right)
    return Launch(
        speed_mps=hypot(normal, along),
        launch_rad=atan2(z, hypot(x, y)),
        spin_rad_s=along / (0.4 * c.BALL_RADIUS),
        axis_rad=atan2(0.0 - float(axis[2]), across),
        start_right_rad=right,
    )


def delivery_for(
    ball_speed_mps: float,
    launch_rad: float,
    spin_rad_s: float,
    attack_rad: float = TYPICAL_ATTACK,
) -> tuple[Delivery, Contact]:
    """Find the straight delivery, and the grip, that give a launch.

    Parameters
    ----------
    ball_speed_mps, launch_rad, spin_rad_s : float
        Of the ball. [m/s], [rad], [rad/s]
    attack_rad : float
        Path of the head above the horizon. [rad]

    Returns
    -------
    delivery, contact : Delivery, Contact
        `deliver(delivery, contact)` is that launch again; the tangential restitution is whatever
        it takes, and friction is raised where the reading needs it.

    Raises
    ------
    OutOfRangeError
        No strike gives that launch.
    """
    loft, spin_loft = launch_loft(ball_speed_mps, launch_rad, spin_rad_s, attack_rad)
    require_range("spin loft", degrees(spin_loft), 5.0, 75.0, "deg")
    ratio = c.BALL_MASS / HEAD_MASS
    delta = loft - launch_rad
    normal, along = ball_speed_mps * cos(delta), ball_speed_mps * sin(delta)
    most, fall = 1.0 + RESTITUTION[0], RESTITUTION[1]
    into = (most - sqrt(most**2 - 4.0 * fall * (1.0 + ratio) * normal)) / (2.0 * fall)
    speed = into / cos(spin_loft)
    grip = along * (3.5 + ratio) / (speed * sin(spin_loft)) - 1.0
    return Delivery(speed, loft, attack_rad), Contact(max(DRY_FRICTION, tan(delta)), grip)


def launch_loft(
    ball_speed_mps: float, launch_rad: float, spin_rad_s: float, attack_rad: float
) -> tuple[float, float]:
    """Loft that a measured ball says was delivered, whatever the friction.

    Parameters
    ----------
    ball_speed_mps, launch_rad, spin_rad_s : float
        Of the ball. [m/s], [rad], [rad/s]
    attack_rad : float
        Path of the head above the horizon. [rad]

    Returns
    -------
    dynamic_loft_rad, spin_loft_rad : float
        Face normal above the horizon, and above the path. [rad]

    Raises
    ------
    OutOfRangeError
        More spin than any strike gives at that ball speed.

    Notes
    -----
    sin(delta) = 0.4 r w / v, exact for a uniform rigid sphere struck along one plane.
    """
    require_range("ball speed", ball_speed_mps, 1.0, 90.0, "m/s")
    most = 0.9 * ball_speed_mps / (0.4 * c.BALL_RADIUS)
    require_range("spin at that ball speed", spin_rad_s / c.RPM, 0.0, most / c.RPM, "rpm")
    loft = launch_rad + float(slip_angle(spin_rad_s / ball_speed_mps))
    return loft, loft - attack_rad


def is_consistent(
    ball_speed_mps: float,
    launch_rad: float,
    spin_rad_s: float,
    attack_rad: float,
    dynamic_loft_rad: float,
    *,
    tolerance_rad: float = CONSISTENT,
) -> bool:
    """Whether a measured ball can have come from the loft that is said to have struck it.

    Parameters
    ----------
    ball_speed_mps, launch_rad, spin_rad_s : float
        Of the ball. [m/s], [rad], [rad/s]
    attack_rad, dynamic_loft_rad : float
        Path of the head and face normal above the horizon, measured or believed. [rad]
    tolerance_rad : float
        How far the loft implied may be from that; the default, 4 deg, is ours. [rad]

    Returns
    -------
    consistent : bool
        False also where no strike gives the reading, or where the spin needs a tangential
        restitution above 0.6 (ours) by more than the tolerance.
    """
    sine = 0.4 * c.BALL_RADIUS * spin_rad_s / max(ball_speed_mps, 1e-9)
    if not 0.0 <= sine <= 0.9:
        return False
    delta = asin(sine)
    spin_loft = launch_rad + delta - attack_rad
    if not _SPIN_LOFTS[0] <= spin_loft <= _SPIN_LOFTS[1]:
        return False
    ratio = c.BALL_MASS / HEAD_MASS
    share = (1.0 + _MOST_GRIP) / (1.0 + _LEAST_RESTITUTION) * (1.0 + ratio) / (3.5 + ratio)
    most = atan(share * tan(spin_loft))
    return abs(launch_rad + delta - dynamic_loft_rad) <= tolerance_rad >= delta - most


def _direction(up_rad: float, right_rad: float) -> Floats:
    level = cos(up_rad)
    return np.array([level * cos(right_rad), -level * sin(right_rad), sin(up_rad)])
