"""Gives a hole its heights: a dense survey, a sketch of readings, or a GeoTIFF.

Whatever they come from, the result is the same kind of hole, with the standard errors of its
heights where they are known.
"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import shapely

from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Floats
from carrybook.world.geotiff import raster_heights
from carrybook.world.ground import Surface
from carrybook.world.heights import smooth_surface
from carrybook.world.hole import Hole
from carrybook.world.layout import BEYOND_GREEN, SHORT_OF_GREEN, ground_of
from carrybook.world.place import Place
from carrybook.world.readings import Readings, read_readings
from carrybook.world.shape import HeightDoubt
from carrybook.world.sketched import MOST_READINGS, sketched_surface

__all__ = ["with_heights"]

# All ours, in metres.
_NEAR = 300.0  # readings all farther from the green than this belong to another
_ROUND = 5.0  # readings on the green and this far round it count
_NEEDED = 4
_RASTERS = (".tif", ".tiff")


def with_heights(hole: Hole, path: Path, place: Place | None, *, unit: str = "") -> Hole:
    """Put heights under a hole.

    Parameters
    ----------
    hole : Hole
        The hole; what it has of heights is what readings correct (a description, or level).
    path : Path
        CSV of readings, or a GeoTIFF.
    place : Place, optional
        Where the hole lies on the earth; None for a described one, which takes only readings in
        its own axes.
    unit : str
        Unit of the heights of a GeoTIFF that does not say: "m", "ft" or "us ft".

    Returns
    -------
    hole : Hole
        The same hole with another ground.

    Raises
    ------
    BadInputError
        A file that cannot be read, or that does not cover the green.
    """
    x, y = (
        start + hole.ground.step * np.arange(n)
        for start, n in zip(
            (hole.ground.x0, hole.ground.y0), hole.ground.heights.shape, strict=True
        )
    )
    if path.suffix.lower() in _RASTERS:
        heights, doubt, note = _of_raster(hole, path, place, x, y, unit)
    else:
        heights, doubt, note = _of_readings(hole, path, place, x, y)
    return replace(
        hole,
        ground=ground_of(x, y, hole.ground.surfaces, heights),
        heights_known=True,
        doubt=doubt,
        notes=(*hole.notes, note) if note else hole.notes,
    )


_Relief = tuple[Floats, HeightDoubt | None, str]


def _of_raster(
    hole: Hole, path: Path, place: Place | None, x: Floats, y: Floats, unit: str
) -> _Relief:
    if place is None:
        raise BadInputError(
            f"{path.name}: a described green has no place on the earth; give its heights as CSV"
            " with x, y in paces, or take a map"
        )
    nodes = np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1)
    lonlat = place.to_lonlat(nodes.reshape(-1, 2)).reshape(nodes.shape)
    on_green = hole.ground.surfaces == int(Surface.GREEN)
    on_green &= shapely.contains_xy(shapely.Polygon(hole.green), nodes[..., 0], nodes[..., 1])
    return raster_heights(path, lonlat, on_green, unit=unit)


def _of_readings(hole: Hole, path: Path, place: Place | None, x: Floats, y: Floats) -> _Relief:
    readings = _near(hole, _in_axes(read_readings(path), place, path.name), path.name)
    if len(readings.xy) <= MOST_READINGS:
        return sketched_surface(hole.ground, shapely.Polygon(hole.green).bounds, readings, x, y)
    if not np.isnan(readings.slope).all():
        raise BadInputError(
            f"{path.name} has {len(readings.xy)} readings with slopes near the green; at most"
            f" {MOST_READINGS} can be used"
        )
    spots = np.column_stack([readings.xy, readings.height])
    return smooth_surface(spots[~np.isnan(readings.height)], x, y), None, ""


def _in_axes(readings: Readings, place: Place | None, file: str) -> Readings:
    if not readings.on_earth:
        return readings
    if place is None:
        raise BadInputError(
            f"{file}: a described green has no place on the earth; give x, y in paces instead of"
            " lon, lat"
        )
    return replace(
        readings,
        xy=place.to_axes(readings.xy),
        falls_rad=readings.falls_rad - place.bearing_rad * readings.by_compass,
        on_earth=False,
    )


def _near(hole: Hole, readings: Readings, file: str) -> Readings:
    """Readings on and round the net, once they are seen to belong to this green."""
    green = shapely.Polygon(hole.green)
    distance = shapely.distance(green, shapely.points(readings.xy))
    closest = float(distance.min(initial=np.inf))
    if closest > _NEAR:
        raise BadInputError(
            f"{file}: no spot within {_NEAR:.0f} m of the green of hole {hole.ref}; the nearest is"
            f" {closest / 1000.0:.1f} km away (the columns are lon, lat in degrees)"
        )
    count = int((distance <= _ROUND).sum())
    if count < _NEEDED:
        raise BadInputError(
            f"{file}: {count} readings on and within {_ROUND:.0f} m of the green of hole"
            f" {hole.ref}; at least {_NEEDED} are needed"
        )
    return readings.of(np.asarray(distance <= SHORT_OF_GREEN + BEYOND_GREEN))
