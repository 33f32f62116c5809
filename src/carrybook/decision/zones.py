"""Ninths of a green, and a place in each where the hole may be cut."""

import numpy as np
import shapely

from carrybook.base.constants import YARD
from carrybook.base.numerics import Floats
from carrybook.decision.prepared import Zone
from carrybook.world.ground import Surface
from carrybook.world.hole import Hole, HoleLocation

__all__ = ["zone_locations"]

_FROM_EDGE = 4.0 * YARD  # common practice, no source: holes are cut at least four paces in
_STEP = 0.5  # m between the places that are looked at, ours


def zone_locations(hole: Hole) -> dict[Zone, HoleLocation]:
    """Where the hole is taken to be cut in each ninth of a green.

    Parameters
    ----------
    hole : Hole
        The hole.

    Returns
    -------
    locations : dict of Zone to HoleLocation
        The place nearest to the middle of what a ninth offers; a ninth that lies nearer than four
        paces to the edge everywhere is not among them.

    Notes
    -----
    Thirds of the depth along the approach, and of the width of the green. Only the edge counts
    here, not the slope.
    """
    green = shapely.Polygon(hole.green)
    front, right, back, left = green.bounds
    x, y = _places(hole, green)
    deep = np.clip(3.0 * (x - front) / (back - front), 0.0, 2.0).astype(int)
    across = np.clip(3.0 * (left - y) / (left - right), 0.0, 2.0).astype(int)
    ninth, found = 3 * deep + across, {}
    for k, zone in enumerate(Zone):
        inside = ninth == k
        if inside.any():
            zx, zy = x[inside], y[inside]
            nearest = int(np.argmin(np.hypot(zx - zx.mean(), zy - zy.mean())))
            found[zone] = _location(green, float(zx[nearest]), float(zy[nearest]))
    return found


def _places(hole: Hole, green: shapely.Polygon) -> tuple[Floats, Floats]:
    """Every place on a net where the hole may be cut."""
    front, right, back, left = green.bounds
    x, y = (
        v.ravel()
        for v in np.meshgrid(
            np.arange(front, back, _STEP), np.arange(right, left, _STEP), indexing="ij"
        )
    )
    allowed = shapely.contains_xy(green.buffer(-_FROM_EDGE), x, y)
    x, y = x[allowed], y[allowed]
    on = np.array(
        [hole.ground.surface_at(*at) is Surface.GREEN for at in zip(x, y, strict=True)], dtype=bool
    )
    return x[on], y[on]


def _location(green: shapely.Polygon, x: float, y: float) -> HoleLocation:
    """Say a place as a pin sheet does."""
    front, right, back, left = green.bounds
    across = shapely.LineString([(x, right - 1.0), (x, left + 1.0)]).intersection(green).bounds
    behind = shapely.LineString([(x, y), (back + 1.0, y)]).intersection(green).bounds[2] - x
    return HoleLocation(x, y, x - front, across[3] - y, y - across[1], behind)
