"""How well somebody plays, and how far the balls of such a player scatter before any is logged."""

from dataclasses import dataclass
from enum import StrEnum
from math import atan

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.errors import require_range

__all__ = ["BOGEY_HANDICAP", "AccuracyTable", "Player", "Scatter", "scatter_prior"]


class AccuracyTable(StrEnum):
    """Which half of the accuracy table holds for a player."""

    MEN = "men"
    WOMEN = "women"


@dataclass(frozen=True, slots=True)
class Player:
    """What a player says of themselves.

    Parameters
    ----------
    handicap : float
        Strokes over scratch, -8 (written +8) to 54; scratch is 0. [strokes]
    table : AccuracyTable
        Which half of the accuracy table holds.
    left_handed : bool
        Whether they play left-handed.

    Raises
    ------
    OutOfRangeError
        A handicap that nobody has.
    """

    handicap: float
    table: AccuracyTable = AccuracyTable.MEN
    left_handed: bool = False

    def __post_init__(self) -> None:
        require_range("handicap", self.handicap, -8.0, 54.0, "strokes")


@dataclass(frozen=True, slots=True)
class Scatter:
    """How balls scatter that nobody has measured yet.

    Parameters
    ----------
    spread : float
        Half-width that holds 68 % of balls, relative to carry. [1]
    side_rad : float
        Half-width that holds 68 % of directions. [rad]
    """

    spread: float
    side_rad: float


# Width and depth in yards of the box that holds two thirds of the shots from a distance
# (course-rating-accuracy): scratch, then bogey.
_YARDS = (90.0, 110.0, 130.0, 150.0)
_BOXES = {
    AccuracyTable.MEN: (
        ((11.0, 14.0), (12.0, 15.0), (13.0, 15.0), (15.0, 16.0)),
        ((16.0, 19.0), (17.0, 21.0), (18.0, 23.0), (20.0, 25.0)),
    ),
    AccuracyTable.WOMEN: (
        ((12.0, 15.0), (14.0, 16.0), (17.0, 17.0), (20.0, 18.0)),
        ((17.0, 22.0), (19.0, 24.0), (21.0, 27.0), (24.0, 30.0)),
    ),
}
# Standard deviations in half a side of the box: an ellipse of 67 % has 1.489 of them, a box of two
# independent sides 1.336. Which is meant is not printed; ours: the middle.
_DEVIATIONS = (1.489 + 1.336) / 2.0
# Handicap of a bogey player (memory). Ours: straight between scratch and there, on to 36; the
# table knows nobody better than scratch.
BOGEY_HANDICAP = {AccuracyTable.MEN: 20.0, AccuracyTable.WOMEN: 24.0}
_LEAST, _MOST = 0.0, 36.0


def scatter_prior(player: Player, carry_m: float) -> Scatter:
    """Scatter to believe of a player's balls before any is logged.

    Parameters
    ----------
    player : Player
        How well they play.
    carry_m : float
        Carry, above 0. [m]

    Returns
    -------
    scatter : Scatter
        Of the core of the pattern; mishits come on top.

    Raises
    ------
    OutOfRangeError
        A carry that no ball has.

    Notes
    -----
    Straight between the distances of the table; below 90 yd and beyond 150 yd relative depth and
    angle stay as they are there. The table shows relative depth growing as distance falls, so that
    partials from less than 90 yd may scatter more than this.

    References
    ----------
    course-rating-accuracy.
    """
    require_range("carry", carry_m / YARD, 0.5, 380.0, "yd")
    yards = float(np.clip(carry_m / YARD, _YARDS[0], _YARDS[-1]))
    share = float(np.clip(player.handicap, _LEAST, _MOST)) / BOGEY_HANDICAP[player.table]
    scratch, bogey = (np.array(boxes) for boxes in _BOXES[player.table])
    width, depth = (
        np.interp(yards, _YARDS, side) for side in (scratch + share * (bogey - scratch)).T
    )
    return Scatter(
        spread=float(depth / 2.0 / _DEVIATIONS / yards),
        side_rad=atan(float(width / 2.0 / _DEVIATIONS / yards)),
    )
