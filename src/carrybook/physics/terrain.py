"""Height and slope of the ground at any point, at kernel speed.

The net holds control heights of a uniform quadratic B-spline: the surface and its slope are
continuous, planes are exact, and height and slope belong to the same surface, so that a ball
neither gains nor loses energy from the drawing of the ground.
"""

import numpy as np

from carrybook.base.numerics import Floats, Ints, kernel
from carrybook.world.ground import Ground

__all__ = ["height", "height_and_slope", "heights_at", "surface_code"]


def height(ground: Ground, x: float, y: float) -> float:
    """Height of the ground at a point; beyond the net the edge goes on level. [m]"""
    return height_and_slope(x, y, ground.heights, ground.x0, ground.y0, ground.step)[0]


def heights_at(ground: Ground, points: Floats) -> Floats:
    """Heights of the ground at many points, shape (n, 2); as :func:`height`. [m]"""
    out = np.empty(len(points))
    points_kernel(points, ground.heights, ground.x0, ground.y0, ground.step, out)
    return out


@kernel
def points_kernel(
    points: Floats, heights: Floats, x0: float, y0: float, step: float, out: Floats
) -> None:
    """Height of every point."""
    for k in range(len(points)):
        out[k] = height_and_slope(points[k, 0], points[k, 1], heights, x0, y0, step)[0]


@kernel
def height_and_slope(
    x: float, y: float, heights: Floats, x0: float, y0: float, step: float
) -> tuple[float, float, float]:
    """Height [m] and its rise along x and y [1]."""
    fx, fy = (x - x0) / step, (y - y0) / step
    last_x, last_y = heights.shape[0] - 1.5, heights.shape[1] - 1.5
    inside_x, inside_y = 0.5 <= fx <= last_x, 0.5 <= fy <= last_y
    fx, fy = min(max(fx, 0.5), last_x), min(max(fy, 0.5), last_y)
    i = min(int(fx + 0.5), heights.shape[0] - 2)
    j = min(int(fy + 0.5), heights.shape[1] - 2)
    s, t = fx - i, fy - j
    a0, a1, a2 = 0.5 * (0.5 - s) ** 2, 0.75 - s * s, 0.5 * (0.5 + s) ** 2
    b0, b1, b2 = 0.5 * (0.5 - t) ** 2, 0.75 - t * t, 0.5 * (0.5 + t) ** 2
    d0, d1, d2 = s - 0.5, -2.0 * s, s + 0.5
    e0, e1, e2 = t - 0.5, -2.0 * t, t + 0.5
    r0 = b0 * heights[i - 1, j - 1] + b1 * heights[i - 1, j] + b2 * heights[i - 1, j + 1]
    r1 = b0 * heights[i, j - 1] + b1 * heights[i, j] + b2 * heights[i, j + 1]
    r2 = b0 * heights[i + 1, j - 1] + b1 * heights[i + 1, j] + b2 * heights[i + 1, j + 1]
    q0 = e0 * heights[i - 1, j - 1] + e1 * heights[i - 1, j] + e2 * heights[i - 1, j + 1]
    q1 = e0 * heights[i, j - 1] + e1 * heights[i, j] + e2 * heights[i, j + 1]
    q2 = e0 * heights[i + 1, j - 1] + e1 * heights[i + 1, j] + e2 * heights[i + 1, j + 1]
    z = a0 * r0 + a1 * r1 + a2 * r2
    slope_x = (d0 * r0 + d1 * r1 + d2 * r2) / step if inside_x else 0.0
    slope_y = (a0 * q0 + a1 * q1 + a2 * q2) / step if inside_y else 0.0
    return z, slope_x, slope_y


@kernel
def surface_code(x: float, y: float, surfaces: Ints, x0: float, y0: float, step: float) -> int:
    """Number of the surface of the square that holds the point; beyond the net, the nearest."""
    i = min(max(int(np.floor((x - x0) / step + 0.5)), 0), surfaces.shape[0] - 1)
    j = min(max(int(np.floor((y - y0) / step + 0.5)), 0), surfaces.shape[1] - 1)
    code: int = surfaces[i, j]
    return code
