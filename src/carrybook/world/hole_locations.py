"""Where a hole may be cut: what the guidance asks of edge, slope and evenness, and where it fails.

Guidance is no rule: a Committee cuts the hole where it likes. Slopes here are those of the surface
we have; how well that is known stands beside it.
"""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
import shapely

from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import require_range
from carrybook.base.numerics import Flags, Floats, Ints
from carrybook.world.ground import Surface
from carrybook.world.hole import Hole
from carrybook.world.shape import shape_at

__all__ = [
    "HoleLocations",
    "Reason",
    "Thirds",
    "judge_locations",
    "place_reasons",
    "slope_limits",
    "usable_thirds",
]

# Slope against green speed: feet of stimp, marginal and critical slope in per cent (lemons-2008).
_CHART = np.array(
    [
        (8.0, 5.86, 6.65),
        (9.0, 4.35, 5.95),
        (10.0, 3.90, 5.42),
        (11.0, 3.58, 4.90),
        (12.0, 3.24, 4.55),
        (13.0, 2.99, 4.20),
        (14.0, 2.90, 3.85),
    ]
)
_EDGE = 4.0 * YARD  # at least this far from the edge (randa-hole-positions)
_EDGE_BY_TROUBLE = 5.0 * YARD  # "more" by a bunker or a fall-off there; 5: golfcourseindustry-2016
_TROUBLE_WITHIN = 5.0 * YARD  # of the edge, ours
_FALL_OFF = 0.06  # slope just outside the edge from which it is a fall-off, ours
_JUST_OUTSIDE = 1.5  # m, ours
_AROUND = 3.0 * FOOT  # to be as even as can be (randa-hole-positions: 2 to 3 ft)
_AROUND_MARGINAL = 8.0 * FOOT  # where the slope is marginal (usga-hole-locations)
_FROM_CRITICAL = 10.0 * FOOT  # no hole nearer to critical slope (usga-hole-locations)
_UNEVEN = 0.01  # change of slope that still counts as even, ours
_STEP = 0.5  # m, ours


class Reason(StrEnum):
    """Why a hole should not be cut at a place, the first that holds."""

    NONE = "allowed"
    EDGE = "within 4 paces of the edge"
    TROUBLE = "within 5 paces of an edge with a bunker, water or a fall-off by it"
    STEEP = "too steep for this green speed"
    NEAR_STEEP = "within 10 ft of a slope that holds no ball"
    UNEVEN = "not even within 3 ft"
    MARGINAL = "steep for this green speed, and not even within 8 ft"


_REASONS = tuple(Reason)
_TROUBLES = ("bunker", "water", "out of bounds")


@dataclass(frozen=True, slots=True)
class HoleLocations:
    """The green looked at place by place, on a net of 0.5 m.

    Parameters
    ----------
    x, y : ndarray, shape (n,)
        Places on the green. [m]
    reason : ndarray of int64, shape (n,)
        Number of the :class:`Reason`, in its order; 0 is allowed.
    edge_m : ndarray, shape (n,)
        Distance to the edge. [m]
    slope : ndarray, shape (n,)
        Steepness. [1]
    marginal, critical : float
        Slopes of the chart at this green speed. [1]
    stimp_m : float
        Green speed. [m]
    """

    x: Floats
    y: Floats
    reason: Ints
    edge_m: Floats
    slope: Floats
    marginal: float
    critical: float
    stimp_m: float

    @property
    def allowed(self) -> Flags:
        """Where nothing speaks against it."""
        return np.asarray(self.reason == 0)

    def shares(self) -> dict[Reason, float]:
        """Share of the green for each reason."""
        count = np.bincount(self.reason, minlength=len(_REASONS)) / max(1, self.reason.size)
        return {reason: float(share) for reason, share in zip(_REASONS, count, strict=True)}


@dataclass(frozen=True, slots=True)
class Thirds:
    """Share of each third of the depth where a hole may be cut. [1]"""

    front: float
    middle: float
    back: float


def slope_limits(stimp_m: float) -> tuple[float, float]:
    """Marginal and critical slope at a green speed.

    Parameters
    ----------
    stimp_m : float
        Green speed, 1.2 to 5.5 m. [m]

    Returns
    -------
    marginal, critical : float
        Below the first a hole may be cut where it is even close by; above the second a ball does
        not come to rest. [1]

    Raises
    ------
    OutOfRangeError
        A green speed outside its range.

    Notes
    -----
    Straight lines between the rows of the chart of lemons-2008, 8 to 14 ft; beyond it both go as
    one over the speed (ours), as the critical slope nearly does within it.
    """
    require_range("green speed", stimp_m, 1.2, 5.5, "m")
    feet = stimp_m / FOOT
    within = min(max(feet, _CHART[0, 0]), _CHART[-1, 0])
    marginal, critical = (np.interp(within, _CHART[:, 0], _CHART[:, k]) for k in (1, 2))
    return float(marginal * within / feet / 100.0), float(critical * within / feet / 100.0)


