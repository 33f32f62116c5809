"""Ninths of a green, and a place in each where the hole may be cut."""

import numpy as np
import shapely

from carrybook.base.numerics import Floats, Ints
from carrybook.decision.prepared import Zone
from carrybook.world.hole import Hole, HoleLocation
from carrybook.world.hole_locations import judge_locations

__all__ = ["zone_locations", "zone_of"]


def zone_locations(hole: Hole, stimp_m: float) -> dict[Zone, HoleLocation]:
    """Where the hole is taken to be cut in each ninth of a green.

    Parameters
    ----------
    hole : Hole
        The hole.
    stimp_m : float
        Green speed. [m]

    Returns
    -------
    locations : dict of Zone to HoleLocation
        The place nearest to the middle of what a ninth offers; a ninth where nothing is allowed, by
        its edge, its slope or trouble beside it, is not among them.

    Notes
    -----
    Thirds of the depth along the approach, and of the width of the green; places as
    :func:`carrybook.world.hole_locations.judge_locations` allows them.
    """
    green = shapely.Polygon(hole.green)
    places = judge_locations(hole, stimp_m)
    x, y = places.x[places.allowed], places.y[places.allowed]
    ninth, found = _ninths(green, x, y), {}
    for k, zone in enumerate(Zone):
        inside = ninth == k
        if inside.any():
            zx, zy = x[inside], y[inside]
            nearest = int(np.argmin(np.hypot(zx - zx.mean(), zy - zy.mean())))
            found[zone] = _location(green, float(zx[nearest]), float(zy[nearest]))
    return found


def zone_of(hole: Hole, at: HoleLocation) -> Zone:
    """In which ninth of the green the hole is cut."""
    ninth = _ninths(shapely.Polygon(hole.green), np.array([at.x]), np.array([at.y]))
    return tuple(Zone)[int(ninth[0])]


def _ninths(green: shapely.Polygon, x: Floats, y: Floats) -> Ints:
    """Number of the ninth of each place, in the order of the zones."""
    front, right, back, left = green.bounds
    deep = np.clip(3.0 * (x - front) / (back - front), 0.0, 2.0).astype(np.int64)
    across = np.clip(3.0 * (left - y) / (left - right), 0.0, 2.0).astype(np.int64)
    return np.asarray(3 * deep + across)


def _location(green: shapely.Polygon, x: float, y: float) -> HoleLocation:
    """Say a place as a pin sheet does."""
    front, right, back, left = green.bounds
    across = shapely.LineString([(x, right - 1.0), (x, left + 1.0)]).intersection(green).bounds
    behind = shapely.LineString([(x, y), (back + 1.0, y)]).intersection(green).bounds[2] - x
    return HoleLocation(x, y, x - front, across[3] - y, y - across[1], behind)
