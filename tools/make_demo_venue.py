"""Writes the venue of the demo: three invented holes in the open sea, as a map and spot heights.

Run `.venv/bin/python tools/make_demo_venue.py` to write both files of the venue anew. Nothing is
random but for stated seeds, so they come out the same each time. Each hole is drawn in its own axes
(x along the approach from the front edge of the green, y left, metres) and then laid on the map.
Every number is ours; none belongs to a real place.
"""

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import cos, radians, sin
from pathlib import Path

import numpy as np
import shapely
from pyproj import Proj
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from carrybook.base.constants import FOOT, YARD
from carrybook.base.numerics import Floats

FOLDER = Path(__file__).parents[1] / "src" / "carrybook" / "app" / "demo_data"
PACE = YARD

VENUE = "Saltfen Reach"
SEA = (4.1, 54.2)  # longitude, latitude: open North Sea, many kilometres from any shore [deg]
PLANE = Proj(proj="aeqd", lon_0=SEA[0], lat_0=SEA[1], ellps="WGS84")
Outline = Floats  # shape (n, 2), counter-clockwise, not closed [m]
Height = Callable[[Floats, Floats], Floats]


@dataclass(frozen=True)
class DemoHole:
    """A hole in its own axes."""

    ref: str
    par: int
    front: tuple[float, float]  # east and north of the front edge, from SEA [m]
    bearing_deg: float  # of the approach, clockwise from north
    line: tuple[tuple[float, float], ...]  # from tee to green [m]
    green: Outline
    areas: tuple[tuple[str, Outline], ...]
    pin: tuple[float, float]
    height: Height


def blob(
    centre: tuple[float, float], half_x: float, half_y: float, *, seed: int, wobble: float = 0.10
) -> Outline:
    """Smooth closed curve: an ellipse whose radius wanders by a few harmonics; 48 points."""
    rng = np.random.default_rng(seed)
    turn = np.linspace(0.0, 2.0 * np.pi, 48, endpoint=False)
    radius = np.ones_like(turn)
    for harmonic in (2, 3, 4, 5):
        phase = rng.uniform(0.0, 2.0 * np.pi)
        radius += wobble * rng.normal() / (harmonic - 1.0) * np.cos(harmonic * turn + phase)
    return fitted(
        np.column_stack([radius * np.cos(turn), radius * np.sin(turn)]), centre, half_x, half_y
    )


def fitted(curve: Outline, centre: tuple[float, float], half_x: float, half_y: float) -> Outline:
    """Stretch a curve to a box of exactly this size round a centre."""
    low, high = curve.min(axis=0), curve.max(axis=0)
    return np.asarray((2.0 * (curve - low) / (high - low) - 1.0) * (half_x, half_y) + centre)


def outline_of(shape: BaseGeometry) -> Outline:
    """Exterior of the one polygon that a construction leaves."""
    if not isinstance(shape, shapely.Polygon):
        raise TypeError(f"expected one polygon, got {shape.geom_type}")
    return np.array(orient(shape).exterior.coords)[:-1]


def corridor(middle: Sequence[tuple[float, float]], half_width: float) -> Outline:
    """Fairway along a line, with round ends."""
    return outline_of(shapely.LineString(middle).buffer(half_width, quad_segs=8).simplify(0.4))


def crescent(green: Outline, gap: float, width: float, low: float, high: float) -> Outline:
    """Band that follows the green at a distance, cut to the y from `low` to `high`, in front."""
    shape = shapely.Polygon(green)
    band = shape.buffer(gap + width, quad_segs=16).difference(shape.buffer(gap, quad_segs=16))
    front = shapely.box(-1e3, low, float(np.mean(green[:, 0])), high)
    return outline_of(band.intersection(front).buffer(-1.2).buffer(1.2, quad_segs=4).simplify(0.1))


def ramp(x: Floats, start: float, end: float, rise: float, softness: float) -> Floats:
    """Rise from 0 to `rise` between two depths, with rounded corners."""

    def hinge(u: Floats) -> Floats:
        return np.asarray(softness * np.logaddexp(0.0, u / softness))

    return np.asarray(rise / (end - start) * (hinge(x - start) - hinge(x - end)))


def bowl(x: Floats, y: Floats, outline: Outline, depth: float, wall: float) -> Floats:
    """How deep the ground is sunk inside an outline, the floor being one `wall` from the edge."""
    area = shapely.Polygon(outline)
    inside = shapely.contains_xy(area, x, y)
    margin = shapely.distance(area.exterior, shapely.points(x, y))
    return np.where(inside, depth * (1.0 - np.exp(-((margin / wall) ** 2))), 0.0)