def judge_locations(hole: Hole, stimp_m: float) -> HoleLocations:
    """Judge every place of a green.

    Parameters
    ----------
    hole : Hole
        The hole.
    stimp_m : float
        Green speed. [m]
    """
    green = shapely.Polygon(hole.green)
    front, right, back, left = green.bounds
    x, y = (
        np.floor(low / _STEP) * _STEP + _STEP * np.arange(int((high - low) / _STEP) + 2)
        for low, high in ((front, back), (right, left))
    )
    x, y = (v.ravel() for v in np.meshgrid(x, y, indexing="ij"))
    inside = shapely.contains_xy(green, x, y) & _is_green(hole, x, y)
    return _judged(hole, x[inside], y[inside], stimp_m)


def place_reasons(hole: Hole, x: float, y: float, stimp_m: float) -> tuple[HoleLocations, Reason]:
    """Judge one place: its numbers, and the first reason against it."""
    judged = _judged(hole, np.array([x]), np.array([y]), stimp_m)
    return judged, _REASONS[int(judged.reason[0])]


def usable_thirds(hole: Hole, places: HoleLocations) -> Thirds:
    """Share of the front, middle and back third of the green where a hole may be cut."""
    front, back = hole.green[:, 0].min(), hole.green[:, 0].max()
    third = np.clip(3.0 * (places.x - front) / (back - front), 0.0, 2.0).astype(int)
    allowed = places.allowed
    return Thirds(
        *(float(allowed[third == n].mean()) if (third == n).any() else 0.0 for n in range(3))
    )


def _judged(hole: Hole, x: Floats, y: Floats, stimp_m: float) -> HoleLocations:
    marginal, critical = slope_limits(stimp_m)
    edge = np.asarray(shapely.distance(shapely.Polygon(hole.green).exterior, shapely.points(x, y)))
    slope = shape_at(hole.ground, x, y).slope
    uneven = _unevenness(hole, x, y, _AROUND) > _UNEVEN
    too_steep = slope > critical
    near_steep = _steepest(hole, x, y, _FROM_CRITICAL) > critical
    marginal_bad = (slope > marginal) & (_unevenness(hole, x, y, _AROUND_MARGINAL) > _UNEVEN)
    by_trouble = (edge < _EDGE_BY_TROUBLE) & _edge_has_trouble(hole, x, y)
    tests = {
        Reason.EDGE: edge < _EDGE,
        Reason.TROUBLE: by_trouble,
        Reason.STEEP: too_steep,
        Reason.NEAR_STEEP: near_steep,
        Reason.UNEVEN: uneven,
        Reason.MARGINAL: marginal_bad,
    }
    numbers = [_REASONS.index(reason) for reason in tests]
    reason = np.select(list(tests.values()), numbers, default=0).astype(np.int64)
    return HoleLocations(x, y, reason, edge, slope, marginal, critical, stimp_m)


def _is_green(hole: Hole, x: Floats, y: Floats) -> Flags:
    g = hole.ground
    i, j = (
        np.clip(np.rint((v - start) / g.step), 0, n - 1).astype(int)
        for v, start, n in zip((x, y), (g.x0, g.y0), g.surfaces.shape, strict=True)
    )
    return np.asarray(g.surfaces[i, j] == int(Surface.GREEN))


def _circle(radius: float) -> Floats:
    """Points of rings within a radius, less than half a metre apart outward."""
    rings = np.linspace(0.0, radius, max(2, int(np.ceil(radius / _STEP)) + 1))[1:]
    turn = np.linspace(0.0, 2.0 * np.pi, 12, endpoint=False)
    return np.concatenate([r * np.column_stack([np.cos(turn), np.sin(turn)]) for r in rings])


def _unevenness(hole: Hole, x: Floats, y: Floats, radius: float) -> Floats:
    """Largest change of slope between a place and the ground within a radius of it."""
    here = shape_at(hole.ground, x, y)
    most = np.zeros_like(x)
    for dx, dy in _circle(radius):
        there = shape_at(hole.ground, x + dx, y + dy)
        change = np.hypot(there.slope_x - here.slope_x, there.slope_y - here.slope_y)
        most = np.maximum(most, change)
    return most


def _steepest(hole: Hole, x: Floats, y: Floats, radius: float) -> Floats:
    """Steepest slope on the green within a radius."""
    most = np.zeros_like(x)
    for dx, dy in _circle(radius):
        on_green = _is_green(hole, x + dx, y + dy)
        most = np.maximum(
            most, np.where(on_green, shape_at(hole.ground, x + dx, y + dy).slope, 0.0)
        )
    return most


def _edge_has_trouble(hole: Hole, x: Floats, y: Floats) -> Flags:
    """Whether a bunker, water or a fall-off lies by the nearest point of the edge."""
    ring = shapely.Polygon(hole.green).exterior
    points = shapely.points(x, y)
    nearest = shapely.get_coordinates(
        shapely.line_interpolate_point(ring, shapely.line_locate_point(ring, points))
    )
    danger = [shapely.Polygon(area) for kind, area in hole.areas if kind in _TROUBLES]
    by_area = shapely.distance(shapely.union_all(danger), shapely.points(nearest)) < _TROUBLE_WITHIN
    out = nearest - np.column_stack([x, y])
    out /= np.maximum(np.hypot(*out.T), 1e-9)[:, None]
    beyond = shape_at(hole.ground, *(nearest + _JUST_OUTSIDE * out).T)
    falls = -(beyond.slope_x * out[:, 0] + beyond.slope_y * out[:, 1]) > _FALL_OFF
    return np.asarray(np.where(np.isnan(by_area), False, by_area) | falls, dtype=np.bool_)
