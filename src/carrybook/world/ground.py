"""The ground between the ball and beyond the green: height and surface everywhere, as plain arrays.

Axes of a hole: x along the line of approach, y to the left of it, z up; the origin is the front
edge of the green on that line. The heights are the control net of a uniform quadratic B-spline, so
the surface is smooth, its slope is continuous, and a plane stays exactly that plane.
"""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from carrybook.base.errors import BadInputError, require_range
from carrybook.base.numerics import Floats, Ints

__all__ = ["Ground", "Surface", "flat_ground"]


class Surface(IntEnum):
    """What the ground is at a point; the numbers are rows of the tables that kernels read."""

    GREEN = 0
    FRINGE = 1
    FAIRWAY = 2
    ROUGH = 3
    BUNKER = 4
    WATER = 5
    OUT_OF_BOUNDS = 6
    PATH = 7


@dataclass(frozen=True, slots=True)
class Ground:
    """Height and surface on a regular net.

    Parameters
    ----------
    x0, y0 : float
        Position of the first node. [m]
    step : float
        Distance between nodes in x and in y, 0.1 to 5. [m]
    heights : ndarray, shape (nx, ny)
        Control heights, x along the first axis. [m]
    surfaces : ndarray of int64, shape (nx, ny)
        :class:`Surface` of the square around each node.

    Raises
    ------
    BadInputError
        Arrays that do not match, are smaller than 4 by 4, or hold numbers that are not finite.
    OutOfRangeError
        A step outside its range.
    """

    x0: float
    y0: float
    step: float
    heights: Floats
    surfaces: Ints

    def __post_init__(self) -> None:
        require_range("step of the height net", self.step, 0.1, 5.0, "m")
        if self.heights.shape != self.surfaces.shape or min(self.heights.shape) < 4:
            raise BadInputError(
                f"heights {self.heights.shape} and surfaces {self.surfaces.shape} must be"
                " equal and at least 4 by 4"
            )
        if not np.isfinite(self.heights).all():
            raise BadInputError("the height net holds values that are not finite numbers")

    def surface_at(self, x: float, y: float) -> Surface:
        """Surface at a point; beyond the net, the nearest square counts."""
        i = min(max(round((x - self.x0) / self.step), 0), self.heights.shape[0] - 1)
        j = min(max(round((y - self.y0) / self.step), 0), self.heights.shape[1] - 1)
        return Surface(int(self.surfaces[i, j]))


def flat_ground(
    surface: Surface = Surface.GREEN,
    *,
    slope_x: float = 0.0,
    slope_y: float = 0.0,
    extent_m: float = 100.0,
    step: float = 1.0,
) -> Ground:
    """Build an even plane through the origin, all of one surface.

    Parameters
    ----------
    surface : Surface
        What it is made of.
    slope_x, slope_y : float
        Rise over run along x and y. [1]
    extent_m : float, default 100
        Half width of the square. [m]
    step : float, default 1
        Distance between nodes. [m]
    """
    axis = np.arange(-extent_m, extent_m + 0.5 * step, step)
    heights = slope_x * axis[:, None] + slope_y * axis[None, :]
    surfaces = np.full(heights.shape, int(surface), dtype=np.int64)
    return Ground(float(axis[0]), float(axis[0]), step, heights, surfaces)
