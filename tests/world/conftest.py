"""A small course to draw on: a plane in metres (east, north) round a point in the open sea."""

import json
from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
import pytest
from pyproj import Proj

from carrybook.base.numerics import Floats

Feature = dict[str, object]
Metres = Sequence[tuple[float, float]]

PLANE = Proj(proj="aeqd", lon_0=4.1, lat_0=54.2, ellps="WGS84")


def to_lonlat(points: Metres) -> list[list[float]]:
    east, north = np.array(points, dtype=float).T
    return [list(map(float, p)) for p in zip(*PLANE(east, north, inverse=True), strict=True)]


def box(west: float, south: float, east: float, north: float) -> Metres:
    return [(west, south), (east, south), (east, north), (west, north)]


def area(tag: str, ring: Metres, *holes: Metres) -> Feature:
    rings = [to_lonlat([*r, r[0]]) for r in (ring, *holes)]
    key, value = tag.split("=")
    geometry = {"type": "Polygon", "coordinates": rings}
    return {"type": "Feature", "properties": {key: value}, "geometry": geometry}


def line(points: Metres, **tags: object) -> Feature:
    geometry = {"type": "LineString", "coordinates": to_lonlat(points)}
    return {"type": "Feature", "properties": tags, "geometry": geometry}


def hole(points: Metres = ((0.0, -300.0), (0.0, 15.0)), **tags: object) -> Feature:
    return line(points, **({"golf": "hole", "ref": "4", "par": "4"} | tags))


@pytest.fixture
def draw() -> Callable[..., Feature]:
    """Polygon: draw("golf=green", west, south, east, north)."""
    return lambda tag, *bounds: area(tag, box(*bounds))


@pytest.fixture
def draw_ring() -> Callable[..., Feature]:
    """Polygon from rings in metres, the exterior first."""
    return area


@pytest.fixture
def draw_line() -> Callable[..., Feature]:
    return line


@pytest.fixture
def draw_hole() -> Callable[..., Feature]:
    """Line of a hole; from 300 m south of the green to its middle unless told otherwise."""
    return hole


@pytest.fixture
def green() -> Feature:
    """20 m wide and 30 m deep, its front edge on the origin, the approach running north."""
    return area("golf=green", box(-10.0, 0.0, 10.0, 30.0))


@pytest.fixture
def save_map(tmp_path: Path) -> Callable[..., Path]:
    """Write features to a map file."""

    def save(*features: Feature, **members: object) -> Path:
        path = tmp_path / "course.geojson"
        collection = {"type": "FeatureCollection", "features": features, **members}
        path.write_text(json.dumps(collection), encoding="utf-8")
        return path

    return save


@pytest.fixture
def save_heights(tmp_path: Path) -> Callable[..., Path]:
    """Write spot heights (east, north, height), all in metres, to a heights file."""

    def save(spots: Floats, header: str = "lon,lat,height_m", scale: float = 1.0) -> Path:
        path = tmp_path / "heights.csv"
        lonlat = to_lonlat(spots[:, :2].tolist())
        heights = (spots[:, 2] * scale).tolist()
        rows = [f"{lon!r},{lat!r},{z!r}" for (lon, lat), z in zip(lonlat, heights, strict=True)]
        path.write_text("\r\n".join([header, *rows, ""]), encoding="utf-8", newline="")
        return path

    return save
