"""Where balls finish most densely, and round heights for contours: what every plan shares."""

from collections.abc import Sequence

import numpy as np

from carrybook.base.constants import FOOT
from carrybook.base.numerics import Floats

__all__ = ["CONTOURS", "FEWEST_OUTLINED", "contour_levels", "densest"]

FEWEST_OUTLINED = 30  # balls; a region around fewer would be an invention
# Units of contours by unit of distance: name, metres in it, the intervals to choose from.
CONTOURS = {
    "yd": ("ft", FOOT, (0.25, 0.5, 1.0, 2.0, 5.0)),
    "m": ("cm", 0.01, (10.0, 20.0, 50.0, 100.0, 200.0)),
}
_MOST_CONTOURS = 8
_MOST_SMOOTHED = 1500  # balls behind a region; more do not change what the eye sees
_LEAST_BELL, _TIER = 0.3, 1.5  # bounds of smoothing, yards or metres alike


def contour_levels(rise: Floats, intervals: Sequence[float]) -> Floats:
    """Round levels below, through and above the heights of the green, few enough to read."""
    low, high = float(rise.min()), float(rise.max())
    fine = (step for step in intervals if (high - low) / step <= _MOST_CONTOURS)
    step = next(fine, (high - low) / _MOST_CONTOURS)
    return np.asarray(step * np.arange(np.floor(low / step), np.floor(high / step) + 2.0))


def densest(
    right: Floats, along: Floats, shares: Sequence[float], x: Floats, y: Floats
) -> tuple[Floats, list[float]]:
    """How densely balls finish on a net, and the levels that hold the given shares of them.

    Parameters
    ----------
    right, along : ndarray, shape (n,)
        Finishes, in yards or metres.
    shares : sequence of float
        Such as (0.9, 0.5). [1]
    x, y : ndarray
        Nodes of the net: right, and along.

    Returns
    -------
    density : ndarray, shape (len(y), len(x))
        In units of its own.
    levels : list of float
        One for each share.
    """
    right, along = right[:_MOST_SMOOTHED], along[:_MOST_SMOOTHED]
    density = _bells(y, along) @ _bells(x, right).T
    at_balls = (_bells(along, along) * _bells(right, right)).sum(axis=1)
    return density, [float(np.quantile(at_balls, 1.0 - share)) for share in shares]


def _bells(at: Floats, values: Floats) -> Floats:
    """Height at each place of a bell around each value.

    Its width is set by eye: smooth for one heap of balls, narrow enough to keep two heaps apart
    where a tier parts them.
    """
    low, high = np.quantile(values, (0.25, 0.75))
    deviation = (high - low) / 1.349  # of a normal distribution with these quartiles
    width = max(0.25 * deviation, min(0.5 * deviation, _TIER), _LEAST_BELL)
    return np.asarray(np.exp(-0.5 * ((at[:, None] - values) / width) ** 2))
