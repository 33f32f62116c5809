"""How well somebody putts: errors of line, of pace, and of reading the slope."""

from dataclasses import dataclass

import numpy as np

from carrybook.base.errors import require_range
from carrybook.base.numerics import Floats

__all__ = ["MID", "PUTTERS", "SCRATCH", "TOUR_PUTTER", "Putter"]

_LEAST_REACH = 0.30  # m; ours: pace errors do not shrink below those of a putt about this long


@dataclass(frozen=True, slots=True)
class Putter:
    """The errors of one player on the green; each a standard deviation, independent, normal.

    Parameters
    ----------
    direction_rad : float
        Of the start line, 0.2 to 6 deg. [rad]
    pace : float
        Of the reach, relative to sqrt(reach^2 + 0.3^2), 0.01 to 0.5. [1]
    reading : float, default 0
        Of what the slope does: share of the break added to the error of the line, and share of what
        up or down adds to the reach, 0 to 1. [1]

    Raises
    ------
    OutOfRangeError
        A number outside its range.

    Notes
    -----
    The named players are fitted to putts on real greens as if these were level, so their errors of
    line and pace hold the reading of ordinary slopes, and `reading` is 0.
    """

    direction_rad: float
    pace: float
    reading: float = 0.0

    def __post_init__(self) -> None:
        require_range("putting direction", np.degrees(self.direction_rad), 0.2, 6.0, "deg")
        require_range("putting pace", self.pace, 0.01, 0.5, "")
        require_range("green-reading error", self.reading, 0.0, 1.0, "")

    def row(self) -> Floats:
        """Numbers for the kernels, columns :data:`carrybook.outcomes.putt_rolls.ERROR_ROW`."""
        return np.array([self.direction_rad, self.pace, self.reading, _LEAST_REACH])


# Ours: rolled over a level green of 11 ft and caught by speed and offset, this one pair meets the
# bins of broadie-2018-bins within 1.0 points (tests/outcomes/test_putting_map.py).
TOUR_PUTTER = Putter(direction_rad=float(np.radians(1.34)), pace=0.107)
# Ours (judgement): pace as far above the tour's as karlsen-nilsson-2008 found good amateurs; the
# mid-handicap's line so that half drop from 5 ft, as broadie-2014 has it for a player scoring 90.
SCRATCH = Putter(direction_rad=float(np.radians(1.55)), pace=0.125)
MID = Putter(direction_rad=float(np.radians(2.1)), pace=0.17)
PUTTERS = {"tour": TOUR_PUTTER, "scratch": SCRATCH, "mid": MID}
