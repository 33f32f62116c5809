"""What there is to say of a green: size, slopes, how well they are known, where holes may be."""

from dataclasses import dataclass
from math import atan2

import numpy as np
import shapely

from carrybook.base.numerics import Floats
from carrybook.world.hole import Hole, HoleLocation
from carrybook.world.hole_locations import (
    HoleLocations,
    Reason,
    Thirds,
    judge_locations,
    place_reasons,
    usable_thirds,
)
from carrybook.world.shape import doubt_at, shape_at

__all__ = ["GroundReport", "Judged", "falls_to", "report_ground"]


@dataclass(frozen=True, slots=True)
class Judged:
    """One hole location, judged.

    Parameters
    ----------
    location : HoleLocation
        Where it is cut.
    reason : Reason
        The first reason against it, or none.
    slope : float
        Steepness there. [1]
    slope_se : float, optional
        Its standard error. [1]
    falls_rad : float
        Where it falls, clockwise from straight on. [rad]
    edge_m : float
        To the nearest edge. [m]
    """

    location: HoleLocation
    reason: Reason
    slope: float
    slope_se: float | None
    falls_rad: float
    edge_m: float


@dataclass(frozen=True, slots=True)
class GroundReport:
    """A green, looked at.

    Parameters
    ----------
    hole : Hole
        The hole.
    places : HoleLocations
        The green place by place.
    thirds : Thirds
        Where a hole may be cut, front, middle and back.
    deep_m, wide_m, area_m2 : float
        Size of the green. [m], [m], [m2]
    slope_50, slope_90 : float
        Slopes that half, and nine in ten, of the green stay below. [1]
    rise_m : float
        Back edge above front edge, along the middle. [m]
    height_se_m, slope_se : float, optional
        Standard errors that are usual on the green, where they are known. [m], [1]
    judged : Judged, optional
        The hole location asked for.
    """

    hole: Hole
    places: HoleLocations
    thirds: Thirds
    deep_m: float
    wide_m: float
    area_m2: float
    slope_50: float
    slope_90: float
    rise_m: float
    height_se_m: float | None
    slope_se: float | None
    judged: Judged | None


def report_ground(hole: Hole, stimp_m: float, location: HoleLocation | None = None) -> GroundReport:
    """Look at a green.

    Parameters
    ----------
    hole : Hole
        The hole.
    stimp_m : float
        Green speed. [m]
    location : HoleLocation, optional
        A place to judge.

    Raises
    ------
    OutOfRangeError
        A green speed outside its range.
    """
    places = judge_locations(hole, stimp_m)
    front, right, back, left = shapely.Polygon(hole.green).bounds
    slopes = places.slope if places.slope.size else np.zeros(1)
    ends = shape_at(hole.ground, np.array([front, back]), np.full(2, 0.5 * (left + right))).height
    height_se, slope_se = _usual_doubt(hole, places.x, places.y)
    return GroundReport(
        hole=hole,
        places=places,
        thirds=usable_thirds(hole, places),
        deep_m=back - front,
        wide_m=left - right,
        area_m2=float(shapely.Polygon(hole.green).area),
        slope_50=float(np.quantile(slopes, 0.5)),
        slope_90=float(np.quantile(slopes, 0.9)),
        rise_m=float(ends[1] - ends[0]),
        height_se_m=height_se,
        slope_se=slope_se,
        judged=None if location is None else _judged(hole, stimp_m, location),
    )


def falls_to(slope_x: float, slope_y: float) -> float:
    """Where ground falls, clockwise from straight on, 0 to a full turn. [rad]"""
    return float(atan2(slope_y, -slope_x) % (2.0 * np.pi))


def _judged(hole: Hole, stimp_m: float, location: HoleLocation) -> Judged:
    one, reason = place_reasons(hole, location.x, location.y, stimp_m)
    there = shape_at(hole.ground, location.x, location.y)
    _, slope_se = _usual_doubt(hole, np.array([location.x]), np.array([location.y]))
    falls = falls_to(float(there.slope_x), float(there.slope_y))
    return Judged(location, reason, float(there.slope), slope_se, falls, float(one.edge_m[0]))


def _usual_doubt(hole: Hole, x: Floats, y: Floats) -> tuple[float | None, float | None]:
    if hole.doubt is None or not x.size:
        return None, None
    height, slope = doubt_at(hole.ground, hole.doubt, x, y)
    return float(np.median(height)), float(np.median(slope))