def two_tier_hole() -> DemoHole:
    """Hole 4: a back shelf two feet up, bunker right."""
    deep = 34.0 * PACE
    green = blob((deep / 2.0, 0.0), deep / 2.0, 10.5, seed=4)
    right = blob((13.5, -14.6), 7.0, 3.2, seed=41)
    short_left = blob((-9.0, 13.0), 4.5, 3.2, seed=42)

    def height(x: Floats, y: Floats) -> Floats:
        base = 8.0 + 0.016 * x + 0.006 * y + 0.10 * np.sin(x / 23.0) * np.cos(y / 17.0)
        shelf = ramp(x, 18.0 * PACE, 22.0 * PACE, 2.0 * FOOT, 0.35)
        shelf = shelf * np.exp(-((y / 22.0) ** 6))  # the tier ends beside the green
        behind = -0.05 * np.logaddexp(0.0, (x - deep - 5.0) / 2.0) * 2.0
        return (
            base + shelf + behind - bowl(x, y, right, 1.1, 1.6) - bowl(x, y, short_left, 0.9, 1.6)
        )

    return DemoHole(
        ref="4",
        par=4,
        front=(0.0, 0.0),
        bearing_deg=24.0,
        line=((-345.0, 70.0), (-205.0, 0.0), (deep / 2.0, 0.0)),
        green=green,
        areas=(
            ("fairway", corridor([(-240.0, 14.0), (-205.0, 0.0), (-12.0, 0.0)], 15.0)),
            ("tee", corridor([(-352.0, 73.5), (-338.0, 66.5)], 4.0)),
            ("bunker", right),
            ("bunker", short_left),
        ),
        pin=(26.0 * PACE, -1.0),
        height=height,
    )


def guarded_hole() -> DemoHole:
    """Hole 11: a deep bunker across the front of a green that falls to the front."""
    deep = 28.0 * PACE
    green = blob((deep / 2.0, 0.0), deep / 2.0, 12.0, seed=11)
    front = crescent(green, 1.6, 7.0, -9.5, 9.5)
    back_left = blob((deep + 1.5, 12.5), 3.0, 4.2, seed=112)

    def height(x: Floats, y: Floats) -> Floats:
        base = 6.0 + 0.020 * np.maximum(x, -30.0) - 0.004 * y
        base = base + 0.06 * np.sin(x / 19.0 + 1.0) * np.cos(y / 15.0)
        behind = 0.06 * np.logaddexp(0.0, (x - deep - 3.0) / 2.0) * 2.0
        return base + behind - bowl(x, y, front, 1.7, 1.5) - bowl(x, y, back_left, 1.0, 1.5)

    return DemoHole(
        ref="11",
        par=4,
        front=(330.0, 250.0),
        bearing_deg=201.0,
        line=((-330.0, -80.0), (-200.0, 0.0), (deep / 2.0, 0.0)),
        green=green,
        areas=(
            ("fairway", corridor([(-235.0, -18.0), (-200.0, 0.0), (-24.0, 0.0)], 14.0)),
            ("tee", corridor([(-337.0, -84.0), (-323.0, -76.0)], 4.0)),
            ("bunker", front),
            ("bunker", back_left),
        ),
        pin=(9.0 * PACE, 1.5),
        height=height,
    )


def water_hole() -> DemoHole:
    """Hole 16: water three metres from the left edge of the green, bunker right."""
    deep = 30.0 * PACE
    green = blob((deep / 2.0, 0.0), deep / 2.0, 11.0, seed=16)
    right = blob((15.0, -15.4), 6.5, 3.4, seed=161)
    lake = shapely.Polygon(blob((2.0, 33.0), 62.0, 25.0, seed=162, wobble=0.03))
    shore = shapely.Polygon(green).buffer(3.0, quad_segs=16)
    water = outline_of(lake.difference(shore).simplify(0.15))
    level = 3.6

    def height(x: Floats, y: Floats) -> Floats:
        base = 5.0 + 0.006 * x - 0.015 * y + 0.05 * np.sin(x / 16.0) * np.cos(y / 13.0)
        base = base - bowl(x, y, right, 1.0, 1.6)
        to_water = shapely.distance(shapely.Polygon(water), shapely.points(x, y))
        return level + (base - level) * (1.0 - np.exp(-((to_water / 1.6) ** 2)))

    return DemoHole(
        ref="16",
        par=5,
        front=(-330.0, 190.0),
        bearing_deg=118.0,
        line=((-455.0, -60.0), (-215.0, 0.0), (deep / 2.0, 0.0)),
        green=green,
        areas=(
            ("fairway", corridor([(-370.0, -39.0), (-215.0, 0.0), (-14.0, -4.0)], 15.0)),
            ("tee", corridor([(-462.0, -62.0), (-448.0, -58.0)], 4.0)),
            ("lateral_water_hazard", water),
            ("bunker", right),
        ),
        pin=(17.0 * PACE, 2.0),
        height=height,
    )


