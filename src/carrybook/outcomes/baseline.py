"""Average strokes to hole out by lie and distance, for a tour player: off the green."""

from functools import cache

import numpy as np

from carrybook.base.constants import YARD
from carrybook.base.numerics import Floats
from carrybook.outcomes.putting import TOUR, expected_putts
from carrybook.world.lie import Lie

__all__ = ["TABLE", "strokes_from"]

# broadie-2014 (from memory; fairway and rough well remembered, sand and recovery less): average
# strokes of tour players 2003-2012 by yards to the hole: fairway, rough, sand, recovery.
TABLE: dict[int, tuple[float, float, float, float]] = {
    10: (2.18, 2.34, 2.43, 3.45),
    20: (2.40, 2.59, 2.53, 3.51),
    30: (2.52, 2.70, 2.66, 3.57),
    40: (2.60, 2.78, 2.82, 3.71),
    50: (2.66, 2.87, 2.92, 3.79),
    60: (2.70, 2.91, 3.15, 3.83),
    70: (2.72, 2.93, 3.21, 3.84),
    80: (2.75, 2.96, 3.24, 3.84),
    90: (2.77, 2.99, 3.24, 3.82),
    100: (2.80, 3.02, 3.23, 3.80),
    120: (2.85, 3.08, 3.21, 3.78),
    140: (2.91, 3.15, 3.22, 3.80),
    160: (2.98, 3.23, 3.28, 3.81),
    180: (3.08, 3.31, 3.40, 3.82),
    200: (3.19, 3.42, 3.55, 3.87),
}
_COLUMN = {
    Lie.TEE: 0,
    Lie.FAIRWAY: 0,
    Lie.LIGHT_ROUGH: 1,
    Lie.DEEP_ROUGH: 1,
    Lie.SAND: 2,
}
_STEP = 0.25 * YARD


def strokes_from(lie: Lie, distance_m: Floats) -> Floats:
    """Average strokes to hole out from off the green.

    Parameters
    ----------
    lie : Lie
        Where the ball lies. Deep rough counts as rough: the table knows no more.
    distance_m : ndarray, shape (...)
        To the hole; beyond 200 yd the value at 200 yd. [m]

    Returns
    -------
    strokes : ndarray, shape (...)
        [1]

    Notes
    -----
    Monotone cubic between the rows. Under 10 yd, where the table ends, putts of that length plus
    what the lie costs at 10 yd (ours). Tour players on tour greens: not shifted to the player.
    """
    table = _fine(_COLUMN[lie])
    return np.interp(distance_m, _STEP * np.arange(len(table)), table)


@cache
def _fine(column: int) -> Floats:
    from scipy.interpolate import PchipInterpolator

    yards = np.array(list(TABLE), dtype=float)
    values = np.array([row[column] for row in TABLE.values()])
    fine = np.arange(0.0, 200.0 + 1e-9, 0.25)
    strokes = np.asarray(PchipInterpolator(yards, values)(np.maximum(fine, 10.0)))
    putts = expected_putts(fine * YARD, TOUR)
    at_ten = float(expected_putts(np.array([10.0 * YARD]), TOUR)[0])
    return np.where(fine < 10.0, putts + strokes - at_ten, strokes)
