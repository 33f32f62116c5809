"""Reads a map of a course: GeoJSON (RFC 7946) with OpenStreetMap golf tags.

Positions stay as the file has them: longitude and latitude on WGS 84, in degrees. The reader is
lenient where meaning is plain (ring winding, rings left open, a third coordinate, members it does
not know) and refuses, in one line, whatever it would have to guess.
"""

from pathlib import Path
from typing import Annotated, Literal

import shapely
from pydantic import AfterValidator, BaseModel, Field, TypeAdapter, ValidationError
from shapely.geometry.base import BaseGeometry

from carrybook.base.errors import BadInputError
from carrybook.world.course import CourseMap, Feature, area_of, kind_of

__all__ = ["read_map"]


def _on_earth(position: list[float]) -> list[float]:
    """Longitude and latitude of a position, without its height."""
    lon, lat = position[:2]
    if abs(lon) > 180.0 or abs(lat) > 90.0:
        raise ValueError(
            f"[{lon:g}, {lat:g}] is no longitude and latitude (-180 to 180, then -90 to 90);"
            " GeoJSON puts longitude first"
        )
    return [lon, lat]


_Coordinate = Annotated[float, Field(strict=True, allow_inf_nan=False)]
_Position = Annotated[list[_Coordinate], Field(min_length=2), AfterValidator(_on_earth)]
_Line = Annotated[list[_Position], Field(min_length=2)]
_Ring = Annotated[list[_Position], Field(min_length=3)]
_Polygon = Annotated[list[_Ring], Field(min_length=1)]


class _Feature(BaseModel):
    geometry: dict[str, object] | None
    properties: dict[str, object] | None = None


class _Collection(BaseModel):
    type: Literal["FeatureCollection"]
    features: list[_Feature]
    name: object = None
    attribution: object = None
    copyright: object = None


def read_map(path: Path) -> CourseMap:
    """Read every feature with a golf tag.

    Parameters
    ----------
    path : Path
        A GeoJSON FeatureCollection in UTF-8.

    Returns
    -------
    course : CourseMap
        Features whose tags or type of geometry we do not know are left out, and so are open
        lines where an area is meant, because they do not say on which side of them it lies.

    Raises
    ------
    BadInputError
        The file cannot be read, is not GeoJSON, or holds coordinates that are no positions.
    """
    try:
        collection = _Collection.model_validate_json(path.read_text(encoding="utf-8-sig"))
    except OSError as error:
        raise BadInputError(f"cannot read {path}: {error.strerror}") from None
    except UnicodeDecodeError:
        raise BadInputError(f"{path.name} is not a text file in UTF-8") from None
    except ValidationError as error:
        raise BadInputError(f"{path.name} is not a GeoJSON map: {_first_problem(error)}") from None
    numbered = enumerate(collection.features, start=1)
    read = (_feature(feature, f"{path.name}, feature {n}") for n, feature in numbered)
    features = tuple(feature for feature in read if feature is not None)
    courses = (f.tags["name"] for f in features if f.kind == "course" and "name" in f.tags)
    venue = next(courses, _text(collection.name)) or path.stem
    credit = _text(collection.attribution) or _text(collection.copyright)
    return CourseMap(path.name, venue, credit, features)


def _feature(raw: _Feature, where: str) -> Feature | None:
    tags = {key: _text(value) for key, value in (raw.properties or {}).items() if _text(value)}
    kind = kind_of(tags)
    if kind is None or raw.geometry is None:
        return None
    reader = _READERS.get(str(raw.geometry.get("type")))
    if reader is None:
        return None
    where = f"{where} ({kind})"
    try:
        geometry = reader(raw.geometry.get("coordinates"))
    except ValidationError as error:
        raise BadInputError(f"{where}: {_first_problem(error, 'coordinates')}") from None
    except ValueError as error:  # shapely: a ring of fewer than three different points
        raise BadInputError(f"{where}: {error}") from None
    if kind not in ("hole", "path") and geometry.geom_type == "LineString":
        geometry = _closed_line_as_area(geometry)
    if geometry.is_empty:
        return None
    return Feature(kind, geometry, tags)


def _text(value: object) -> str:
    """Text and whole numbers as one line of text (`ref` comes as "4" and as 4); else nothing."""
    if isinstance(value, str):
        return " ".join(value.split())
    return str(value) if isinstance(value, int) and abs(value) < 1_000_000 else ""


def _first_problem(error: ValidationError, root: str = "") -> str:
    problem = error.errors(include_url=False, include_input=False)[0]
    steps = (f"[{step}]" if isinstance(step, int) else f".{step}" for step in problem["loc"])
    place = (root + "".join(steps)).removeprefix(".")
    message = problem["msg"].removeprefix("Value error, ")
    return f"{place}: {message}" if place else message


def _point(coordinates: object) -> BaseGeometry:
    return shapely.Point(_POINT.validate_python(coordinates))


def _line(coordinates: object) -> BaseGeometry:
    return shapely.LineString(_LINE.validate_python(coordinates))


def _polygon(coordinates: object) -> BaseGeometry:
    return area_of([_POLYGON.validate_python(coordinates)])


def _multipolygon(coordinates: object) -> BaseGeometry:
    return area_of(_MULTIPOLYGON.validate_python(coordinates))


def _closed_line_as_area(line: BaseGeometry) -> BaseGeometry:
    """Read a line that comes back to its start as the area inside; one left open holds nothing."""
    if not line.is_ring or len(line.coords) < 4:  # a ring of two points is no area
        return shapely.Point()
    return shapely.make_valid(shapely.Polygon(line.coords))


_POINT = TypeAdapter(_Position)
_LINE = TypeAdapter(_Line)
_POLYGON = TypeAdapter(_Polygon)
_MULTIPOLYGON = TypeAdapter(list[_Polygon])
_READERS = {
    "Point": _point,
    "LineString": _line,
    "Polygon": _polygon,
    "MultiPolygon": _multipolygon,
}