def holes() -> tuple[DemoHole, ...]:
    """Draw the three holes of the venue."""
    return (two_tier_hole(), guarded_hole(), water_hole())


def to_map(hole: DemoHole, points: Floats) -> Floats:
    """Axes of a hole -> longitude and latitude, rounded to the 7 decimals that RFC 7946 advises."""
    heading = radians(90.0 - hole.bearing_deg)
    turn = np.array([[cos(heading), sin(heading)], [-sin(heading), cos(heading)]])
    plane = points @ turn + hole.front
    return np.round(np.column_stack(PLANE(plane[:, 0], plane[:, 1], inverse=True)), 7)


def feature(tags: dict[str, str], kind: str, coordinates: object) -> dict[str, object]:
    """One GeoJSON feature."""
    geometry = {"type": kind, "coordinates": coordinates}
    return {"type": "Feature", "properties": tags, "geometry": geometry}


def area(hole: DemoHole, tag: str, outline: Outline) -> dict[str, object]:
    """One GeoJSON polygon: exterior ring counter-clockwise and closed (RFC 7946, 3.1.6)."""
    ring = to_map(hole, np.concatenate([outline, outline[:1]])).tolist()
    return feature({"golf": tag}, "Polygon", [ring])


def map_text() -> str:
    """Write the map of the venue as GeoJSON, one feature a line."""
    features: list[dict[str, object]] = []
    for hole in holes():
        tags = {"golf": "hole", "ref": hole.ref, "par": str(hole.par)}
        line = to_map(hole, np.array(hole.line)).tolist()
        pin = to_map(hole, np.array([hole.pin])).tolist()[0]
        features += [
            feature(tags, "LineString", line),
            area(hole, "green", hole.green),
            *(area(hole, tag, outline) for tag, outline in hole.areas),
            feature({"golf": "pin", "ref": hole.ref}, "Point", pin),
        ]
    rows = ",\n".join(json.dumps(f, separators=(",", ":")) for f in features)
    note = "Invented for the demo of carrybook; no real place."
    return (
        f'{{"type":"FeatureCollection","name":{json.dumps(VENUE)},'
        f'"attribution":{json.dumps(note)},"features":[\n{rows}\n]}}\n'
    )


def spots_of(hole: DemoHole) -> Floats:
    """Spot heights: every 2 m on and 25 m round the green, every 8 m over the approach."""
    low, high = hole.green.min(axis=0) - 26.0, hole.green.max(axis=0) + 26.0
    near = grid(low, high, 2.0)
    close = shapely.distance(shapely.Polygon(hole.green), shapely.points(near)) <= 25.0
    far = grid(np.array([-200.0, -40.0]), np.array([low[0], 40.0]), 8.0)
    points = np.concatenate([near[close], far])
    heights = hole.height(points[:, 0], points[:, 1])
    return np.column_stack([to_map(hole, points), np.round(heights, 3)])


def grid(low: Floats, high: Floats, step: float) -> Floats:
    """Points of a square net."""
    x, y = (np.arange(a, b, step) for a, b in zip(low, high, strict=True))
    return np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1).reshape(-1, 2)


def heights_text() -> str:
    """Write the survey of the venue as CSV (RFC 4180)."""
    spots = np.concatenate([spots_of(hole) for hole in holes()])
    rows = (f"{lon:.7f},{lat:.7f},{height:.3f}" for lon, lat, height in spots)
    return "\r\n".join(["lon,lat,height_m", *rows, ""])


def main() -> None:
    """Write the files."""
    (FOLDER / "venue.geojson").write_bytes(map_text().encode())
    (FOLDER / "heights.csv").write_bytes(heights_text().encode())


if __name__ == "__main__":
    main()
