"""Draws the hole that a description tells of: outline, areas, and a smooth surface.

What a description leaves open is filled in the plainest way: a rounded green, level ground beyond
it, faces of tiers with rounded foot and brow. How far that may be wrong is in the doubt.
"""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import shapely

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Floats
from carrybook.world.described import read_description
from carrybook.world.described_heights import described_heights
from carrybook.world.description import Described, RunOff, Trouble
from carrybook.world.hole import UNNUMBERED, Hole
from carrybook.world.layout import (
    Area,
    ground_of,
    layered,
    nodes_along,
    outline_of,
    require_size,
    surfaces_of,
)
from carrybook.world.locate import locate

__all__ = ["described_hole"]

# All ours.
_POWER = 2.4  # of the rounded outline: 2 is an ellipse, more is squarer
_CORNERS = 72
_FAR = 400.0  # m, beyond any net
_WEDGE = np.radians(50.0)  # half the sector of a run-off
_NOTE = "Described, not surveyed: the ground between the facts is the plainest that fits them."


def described_hole(text: str, source: str = "green") -> Hole:
    """Draw the hole of a description.

    Parameters
    ----------
    text : str
        As :func:`carrybook.world.described.read_description` reads it.
    source : str
        What the text is called in a message.

    Returns
    -------
    hole : Hole
        With its heights' standard errors: half of a per cent in the tilt, a fifth of what tiers,
        mounds, false fronts and run-offs add.

    Raises
    ------
    BadInputError
        A description that is not understood, or that names a place off the green.
    """
    d = read_description(text, source)
    green = _green(d)
    require_size(green, source)
    x, y = nodes_along(green)
    net = shapely.box(x[0], y[0], x[-1], y[-1])
    drawn = ((kind, area & net) for kind, area in _areas(d, green))
    areas = layered(green, (each for each in drawn if each[1].area > 0.0), d.fringe_m)
    surfaces = surfaces_of([*areas, ("green", green)], x, y)
    hole = Hole(
        venue=d.venue,
        ref=d.ref or UNNUMBERED,
        par=d.par,
        ground=ground_of(x, y, surfaces, np.zeros(surfaces.shape)),
        green=outline_of(green),
        areas=tuple((kind, outline_of(area)) for kind, area in areas),
        bearing_rad=d.bearing_rad,
        heights_known=bool(any(d.slope) or d.tiers or d.mounds or d.run_offs or d.false_front),
        notes=(_NOTE,),
        front_number_m=d.front_number_m,
        location_words=d.location_words,
    )
    for words in (d.location_words, *(m.place for m in d.mounds)):
        if words:
            locate(hole, words)
    heights, doubt = described_heights(d, hole, x, y)
    return replace(hole, ground=ground_of(x, y, surfaces, heights), doubt=doubt)


def _green(d: Described) -> shapely.Polygon:
    """Outline with its front-most point at depth zero."""
    if d.outline:
        drawn = shapely.Polygon(d.outline)
        if not drawn.is_valid or drawn.area < 1.0:
            raise BadInputError("the outline crosses itself, or holds nothing; go round it once")
        return shapely.transform(drawn, lambda p: p - (drawn.bounds[0], 0.0))
    turn = np.linspace(0.0, 2.0 * np.pi, _CORNERS, endpoint=False)
    c, s = np.cos(turn), np.sin(turn)
    x = 0.5 * d.deep_m * (1.0 + np.sign(c) * np.abs(c) ** (2.0 / _POWER))
    y = 0.5 * d.wide_m * np.sign(s) * np.abs(s) ** (2.0 / _POWER)
    return shapely.Polygon(np.column_stack([x, y]))


def _areas(d: Described, green: shapely.Polygon) -> Iterator[Area]:
    front, right, back, left = green.bounds
    if d.around == "fairway":
        yield "fairway", shapely.box(-_FAR, -_FAR, _FAR, _FAR)
    if d.fairway_m:
        half, middle = 0.5 * d.fairway_m, 0.5 * (left + right)
        yield "fairway", shapely.box(-_FAR, middle - half, 0.5 * (front + back), middle + half)
    for run_off in d.run_offs:
        yield run_off.surface, _run_off_area(run_off, green)
    for trouble in d.troubles:
        yield trouble.kind, _band(trouble, green) if trouble.band else _patch(trouble, green)


