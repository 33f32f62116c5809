"""Height, slope and curvature of the ground at many points at once, and how well they are known.

The surface is that of :mod:`carrybook.world.ground`: a uniform quadratic B-spline through the net.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Floats
from carrybook.world.ground import Ground

__all__ = ["HeightDoubt", "Shape", "doubt_at", "shape_at"]


@dataclass(frozen=True, slots=True)
class HeightDoubt:
    """How well the heights of a net are known.

    Parameters
    ----------
    height_se : ndarray, shape (nx, ny)
        Standard error of each height against that of the front edge. [m]
    slope_se : ndarray, shape (nx, ny)
        Standard error of the slope in any one direction. [1]

    Raises
    ------
    BadInputError
        Arrays of unlike shape, or errors that are negative or no numbers.
    """

    height_se: Floats
    slope_se: Floats

    def __post_init__(self) -> None:
        if self.height_se.shape != self.slope_se.shape:
            raise BadInputError("the errors of height and slope must have one shape")
        if not (np.all(self.height_se >= 0.0) and np.all(self.slope_se >= 0.0)):
            raise BadInputError("standard errors of heights must be numbers of zero or more")


@dataclass(frozen=True, slots=True)
class Shape:
    """The ground at some points; all arrays have the shape of the points.

    Parameters
    ----------
    height : ndarray
        Above the front edge. [m]
    slope_x, slope_y : ndarray
        Rise over run along x and y. [1]
    curvature_xx, curvature_xy, curvature_yy : ndarray
        Second derivatives of the height: positive where the ground is hollow. [1/m]
    """

    height: Floats
    slope_x: Floats
    slope_y: Floats
    curvature_xx: Floats
    curvature_xy: Floats
    curvature_yy: Floats

    @property
    def slope(self) -> Floats:
        """Steepness along the fall line. [1]"""
        return np.hypot(self.slope_x, self.slope_y)


def shape_at(ground: Ground, x: ArrayLike, y: ArrayLike) -> Shape:
    """Height, slope and curvature at points.

    Parameters
    ----------
    ground : Ground
        The net.
    x, y : array_like, shape (...)
        The points. [m]

    Returns
    -------
    shape : Shape
        Beyond the net the height of its edge goes on, and slope and curvature there are those of
        the edge.

    Notes
    -----
    Curvature is constant within a square of the net and jumps from one to the next.
    """
    z, h = ground.heights, ground.step
    i, s = _cell((np.asarray(x, dtype=float) - ground.x0) / h, z.shape[0])
    j, t = _cell((np.asarray(y, dtype=float) - ground.y0) / h, z.shape[1])
    near = np.stack([[z[i + a, j + b] for b in (-1, 0, 1)] for a in (-1, 0, 1)])

    def weighed(across: int, along: int) -> Floats:
        values = np.einsum("a...,b...,ab...->...", _weights(s)[across], _weights(t)[along], near)
        return np.asarray(values / h ** (across + along))

    return Shape(
        weighed(0, 0), weighed(1, 0), weighed(0, 1), weighed(2, 0), weighed(1, 1), weighed(0, 2)
    )


def doubt_at(ground: Ground, doubt: HeightDoubt, x: ArrayLike, y: ArrayLike) -> tuple[Floats, ...]:
    """Standard errors of height [m] and slope [1] at points; those of the nearest node."""
    places = zip((x, y), (ground.x0, ground.y0), doubt.height_se.shape, strict=True)
    i, j = (
        np.clip(np.rint((np.asarray(v, dtype=float) - start) / ground.step), 0, n - 1).astype(int)
        for v, start, n in places
    )
    return np.asarray(doubt.height_se[i, j]), np.asarray(doubt.slope_se[i, j])


def _cell(place: Floats, nodes: int) -> tuple[np.ndarray, Floats]:
    """Middle node of the three that count, and the place from it, -0.5 to 0.5."""
    place = np.clip(place, 0.5, nodes - 1.5)
    middle = np.minimum((place + 0.5).astype(int), nodes - 2)
    return middle, place - middle


def _weights(s: Floats) -> tuple[Floats, Floats, Floats]:
    """Weights of the three nodes for the value, its first and its second derivative."""
    one = np.ones_like(s)
    return (
        np.stack([0.5 * (0.5 - s) ** 2, 0.75 - s * s, 0.5 * (0.5 + s) ** 2]),
        np.stack([s - 0.5, -2.0 * s, s + 0.5]),
        np.stack([one, -2.0 * one, one]),
    )
