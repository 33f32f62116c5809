"""Builds a hole in its own axes from a map of the course.

Axes of a hole: x along the last straight piece of the hole line, y to the left of it; the origin
lies on that line, level with the front-most point of the green, so that x counts from the front
edge. Heights count from the ground at the origin.
"""

from collections.abc import Iterable, Iterator
from pathlib import Path

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from carrybook.base.errors import BadInputError
from carrybook.world.course import CourseMap, Feature, map_notes
from carrybook.world.geojson import read_map
from carrybook.world.hole import Hole
from carrybook.world.layout import (
    LAYERS,
    Area,
    ground_of,
    layered,
    nodes_along,
    outline_of,
    require_size,
    surfaces_of,
)
from carrybook.world.osm import read_osm
from carrybook.world.place import Place
from carrybook.world.relief import with_heights

__all__ = ["list_holes", "read_hole"]

# All lengths in metres, all ours.
_LONGEST_HOLE = 1000.0  # a line longer than this is a mistake in the map
_SHORTEST_HOLE = 20.0
_GREEN_NEAR_END = 40.0  # hole lines end in the middle of the green, or a little short of it
_KEPT_AROUND = 250.0  # of the green
_HALF_PATH = 1.25
_OSM_ENDINGS = (".osm", ".xml", ".pbf")


def list_holes(map_path: Path) -> tuple[str, ...]:
    """Numbers of the holes on a map, in the order of the file.

    Parameters
    ----------
    map_path : Path
        GeoJSON or OpenStreetMap data, with golf tags.

    Returns
    -------
    refs : tuple of str
        Values of `ref`, with the name of the course where two courses have that number; holes
        without one are left out.

    Raises
    ------
    BadInputError
        The file cannot be read as a map.
    """
    return tuple(_named_holes(_read_course(map_path)))


