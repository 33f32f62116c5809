"""Reads a map of a course as OpenStreetMap XML (or PBF), through the osmium library.

Closed ways and multipolygon relations with a golf tag are areas, `golf=hole` and paths are lines,
pins are points. Positions stay longitude and latitude on WGS 84, in degrees.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import shapely
from shapely.geometry.base import BaseGeometry

from carrybook.base.errors import BadInputError
from carrybook.world.course import CourseMap, Feature, area_of, kind_of

__all__ = ["read_osm"]

_CREDIT = "© OpenStreetMap contributors, ODbL"  # as the licence asks (odbl)
_INSTALL = "reading {} needs osmium; install it with: pip install 'carrybook[survey]'"
_LINES = ("hole", "path")


def read_osm(path: Path) -> CourseMap:
    """Read every feature with a golf tag.

    Parameters
    ----------
    path : Path
        `.osm`, `.osm.xml` or `.osm.pbf`, as exported or as downloaded.

    Returns
    -------
    course : CourseMap
        Nodes that the file lacks are left out of their lines; areas left open, and what is marked
        as deleted, are left out altogether.

    Raises
    ------
    BadInputError
        osmium is not installed, or the file cannot be read as OpenStreetMap data.
    """
    try:
        import osmium
    except ImportError:
        raise BadInputError(_INSTALL.format(path.name)) from None
    if not path.is_file():
        raise BadInputError(f"cannot read {path}: there is no such file")
    kind = "pbf" if path.suffix.lower() == ".pbf" else "osm"
    try:
        opened = osmium.FileProcessor(osmium.io.File(str(path), kind))
        features = tuple(_features(opened.with_locations().with_areas()))
    except (RuntimeError, ValueError, OSError, osmium.InvalidLocationError) as error:
        what = " ".join(str(error).split())[:120]
        raise BadInputError(f"{path.name} is not OpenStreetMap data: {what}") from None
    courses = (f.tags["name"] for f in features if f.kind == "course" and "name" in f.tags)
    venue = next(courses, path.name.partition(".")[0])
    return CourseMap(path.name, venue, _CREDIT, features)


def _features(objects: Any) -> Iterator[Feature]:  # noqa: ANN401 - osmium's own types
    for thing in objects:
        tags = {t.k: " ".join(t.v.split()) for t in thing.tags}
        kind = kind_of(tags)
        if kind is None or not (thing.is_area() or thing.visible):
            continue
        geometry = _geometry(thing, kind)
        if geometry is not None and not geometry.is_empty:
            yield Feature(kind, geometry, tags)


def _geometry(thing: Any, kind: str) -> BaseGeometry | None:  # noqa: ANN401 - osmium's own types
    if thing.is_node():
        return shapely.Point(thing.lon, thing.lat) if thing.location.valid() else None
    if thing.is_way():
        return _of_way(_places(thing.nodes), kind)
    if thing.is_area() and not thing.from_way():
        return area_of([_rings(thing, outer) for outer in thing.outer_rings()])
    return None


def _of_way(places: list[tuple[float, float]], kind: str) -> BaseGeometry | None:
    closed = len(places) > 3 and places[0] == places[-1]
    if kind in _LINES and not (kind == "path" and closed):
        return shapely.LineString(places) if len(set(places)) > 1 else None
    return area_of([[places]]) if closed else None


def _rings(area: Any, outer: Any) -> list[list[tuple[float, float]]]:  # noqa: ANN401 - osmium's
    return [_places(outer), *(_places(inner) for inner in area.inner_rings(outer))]


def _places(nodes: Any) -> list[tuple[float, float]]:  # noqa: ANN401 - osmium's own types
    return [(n.location.lon, n.location.lat) for n in nodes if n.location.valid()]
