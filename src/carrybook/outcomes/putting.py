"""Chance of holing and expected putts by distance: an error of angle and an error of pace."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from carrybook.base.constants import BALL_RADIUS, FOOT, HOLE_RADIUS
from carrybook.base.errors import require_range
from carrybook.base.numerics import Floats

__all__ = ["TOUR", "PuttingSkill", "expected_putts", "make_probability"]

_PAST = 1.0 * FOOT  # gelman-2019: a putt is meant to finish one foot past
_WINDOW = 3.0 * FOOT  # gelman-2019: it drops if it would finish within three feet past
_LONGEST = 60.0  # m
_STEP = 0.05  # m


@dataclass(frozen=True, slots=True)
class PuttingSkill:
    """How well somebody putts.

    Parameters
    ----------
    angle_rad : float
        Standard deviation of direction, reading and green included, 0.2 to 6 deg. [rad]
    pace : float
        Standard deviation of distance relative to (distance + 1 ft), 0.01 to 0.5. [1]

    Raises
    ------
    OutOfRangeError
        A number outside its range.
    """

    angle_rad: float
    pace: float

    def __post_init__(self) -> None:
        require_range("putting direction", np.degrees(self.angle_rad), 0.2, 6.0, "deg")
        require_range("putting pace", self.pace, 0.01, 0.5, "")


# Ours: fitted to the 31 bins of broadie-2018-bins, 1.25 million tour putts; misses them by less
# than 0.8 points everywhere (tests/outcomes/test_putting.py).
TOUR = PuttingSkill(angle_rad=float(np.radians(1.020)), pace=0.0801)


def make_probability(distance_m: Floats, skill: PuttingSkill = TOUR) -> Floats:
    """Chance of holing a level putt.

    Parameters
    ----------
    distance_m : ndarray, shape (...)
        To the centre of the hole. [m]
    skill : PuttingSkill
        Who putts.

    Returns
    -------
    probability : ndarray, shape (...)
        [1]

    Notes
    -----
    Product of hitting the hole and of reaching it without running more than three feet past.

    References
    ----------
    gelman-2019, the model with angle and distance.
    """
    x = np.maximum(np.asarray(distance_m, dtype=float), 1e-6)
    wide = (HOLE_RADIUS - BALL_RADIUS) / x
    angle = np.where(wide >= 1.0, np.pi / 2.0, np.arcsin(np.minimum(wide, 1.0)))
    hit = 2.0 * _normal_cdf(angle / skill.angle_rad) - 1.0
    scale = (x + _PAST) * skill.pace
    reach = _normal_cdf((_WINDOW - _PAST) / scale) - _normal_cdf(-_PAST / scale)
    return np.where(wide >= 1.0, 1.0, hit * reach)


def expected_putts(distance_m: Floats, skill: PuttingSkill = TOUR) -> Floats:
    """Expected putts to hole out on a level green.

    Parameters
    ----------
    distance_m : ndarray, shape (...)
        To the hole; beyond 60 m the value at 60 m. [m]
    skill : PuttingSkill
        Who putts.

    Returns
    -------
    putts : ndarray, shape (...)
        [1]

    Notes
    -----
    One putt, plus the expected putts from where a miss finishes: errors of angle and pace on a
    net of normal quantiles, worked out from short putts to long until nothing changes.
    """
    table = _putts_table(skill)
    return np.interp(distance_m, _STEP * np.arange(len(table)), table)


@cache
def _putts_table(skill: PuttingSkill) -> Floats:
    x = np.linspace(0.0, _LONGEST, round(_LONGEST / _STEP) + 1)
    made = make_probability(x, skill)
    along, across = np.meshgrid(_quantiles(31), _quantiles(15))
    travelled = (x[:, None] + _PAST) * (1.0 + skill.pace * along.ravel())
    angle = skill.angle_rad * across.ravel()
    past = travelled * np.cos(angle) - x[:, None]
    aside = travelled * np.sin(angle)
    on_line = np.abs(x[:, None] * np.sin(angle)) < HOLE_RADIUS - BALL_RADIUS
    missed = ~(on_line & (past > 0.0) & (past < _WINDOW))
    widest = np.abs(angle) == np.abs(angle).max()  # a tap-in that misses was pushed or pulled
    missed = np.where(missed.any(axis=1, keepdims=True), missed, widest)
    share = missed / missed.sum(axis=1, keepdims=True)
    left = np.hypot(past, aside)
    putts = np.ones(len(x))
    for _ in range(40):
        again = 1.0 + (1.0 - made) * (share * np.interp(left, x, putts)).sum(axis=1)
        moved = np.abs(again - putts).max()
        putts = again
        if moved < 1e-9:
            break
    return putts


@cache
def _quantiles(count: int) -> Floats:
    """Middle quantiles of a standard normal, equally likely."""
    from scipy.special import ndtri

    return np.asarray(ndtri((np.arange(count) + 0.5) / count))


def _normal_cdf(x: Floats) -> Floats:
    from scipy.special import ndtr

    return np.asarray(ndtr(x))