def _run_off_area(run_off: RunOff, green: shapely.Polygon) -> shapely.Polygon:
    """The part of the ring around the green that lies on that side."""
    front, right, back, left = green.bounds
    turn = np.arctan2(run_off.side[1], run_off.side[0]) + np.linspace(-_WEDGE, _WEDGE, 9)
    middle = np.array([(front + back) / 2.0, (left + right) / 2.0])
    size = 3.0 * np.array([back - front, left - right]) + run_off.over_m
    rays = middle + size * np.column_stack([np.cos(turn), np.sin(turn)])
    ring = green.buffer(run_off.over_m) - green
    part = shapely.Polygon([middle, *rays]) & ring
    return max(shapely.get_parts(part), key=lambda p: p.area, default=shapely.Polygon())


def _band(t: Trouble, green: shapely.Polygon) -> shapely.Polygon:
    """Everything beyond a line across or along the approach, or a strip of it."""
    front, right, back, left = green.bounds
    away = t.away_m or _FAR
    if t.side[0] > 0.0:
        return shapely.box(back + t.off_m, right - _FAR, back + t.off_m + away, left + _FAR)
    if t.side[0] < 0.0:
        return shapely.box(front - t.off_m - away, right - _FAR, front - t.off_m, left + _FAR)
    if t.side[1] > 0.0:
        return shapely.box(-_FAR, left + t.off_m, _FAR, left + t.off_m + away)
    return shapely.box(-_FAR, right - t.off_m - away, _FAR, right - t.off_m)


def _patch(t: Trouble, green: shapely.Polygon) -> shapely.Polygon:
    """A rounded patch outside the edge of the green, its longer side along the edge."""
    edge, out = _edge(t, green)
    middle = edge + out * (t.off_m + 0.5 * t.away_m)
    patch = _ellipse(middle, out, t)
    for _ in range(4):  # where the edge bends the nearest point is another than the one looked at
        middle = middle + out * (t.off_m - patch.distance(green))
        patch = _ellipse(middle, out, t)
    return patch


def _ellipse(middle: Floats, out: Floats, t: Trouble) -> shapely.Polygon:
    turn = np.linspace(0.0, 2.0 * np.pi, 36, endpoint=False)[:, None]
    along = np.array([-out[1], out[0]])
    ring = 0.5 * t.away_m * np.cos(turn) * out + 0.5 * t.along_m * np.sin(turn) * along
    return shapely.Polygon(middle + ring)


def _edge(t: Trouble, green: shapely.Polygon) -> tuple[Floats, Floats]:
    """Point of the edge that the words mean, and the direction straight out of it."""
    front, right, back, left = green.bounds
    size = np.array([back - front, left - right])
    middle = np.array([front, right]) + 0.5 * size
    way = np.array(t.side)
    if t.on_m is not None:
        if t.side[0] or not front < front + t.on_m < back:
            deep = f"{(back - front) / YARD:.0f} paces"
            raise BadInputError(
                f"a place 'N on' needs left or right, and a depth on the green ({deep} deep)"
            )
        middle[0] = front + t.on_m
    far = middle + 2.0 * way * size
    cut = green.exterior.intersection(shapely.LineString([middle, far]))
    points = shapely.get_coordinates(cut)
    if not len(points):
        raise BadInputError("that side of the green is not where its outline is; check the outline")
    edge = points[np.argmax(((points - middle) ** 2).sum(axis=1))]
    return edge, _outward(green, edge, way)


def _outward(green: shapely.Polygon, edge: Floats, way: Floats) -> Floats:
    """Direction straight out of the edge, seen over some metres of it."""
    ring = green.exterior
    at, reach = ring.project(shapely.Point(edge)), min(4.0, 0.05 * ring.length)
    ends = [ring.interpolate((at + d) % ring.length) for d in (-reach, reach)]
    along = np.array([ends[1].x - ends[0].x, ends[1].y - ends[0].y])
    out = np.array([along[1], -along[0]]) / max(float(np.hypot(*along)), 1e-9)
    return out if out @ way >= 0.0 else -out
