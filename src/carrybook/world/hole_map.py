"""Builds a hole in its own axes from a map of the course and, where there is one, a height survey.

Axes of a hole: x along the last straight piece of the hole line, y to the left of it; the origin
lies on that line, level with the front-most point of the green, so that x counts from the front
edge. Heights count from the ground at the origin.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import atan2, cos, sin
from pathlib import Path

import numpy as np
import shapely
from pyproj import Proj
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Floats, Ints
from carrybook.world.geojson import CourseMap, Feature, read_map
from carrybook.world.ground import Ground, Surface
from carrybook.world.heights import read_spots, smooth_surface
from carrybook.world.hole import Hole

__all__ = ["list_holes", "read_hole"]

# All lengths in metres, all ours.
_LONGEST_HOLE = 1000.0  # a line longer than this is a mistake in the map
_SHORTEST_HOLE = 20.0
_LARGEST_GREEN = 200.0  # in depth and in width; double greens reach half of it
_SMALLEST_GREEN = 3.0
_LAST_PIECE = 30.0  # the line of approach is the direction of at least this much of the hole line
_GREEN_NEAR_END = 40.0  # hole lines end in the middle of the green, or a little short of it
_KEPT_AROUND = 250.0  # of the green
_SPOTS_WITHIN = 300.0
_SPOTS_NEEDED = 20  # on the green and this far round it:
_SPOTS_ROUND = 5.0
_FRINGE = 1.0
_HALF_PATH = 1.25
_STEP = 0.5
_SHORT_OF_GREEN = 185.0  # a ball 200 yd from any hole on the green still lies on the net
_BEYOND_GREEN = 60.0

# What each kind of area is made of, from the bottom to the top; what no area covers is rough.
_LAYERS = {
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


@dataclass(frozen=True, slots=True)
class _Axes:
    """The axes of a hole on the metric plane (east, north) around the end of its line."""

    east: float
    north: float
    heading: float  # of x, counter-clockwise from east [rad]

    def of(self, plane: Floats) -> Floats:
        """Turn (east, north) into (x, y)."""
        c, s = cos(self.heading), sin(self.heading)
        return np.asarray((plane - (self.east, self.north)) @ np.array([[c, -s], [s, c]]))

    def level_with(self, front: float) -> "_Axes":
        """Move the origin forward along x."""
        c, s = cos(self.heading), sin(self.heading)
        return _Axes(self.east + front * c, self.north + front * s, self.heading)


def list_holes(map_path: Path) -> tuple[str, ...]:
    """Numbers of the holes on a map, in the order of the file.

    Parameters
    ----------
    map_path : Path
        GeoJSON with OpenStreetMap golf tags.

    Returns
    -------
    refs : tuple of str
        Values of `ref`; holes without one are left out.

    Raises
    ------
    BadInputError
        The file cannot be read as a map.
    """
    return _refs(read_map(map_path))


def read_hole(map_path: Path, ref: str, heights_path: Path | None = None) -> Hole:
    """Read one hole of a map.

    Parameters
    ----------
    map_path : Path
        GeoJSON with OpenStreetMap golf tags.
    ref : str
        Number of the hole as on its sign.
    heights_path : Path, optional
        CSV of spot heights; without it the ground is level and `heights_known` is false.

    Returns
    -------
    hole : Hole
        With a net every 0.5 m from 185 m short of the green to 60 m beyond and beside it, and
        every area within 250 m of the green, the lowest first. Interior rings shape the surface
        but are not in the outlines. A fringe of 1 m lies round the green where the map draws
        none. Pins on a map are nominal and move daily, so they are not read.

    Raises
    ------
    BadInputError
        A file that cannot be read, a hole that is not on the map or has no believable line and
        green, or heights that do not cover its green.
    """
    course = read_map(map_path)
    ref = " ".join(ref.split())
    name = f"hole {ref}"
    drawn = _hole_line(course, ref)
    lon, lat = drawn.geometry.coords[-1]
    plane = Proj(proj="aeqd", lon_0=lon, lat_0=lat, ellps="WGS84")
    line = _on_plane(drawn.geometry, plane)
    _require_length(line, f"{name} in {course.name}")
    shapes = [(f.kind, _on_plane(f.geometry, plane)) for f in course.features]
    green = _green_at_end(line, shapes, f"{name} has no green in {course.name}")
    axes = _axes(line, green)
    green = shapely.transform(green, axes.of)
    _require_size(green, f"the green of {name} in {course.name}")
    areas = _areas_near(green, [(kind, shapely.transform(s, axes.of)) for kind, s in shapes])
    spots = None
    if heights_path is not None:
        spots = read_spots(heights_path)
        spots[:, :2] = axes.of(np.column_stack(plane(spots[:, 0], spots[:, 1])))
        spots = _spots_near(green, spots, heights_path.name, name)
    return Hole(
        venue=course.venue,
        ref=ref,
        par=_par(drawn),
        ground=_ground(green, areas, spots),
        green=_outline(green),
        areas=tuple((kind, _outline(area)) for kind, area in areas if kind != "green"),
        bearing_rad=float((np.pi / 2.0 - axes.heading) % (2.0 * np.pi)),
        attribution=course.attribution,
        heights_known=spots is not None,
    )


def _refs(course: CourseMap) -> tuple[str, ...]:
    return tuple(f.tags["ref"] for f in course.features if f.kind == "hole" and "ref" in f.tags)


def _hole_line(course: CourseMap, ref: str) -> Feature:
    holes = [f for f in course.features if f.kind == "hole" and f.tags.get("ref") == ref]
    if not holes:
        known = ", ".join(_refs(course)) or "none"
        raise BadInputError(f"hole {ref!r} is not in {course.name}; holes there: {known}")
    if len(holes) > 1:
        raise BadInputError(
            f"{course.name} has {len(holes)} holes with ref {ref}; keep one course in a file"
        )
    if holes[0].geometry.geom_type != "LineString":
        raise BadInputError(f"hole {ref} in {course.name} is not a line from tee to green")
    return holes[0]


def _on_plane(geometry: BaseGeometry, plane: Proj) -> BaseGeometry:
    return shapely.transform(geometry, lambda lonlat: np.column_stack(plane(*lonlat.T)))


def _require_length(line: BaseGeometry, what: str) -> None:
    if not _SHORTEST_HOLE <= line.length <= _LONGEST_HOLE:
        raise BadInputError(
            f"{what} is {line.length:.0f} m long; expected {_SHORTEST_HOLE:.0f} to"
            f" {_LONGEST_HOLE:.0f} m (GeoJSON puts longitude first)"
        )


def _green_at_end(
    line: BaseGeometry, shapes: Iterable[tuple[str, BaseGeometry]], complaint: str
) -> shapely.Polygon:
    end = shapely.Point(line.coords[-1])
    greens = [part for kind, shape in shapes if kind == "green" for part in _polygons(shape)]
    nearest = min(greens, key=end.distance, default=None)
    if nearest is None or end.distance(nearest) > _GREEN_NEAR_END:
        raise BadInputError(
            f"{complaint} within {_GREEN_NEAR_END:.0f} m of the end of its line"
            " (lines run from tee to green)"
        )
    return nearest


def _polygons(shape: BaseGeometry) -> list[shapely.Polygon]:
    return [part for part in shapely.get_parts(shape) if isinstance(part, shapely.Polygon)]


def _axes(line: BaseGeometry, green: shapely.Polygon) -> _Axes:
    before = line.interpolate(max(0.0, line.length - _LAST_PIECE))
    end = line.interpolate(line.length)
    axes = _Axes(end.x, end.y, atan2(end.y - before.y, end.x - before.x))
    return axes.level_with(shapely.transform(green, axes.of).bounds[0])


def _require_size(green: shapely.Polygon, what: str) -> None:
    front, right, back, left = green.bounds
    deep, wide = back - front, left - right
    if not _SMALLEST_GREEN <= min(deep, wide) <= max(deep, wide) <= _LARGEST_GREEN:
        raise BadInputError(
            f"{what} is {deep:.0f} m deep and {wide:.0f} m wide; expected"
            f" {_SMALLEST_GREEN:.0f} to {_LARGEST_GREEN:.0f} m"
        )


def _areas_near(
    green: shapely.Polygon, shapes: Iterable[tuple[str, BaseGeometry]]
) -> list[tuple[str, shapely.Polygon]]:
    """Areas of the map around the green, the lowest layer first; paths drawn as lines get width."""
    found = [
        (kind, part)
        for kind, shape in shapes
        if kind in _LAYERS
        for part in _polygons(
            shape.buffer(_HALF_PATH) if shape.geom_type == "LineString" else shape
        )
        if part.distance(green) <= _KEPT_AROUND
    ]
    if not any(kind == "fringe" and part.distance(green) <= _FRINGE for kind, part in found):
        found.append(("fringe", green.buffer(_FRINGE)))
    order = list(_LAYERS)
    return sorted(found, key=lambda area: order.index(area[0]))


def _spots_near(green: shapely.Polygon, spots: Floats, file: str, hole: str) -> Floats:
    """Spots on and round the net, once they are seen to belong to this green."""
    distance = shapely.distance(green, shapely.points(spots[:, :2]))
    closest = float(distance.min(initial=np.inf))
    if closest > _SPOTS_WITHIN:
        raise BadInputError(
            f"{file}: no spot within {_SPOTS_WITHIN:.0f} m of the green of {hole}; the nearest is"
            f" {closest / 1000.0:.1f} km away (the columns are lon, lat in degrees)"
        )
    count = int((distance <= _SPOTS_ROUND).sum())
    if count < _SPOTS_NEEDED:
        raise BadInputError(
            f"{file}: {count} spots on and within {_SPOTS_ROUND:.0f} m of the green of {hole};"
            f" at least {_SPOTS_NEEDED} are needed"
        )
    return np.asarray(spots[distance <= _SHORT_OF_GREEN + _BEYOND_GREEN])


def _ground(
    green: shapely.Polygon, areas: Iterable[tuple[str, shapely.Polygon]], spots: Floats | None
) -> Ground:
    _, right, back, left = green.bounds
    x = _axis(-_SHORT_OF_GREEN, back + _BEYOND_GREEN)
    y = _axis(right - _BEYOND_GREEN, left + _BEYOND_GREEN)
    surfaces = np.full((x.size, y.size), int(Surface.ROUGH), dtype=np.int64)
    for kind, area in areas:
        _paint(surfaces, x, y, area, _LAYERS[kind])
    heights = np.zeros(surfaces.shape)
    if spots is not None:
        heights = smooth_surface(spots, x, y)
        heights -= heights[np.argmin(np.abs(x)), np.argmin(np.abs(y))]
    return Ground(float(x[0]), float(y[0]), _STEP, heights, surfaces)


def _axis(low: float, high: float) -> Floats:
    """Whole steps from at most `low` to at least `high`, so that zero is a node."""
    return np.arange(np.floor(low / _STEP), np.ceil(high / _STEP) + 1.0) * _STEP


def _paint(surfaces: Ints, x: Floats, y: Floats, area: shapely.Polygon, surface: Surface) -> None:
    """Set the nodes inside the area, looking only at those within its bounds."""
    low_x, low_y, high_x, high_y = area.bounds
    across = slice(*np.searchsorted(x, (low_x, high_x)))
    along = slice(*np.searchsorted(y, (low_y, high_y)))
    inside = shapely.contains_xy(area, *np.meshgrid(x[across], y[along], indexing="ij"))
    surfaces[across, along][inside] = int(surface)


def _outline(area: shapely.Polygon) -> Floats:
    """Exterior ring, counter-clockwise, without the closing point."""
    return np.array(orient(area).exterior.coords)[:-1]


def _par(hole: Feature) -> int:
    par = hole.tags.get("par", "")
    return int(par) if par in ("3", "4", "5", "6") else 0
