"""Puts a hole together: outlines and heights go in, one immutable surface comes out.

Every way in (a description, a sketch, a survey) ends here, so that whatever reads a hole need not
know where it came from. Axes as in :mod:`carrybook.world.ground`.
"""

from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from shapely.geometry.polygon import orient

from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Floats, Ints
from carrybook.world.ground import Ground, Surface

__all__ = [
    "BEYOND_GREEN",
    "FRINGE",
    "LAYERS",
    "SHORT_OF_GREEN",
    "Area",
    "ground_of",
    "layered",
    "nodes_along",
    "outline_of",
    "require_size",
    "surfaces_of",
]

Area = tuple[str, shapely.Polygon]

# All lengths in metres, all ours.
SHORT_OF_GREEN = 185.0  # a ball 200 yd from any hole on the green still lies on the net
BEYOND_GREEN = 60.0
FRINGE = 1.0
_LARGEST_GREEN = 200.0  # in depth and in width; double greens reach half of it
_SMALLEST_GREEN = 3.0
_STEP = 0.5

# What each kind of area is made of, from the bottom to the top; what no area covers is rough.
LAYERS = {
    "rough": Surface.ROUGH,
    "fairway": Surface.FAIRWAY,
    "tee": Surface.FAIRWAY,
    "fringe": Surface.FRINGE,
    "path": Surface.PATH,
    "out of bounds": Surface.OUT_OF_BOUNDS,
    "water": Surface.WATER,
    "bunker": Surface.BUNKER,
    "green": Surface.GREEN,
}


def require_size(green: shapely.Polygon, what: str) -> None:
    """Refuse a green that nobody could putt on.

    Raises
    ------
    BadInputError
        Less than 3 or more than 200 m deep or wide.
    """
    front, right, back, left = green.bounds
    deep, wide = back - front, left - right
    if not _SMALLEST_GREEN <= min(deep, wide) <= max(deep, wide) <= _LARGEST_GREEN:
        raise BadInputError(
            f"{what} is {deep:.0f} m deep and {wide:.0f} m wide; expected"
            f" {_SMALLEST_GREEN:.0f} to {_LARGEST_GREEN:.0f} m"
        )


def layered(green: shapely.Polygon, areas: Iterable[Area], fringe_m: float = FRINGE) -> list[Area]:
    """Sort areas, the lowest first; a green without a fringe within 1 m gets one of `fringe_m`."""
    found = list(areas)
    if not any(kind == "fringe" and part.distance(green) <= FRINGE for kind, part in found):
        found.append(("fringe", green.buffer(fringe_m)))
    order = list(LAYERS)
    return sorted(found, key=lambda area: order.index(area[0]))


def nodes_along(green: shapely.Polygon) -> tuple[Floats, Floats]:
    """Nodes of the net in x and in y: every 0.5 m, 185 m short of the green to 60 m around it."""
    _, right, back, left = green.bounds
    x = _axis(-SHORT_OF_GREEN, back + BEYOND_GREEN)
    return x, _axis(right - BEYOND_GREEN, left + BEYOND_GREEN)


def surfaces_of(areas: Sequence[Area], x: Floats, y: Floats) -> Ints:
    """Surface of each node; of areas that overlap the last counts."""
    surfaces = np.full((x.size, y.size), int(Surface.ROUGH), dtype=np.int64)
    for kind, area in areas:
        _paint(surfaces, x, y, area, LAYERS[kind])
    return surfaces


def ground_of(x: Floats, y: Floats, surfaces: Ints, heights: Floats) -> Ground:
    """Make the ground of heights at the nodes; they are made to count from the origin."""
    from_origin = heights - heights[np.argmin(np.abs(x)), np.argmin(np.abs(y))]
    return Ground(float(x[0]), float(y[0]), _STEP, from_origin, surfaces)


def outline_of(area: shapely.Polygon) -> Floats:
    """Exterior ring, counter-clockwise, without the closing point."""
    return np.array(orient(area).exterior.coords)[:-1]


def _axis(low: float, high: float) -> Floats:
    """Whole steps from at most `low` to at least `high`, so that zero is a node."""
    return np.arange(np.floor(low / _STEP), np.ceil(high / _STEP) + 1.0) * _STEP


def _paint(surfaces: Ints, x: Floats, y: Floats, area: shapely.Polygon, surface: Surface) -> None:
    """Set the nodes inside the area, looking only at those within its bounds."""
    if area.is_empty:
        return
    low_x, low_y, high_x, high_y = area.bounds
    across = slice(*np.searchsorted(x, (low_x, high_x)))
    along = slice(*np.searchsorted(y, (low_y, high_y)))
    inside = shapely.contains_xy(area, *np.meshgrid(x[across], y[along], indexing="ij"))
    surfaces[across, along][inside] = int(surface)
