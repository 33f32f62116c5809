"""A map of a course as read, whichever format it came in.

Positions stay as the file has them: longitude and latitude on WGS 84, in degrees.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

__all__ = ["CourseMap", "Feature", "area_of", "kind_of", "map_notes"]

# Tags of the OpenStreetMap wiki (osm-golf); the first that fits counts. Older maps call penalty
# areas water hazards and lateral water hazards, as the Rules once did.
_KINDS = {
    ("golf", "hole"): "hole",
    ("golf", "green"): "green",
    ("golf", "fringe"): "fringe",
    ("golf", "fairway"): "fairway",
    ("golf", "tee"): "tee",
    ("golf", "rough"): "rough",
    ("golf", "bunker"): "bunker",
    ("golf", "water_hazard"): "water",
    ("golf", "lateral_water_hazard"): "water",
    ("golf", "out_of_bounds"): "out of bounds",
    ("golf", "cartpath"): "path",
    ("golf", "pin"): "pin",
    ("natural", "sand"): "bunker",
    ("natural", "water"): "water",
    ("leisure", "golf_course"): "course",
}
_NOTES = (
    "Map data from OpenStreetMap contributors, under the ODbL: credit them wherever it is shown,"
    " and share what you change under the same licence.",
    "Outlines are traced from pictures that may lie 1 to 5 m off: check a carry or two by pacing.",
)


@dataclass(frozen=True, slots=True)
class Feature:
    """One thing drawn on the map.

    Parameters
    ----------
    kind : str
        "hole", "green", "fringe", "fairway", "tee", "rough", "bunker", "water", "out of bounds",
        "path", "pin" or "course".
    geometry : shapely geometry
        Valid point, line, polygon or multipolygon; longitude and latitude. [deg]
    tags : dict of str to str
        All properties that are text or numbers, as text.
    """

    kind: str
    geometry: BaseGeometry
    tags: dict[str, str]


@dataclass(frozen=True, slots=True)
class CourseMap:
    """A map file as read.

    Parameters
    ----------
    name : str
        Name of the file, for messages.
    venue : str
        Name of the course; the file's own name where the map has none.
    attribution : str
        Who must be credited; empty where the map does not say.
    features : tuple of Feature
        Everything of golf on the map, in the order of the file.
    """

    name: str
    venue: str
    attribution: str
    features: tuple[Feature, ...]


def kind_of(tags: Mapping[str, str]) -> str | None:
    """What golf calls a thing with these tags; None where it is nothing of golf."""
    return next((name for tag, name in _KINDS.items() if tags.get(tag[0]) == tag[1]), None)


def area_of(polygons: Sequence[Sequence[Sequence[Sequence[float]]]]) -> BaseGeometry:
    """Union of polygons given as rings, made valid; whatever has no area falls away.

    Rings may be wound either way, and left open.
    """
    drawn = [shapely.Polygon(rings[0], rings[1:]) for rings in polygons]  # closes open rings
    parts = shapely.get_parts(shapely.union_all(shapely.make_valid(drawn)))
    return shapely.union_all([part for part in parts if part.geom_type == "Polygon"])


def map_notes(attribution: str) -> tuple[str, ...]:
    """What must be said where a map with this credit is used."""
    return _NOTES if "openstreetmap" in attribution.lower() else ()
