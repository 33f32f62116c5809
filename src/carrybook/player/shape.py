"""How an owned draw or cut curves: from the log where it shows, else as is usual."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians, sqrt

import numpy as np

from carrybook.base.errors import OutOfRangeError, require_range
from carrybook.physics.aerodynamics import MID, Aerodynamics
from carrybook.physics.delivery import Delivery, deliver, delivery_for
from carrybook.physics.flight import Launch, fly
from carrybook.physics.solve import carry_speeds
from carrybook.physics.strike import launch_from_loft
from carrybook.player.bag import Shape, Shot
from carrybook.player.balls import Ball
from carrybook.player.robust import student_fit
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.lie import Lie

__all__ = [
    "STRAIGHT",
    "Curve",
    "Sizes",
    "UsualShape",
    "curve_of",
    "stock_curve",
    "usual_launch",
    "usual_shape",
]

Sized = tuple[float, float, float]

_TYPICAL_SPEED = 30.0  # m/s of the ball, ours: the tilt of a shape hardly depends on it
_TENTH = 1.2816  # a stated small and large size are read as 10 % and 90 % points
# Ours: how far single tilts stray, and the balls that is worth; how far all of one
# day may be off together, as a tilt where the axis was measured, as a direction where it follows
# from start line and side (wind that nobody logged).
_PRIOR_STRAY = radians(4.0)
_PRIOR_BALLS = 6.0
_DAY_SD = radians(1.0)
_DRIFT_SD = radians(1.5)
_LEAST_TILT_SD = radians(1.5)  # ours: of a usual delivery that cannot be computed
_PROBE = radians(5.0)  # of tilt: how much a shot curves for it


@dataclass(frozen=True, slots=True)
class Sizes:
    """How large the changes are: small, middle and large.

    All are ours: working sizes of common practice, to be replaced by what the player measures.

    Parameters
    ----------
    ball_back_rad : tuple of float
        Dynamic loft that ball back and hands ahead take off, as a change. [rad]
    face_open_rad : tuple of float
        Dynamic loft that ball forward or an open face adds. [rad]
    shorter : tuple of float
        Club speed of a shorter finish over the stock one, 0.3 to 1. [1]
    across_rad : tuple of float
        How far the path points past the face when the ball is turned over or cut, 0 to 15 deg;
        the face looks down the line. [rad]
    draw_loft_rad, cut_loft_rad : tuple of float
        Dynamic loft that goes with turning it over, and with sliding across it. [rad]

    Raises
    ------
    OutOfRangeError
        A size outside its range; loft may change by 15 deg at most.
    """

    ball_back_rad: Sized = (radians(-2.5), radians(-4.0), radians(-5.5))
    face_open_rad: Sized = (radians(2.5), radians(4.0), radians(5.5))
    shorter: Sized = (0.94, 0.90, 0.86)
    across_rad: Sized = (radians(3.0), radians(5.0), radians(7.0))
    draw_loft_rad: Sized = (radians(-2.0), radians(-3.0), radians(-4.0))
    cut_loft_rad: Sized = (radians(2.0), radians(3.0), radians(4.0))

    def __post_init__(self) -> None:
        for name in ("ball_back_rad", "face_open_rad", "draw_loft_rad", "cut_loft_rad"):
            what = f"change of loft, {name.removesuffix('_rad').replace('_', ' ')},"
            require_range(what, np.degrees(getattr(self, name)), -15.0, 15.0, "deg")
        require_range("club speed of a shorter finish", self.shorter, 0.3, 1.0, "")
        require_range("path across the face", np.degrees(self.across_rad), 0.0, 15.0, "deg")


@dataclass(frozen=True, slots=True)
class Curve:
    """How a shot curves.

    Parameters
    ----------
    axis_rad : float
        Tilt of the spin axis, right positive: the ball curves right. [rad]
    axis_se_rad : float
        How unsure that is. [rad]
    balls : int
        Logged balls it rests on; 0 means a usual delivery.
    """

    axis_rad: float = 0.0
    axis_se_rad: float = 0.0
    balls: int = 0


STRAIGHT = Curve()


@dataclass(frozen=True, slots=True)
class UsualShape:
    """Launch [rad], spin over speed [rad/m] and curve of a shape as it is usually delivered."""

    launch_rad: float
    spin_per_speed: float
    curve: Curve


def usual_shape(
    launch_rad: float,
    spin_per_speed: float,
    shape: Shape,
    *,
    left_handed: bool = False,
    sizes: Sizes | None = None,
) -> UsualShape:
    """Turn a straight shot over, or slide across it.

    Parameters
    ----------
    launch_rad, spin_per_speed : float
        Of the straight shot. [rad], [rad/m]
    shape : Shape
        Draw, straight or cut.
    left_handed : bool
        A left-hander's draw curves right.
    sizes : Sizes, optional
        How far the path points past the face, and the loft that goes with it.

    Returns
    -------
    usual : UsualShape
        A straight shot as it was. Where no strike gives the launch, launch and spin stay, and the
        tilt is that of the path over the loft of the face.

    Notes
    -----
    The straight delivery is changed as in :func:`carrybook.physics.delivery.deliver`, whose curve
    comes out 10 to 17 % small.
    """
    if shape is Shape.STRAIGHT:
        return UsualShape(launch_rad, spin_per_speed, STRAIGHT)
    sizes = sizes or Sizes()
    draw = shape is Shape.DRAW
    lofts = sizes.draw_loft_rad if draw else sizes.cut_loft_rad
    way = 1.0 if draw is not left_handed else -1.0
    try:
        struck = [
            _shaped(launch_rad, spin_per_speed, loft, way * across)
            for loft, across in zip(lofts, sizes.across_rad, strict=True)
        ]
    except OutOfRangeError:
        tilt = -way * sizes.across_rad[1]
        return UsualShape(launch_rad, spin_per_speed, Curve(tilt, _LEAST_TILT_SD))
    small, middle, large = struck
    spread = abs(large.axis_rad - small.axis_rad) / (2.0 * _TENTH)
    curve = Curve(middle.axis_rad, max(spread, _LEAST_TILT_SD))
    return UsualShape(middle.launch_rad, middle.spin_rad_s / middle.speed_mps, curve)


def usual_launch(shot: Shot) -> tuple[float, float]:
    """Launch angle [rad] and spin over speed [rad/m] that loft, flight and shape suggest."""
    usual = usual_shape(*launch_from_loft(shot.club.loft_rad, shot.flight.value), shot.shape)
    return usual.launch_rad, usual.spin_per_speed


def stock_curve(
    shot: Shot,
    balls: Sequence[Ball],
    launch_rad: float,
    spin_per_speed: float,
    *,
    aerodynamics: Aerodynamics = MID,
    left_handed: bool = False,
) -> Curve:
    """Say how a shot curves at its stock carry, from its log and from what is usual.

    Parameters
    ----------
    shot, balls : Shot, sequence of Ball
        The shot and its log.
    launch_rad, spin_per_speed : float
        With which it leaves the face. [rad], [rad/m]
    aerodynamics : Aerodynamics
        How the ball flies.
    left_handed : bool
        A left-hander's draw curves right.
    """
    if shot.shape is Shape.STRAIGHT:
        return STRAIGHT
    straight = launch_from_loft(shot.club.loft_rad, shot.flight.value)
    usual = usual_shape(*straight, shot.shape, left_handed=left_handed).curve
    launch, ratio = np.array([launch_rad]), np.array([spin_per_speed])
    stock = np.array([shot.stock_carry_m])
    (speed,) = carry_speeds(stock, launch, ratio, REFERENCE_DAY, aerodynamics=aerodynamics)
    if np.isnan(speed):  # no flight carries so far; whoever asks for a number is told
        return usual
    struck = Launch(float(speed), launch_rad, spin_per_speed * float(speed))
    return curve_of(shot, balls, usual, struck)


def _shaped(launch: float, ratio: float, loft: float, path_right: float) -> Launch:
    base, contact = delivery_for(_TYPICAL_SPEED, launch, ratio * _TYPICAL_SPEED)
    changed = Delivery(
        base.club_speed_mps, base.dynamic_loft_rad + loft, base.attack_rad, path_right
    )
    return deliver(changed, contact)


def curve_of(
    shot: Shot,
    balls: Sequence[Ball],
    usual: Curve,
    launch: Launch,
) -> Curve:
    """Say how a draw or cut curves, from its logged balls and from what is usual.

    Parameters
    ----------
    shot : Shot
        The shot; a straight one is not looked at.
    balls : sequence of Ball
        Its log. The spin axis counts where it was measured; else start line, carry and side.
    usual : Curve
        What to think before any ball, from :func:`usual_shape`.
    launch : Launch
        How the shot leaves the face at stock feel, its axis level.

    Returns
    -------
    curve : Curve
        Robust centre of the tilts, shrunk toward the usual one.

    Notes
    -----
    All tilts of one day may be off together: by 1 deg where measured; where they follow from
    the side, by what turns the landing 1.5 deg, as no wind is logged.
    """
    if shot.shape is Shape.STRAIGHT:
        return STRAIGHT
    per_tilt = _curve_per_tilt(launch)
    rows = [row for ball in balls if (row := _tilt_of(ball, per_tilt)) is not None]
    if not rows:
        return usual
    groups = sorted({group for _, group in rows})
    design = [[1.0, *(float(group == g) for g in groups)] for _, group in rows]
    off = {True: _DAY_SD, False: _DRIFT_SD / per_tilt}
    priors = [usual.axis_se_rad, *(off[seen] for seen, _ in groups)]
    fit = student_fit(
        np.array([tilt for tilt, _ in rows]) - usual.axis_rad,
        np.array(design),
        np.array(priors),
        prior_spread=_PRIOR_STRAY,
        prior_count=_PRIOR_BALLS,
        least_spread=_PRIOR_STRAY * sqrt(_PRIOR_BALLS / (_PRIOR_BALLS + len(rows))),
    )
    return Curve(usual.axis_rad + fit.centre, fit.standard_error, len(rows))


_Group = tuple[bool, str]


def _tilt_of(ball: Ball, per_tilt: float) -> tuple[float, _Group] | None:
    """Tilt of one ball; whether it was measured, and on which day."""
    day = str(ball.at and ball.at.date())
    if ball.lie is Lie.SAND:
        return None
    if ball.spin_axis_rad is not None:
        return ball.spin_axis_rad, (True, day)
    if ball.start_line_rad is None or ball.side_m is None or ball.carry_m is None:
        return None
    bent = float(np.arctan2(ball.side_m, ball.carry_m)) - ball.start_line_rad
    return bent / per_tilt, (False, day)


def _curve_per_tilt(launch: Launch) -> float:
    """Angle by which a shot lands off its start line, over the tilt of its axis. [1]"""
    tilted = Launch(launch.speed_mps, launch.launch_rad, launch.spin_rad_s, _PROBE)
    landed = fly(tilted)
    return float(np.arctan2(landed.side_m, landed.carry_m)) / _PROBE