def read_hole(
    map_path: Path, ref: str, heights_path: Path | None = None, *, heights_unit: str = ""
) -> Hole:
    """Read one hole of a map.

    Parameters
    ----------
    map_path : Path
        GeoJSON, or OpenStreetMap data (`.osm`, `.xml`, `.pbf`), with golf tags.
    ref : str
        Number of the hole as on its sign; "4, East" where several courses have a hole 4.
    heights_path : Path, optional
        CSV of readings, or GeoTIFF; without it the ground is level and `heights_known` is false.
    heights_unit : str
        Unit of the heights of a GeoTIFF that does not say: "m", "ft" or "us ft".

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
    course = _read_course(map_path)
    ref = " ".join(ref.split())
    name = f"hole {ref}"
    drawn = _hole_line(course, ref)
    place = Place(*drawn.geometry.coords[-1][:2])
    line = _on_plane(drawn.geometry, place)
    _require_length(line, f"{name} in {course.name}")
    shapes = [(f.kind, _on_plane(f.geometry, place)) for f in course.features]
    green = _green_at_end(line, shapes, f"{name} has no green in {course.name}")
    place, green, areas = _in_axes(place.along(line), green, shapes)
    require_size(green, f"the green of {name} in {course.name}")
    x, y = nodes_along(green)
    surfaces = surfaces_of(areas, x, y)
    hole = Hole(
        venue=course.venue,
        ref=ref,
        par=_par(drawn),
        ground=ground_of(x, y, surfaces, np.zeros(surfaces.shape)),
        green=outline_of(green),
        areas=tuple((kind, outline_of(area)) for kind, area in areas if kind != "green"),
        bearing_rad=place.bearing_rad,
        attribution=course.attribution,
        heights_known=False,
        notes=map_notes(course.attribution),
    )
    if heights_path is None:
        return hole
    return with_heights(hole, heights_path, place, unit=heights_unit)


def _read_course(path: Path) -> CourseMap:
    return read_osm(path) if path.suffix.lower() in _OSM_ENDINGS else read_map(path)


def _named_holes(course: CourseMap) -> dict[str, list[Feature]]:
    """Holes by number; by number and course where courses share a number."""
    holes = [f for f in course.features if f.kind == "hole" and "ref" in f.tags]
    refs = [f.tags["ref"] for f in holes]
    named: dict[str, list[Feature]] = {}
    for hole, ref in zip(holes, refs, strict=True):
        own = _course_of(hole, course) if refs.count(ref) > 1 else ""
        named.setdefault(f"{ref}, {own}" if own else ref, []).append(hole)
    return named


def _course_of(hole: Feature, course: CourseMap) -> str:
    """Name of the course that a hole says it is of, or else of the area that holds its end."""
    said = hole.tags.get("golf:course:name") or hole.tags.get("golf:course", "")
    end = shapely.Point(shapely.get_coordinates(hole.geometry)[-1])
    around = (
        f.tags.get("name", "")
        for f in course.features
        if f.kind == "course" and f.geometry.contains(end)
    )
    return said or next((name for name in around if name), "")


def _hole_line(course: CourseMap, ref: str) -> Feature:
    named = _named_holes(course)
    same = {name.casefold(): holes for name, holes in named.items()}
    holes = same.get(ref.casefold(), [])
    known = ", ".join(repr(name) if "," in name else name for name in named) or "none"
    if not holes:
        raise BadInputError(f"hole {ref!r} is not in {course.name}; holes there: {known}")
    if len(holes) > 1:
        raise BadInputError(
            f"{course.name} has {len(holes)} holes with ref {ref}; keep one course in a file, or"
            " name its course on each (golf:course:name)"
        )
    if holes[0].geometry.geom_type != "LineString":
        raise BadInputError(f"hole {ref} in {course.name} is not a line from tee to green")
    return holes[0]


def _on_plane(geometry: BaseGeometry, place: Place) -> BaseGeometry:
    return shapely.transform(geometry, place.on_plane)


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
    greens = [shape for kind, shape in shapes if kind == "green"]
    drawn = [part for shape in greens for part in _polygons(shape)]
    nearest = min(drawn, key=end.distance, default=None)
    if nearest is not None and end.distance(nearest) <= _GREEN_NEAR_END:
        return nearest
    if any(end.distance(g) <= _GREEN_NEAR_END for g in greens if g.geom_type == "Point"):
        raise BadInputError(f"{complaint}, only a point; draw its outline, or describe the green")
    raise BadInputError(
        f"{complaint} within {_GREEN_NEAR_END:.0f} m of the end of its line"
        " (lines run from tee to green)"
    )


def _polygons(shape: BaseGeometry) -> list[shapely.Polygon]:
    return [part for part in shapely.get_parts(shape) if isinstance(part, shapely.Polygon)]


def _in_axes(
    place: Place, green: shapely.Polygon, shapes: Iterable[tuple[str, BaseGeometry]]
) -> tuple[Place, shapely.Polygon, list[Area]]:
    """Move everything from the plane into axes whose origin is level with the front edge."""
    front = shapely.transform(green, place.turned).bounds[0]
    place = place.forward(front)
    green = shapely.transform(green, place.turned)
    turned = ((kind, shapely.transform(shape, place.turned)) for kind, shape in shapes)
    return place, green, layered(green, _areas_near(green, turned))


def _areas_near(
    green: shapely.Polygon, shapes: Iterable[tuple[str, BaseGeometry]]
) -> Iterator[Area]:
    """Areas of the map around the green; paths drawn as lines get width."""
    for kind, shape in shapes:
        if kind in LAYERS:
            wide = shape.buffer(_HALF_PATH) if shape.geom_type == "LineString" else shape
            near = (part for part in _polygons(wide) if part.distance(green) <= _KEPT_AROUND)
            yield from ((kind, part) for part in near)


def _par(hole: Feature) -> int:
    par = hole.tags.get("par", "")
    return int(par) if par in ("3", "4", "5", "6") else 0
