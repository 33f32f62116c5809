"""Heights of a described green, and how far they may be wrong.

Each fact adds a smooth piece of its own: the sum is continuous in slope.
"""

from dataclasses import replace
from math import pi

import numpy as np
import shapely

from carrybook.base.constants import YARD
from carrybook.base.numerics import Floats
from carrybook.world.blend import ramp, run_out, settled, smooth_step
from carrybook.world.description import Described, FalseFront, Mound, RunOff, Tier
from carrybook.world.hole import Hole
from carrybook.world.locate import locate
from carrybook.world.shape import HeightDoubt

__all__ = ["described_heights"]

# All ours.
_TILT_SE = 0.005  # people say slopes in whole per cent
_FEATURE_SE = 0.2  # of the rise, and of the slope, that a feature adds
_APRON = 2.0  # m beyond the green before a tilt begins to level out
_PART_EDGE = 4.0 * YARD  # over which a tier of half the width fades into the other half
_FRONT_APRON = 3.0  # m that a false front runs on beyond the edge
_BEND = 0.6  # m from the edge to where a run-off begins to fall in earnest
_SECTOR = (np.cos(np.radians(65.0)), np.cos(np.radians(35.0)))  # where a run-off is none, is all


def described_heights(d: Described, hole: Hole, x: Floats, y: Floats) -> tuple[Floats, HeightDoubt]:
    """Heights at the nodes of a net, with their standard errors.

    Parameters
    ----------
    d : Described
        What was said.
    hole : Hole
        The hole it draws, still level.
    x, y : ndarray, shape (nx,), (ny,)
        The nodes. [m]
    """
    green = shapely.Polygon(hole.green)
    front, right, back, left = green.bounds
    near_x, near_y = settled(x, y, (front, right, back, left), _APRON)
    tilt = d.slope[0] * near_x + d.slope[1] * near_y
    features = np.zeros((x.size, y.size))
    for tier in d.tiers:
        features += _tier(_added(tier, d.slope), (front, right, left), near_x, near_y)
    if d.false_front is not None:
        features += _false_front(d.false_front, d.slope[0], front, near_x)
    for mound in d.mounds:
        features += _mound(mound, hole, x, y)
    for run_off in d.run_offs:
        features += _run_off(run_off, green, x, y)
    return tilt + features, _doubt(near_x, near_y, features, x, y)


def _doubt(near_x: Floats, near_y: Floats, features: Floats, x: Floats, y: Floats) -> HeightDoubt:
    base = features[np.argmin(np.abs(x)), np.argmin(np.abs(y))]
    height = np.hypot(_TILT_SE * np.hypot(near_x, near_y), _FEATURE_SE * (features - base))
    rise_x, rise_y = np.gradient(features, x, y)
    return HeightDoubt(height, np.hypot(_TILT_SE, _FEATURE_SE * np.hypot(rise_x, rise_y)))


def _added(t: Tier, tilt: tuple[float, float]) -> Tier:
    """The tier without what the tilt does over its face: a rise is told as it is measured there."""
    along = {"": tilt[0], "left": tilt[1], "right": -tilt[1]}[t.side]
    return replace(t, rise_m=t.rise_m - along * t.over_m)


def _tier(t: Tier, edges: tuple[float, float, float], x: Floats, y: Floats) -> Floats:
    front, right, left = edges
    inward = left - y if "left" in (t.side, t.part) else y - right
    if t.side:
        return t.rise_m * ramp((t.at_m - inward) / t.over_m)
    face = t.rise_m * ramp((x - front - t.at_m) / t.over_m)
    if not t.part:
        return face
    return face * smooth_step(0.5 + (t.share * (left - right) - inward) / _PART_EDGE)


def _false_front(f: FalseFront, tilt: float, front: float, x: Floats) -> Floats:
    """What a false front adds to the tilt, so that both together have its slope."""
    extra = max(0.0, f.slope - tilt)
    reach = f.deep_m + _FRONT_APRON
    return np.asarray(-extra * run_out(front + f.deep_m - x, reach))


def _mound(m: Mound, hole: Hole, x: Floats, y: Floats) -> Floats:
    place = locate(hole, m.place)
    distance = np.hypot(x[:, None] - place.x, y[None, :] - place.y)
    share = np.minimum(2.0 * distance / m.across_m, 1.0)
    return np.asarray(m.high_m * np.cos(0.5 * pi * share) ** 2)


def _run_off(r: RunOff, green: shapely.Polygon, x: Floats, y: Floats) -> Floats:
    """Let the ground fall away outside the edge on one side; from there on it stays low."""
    front, right, back, left = green.bounds
    middle_x, middle_y = 0.5 * (front + back), 0.5 * (left + right)
    way_x = ((x - middle_x) / (0.5 * (back - front)))[:, None]
    way_y = ((y - middle_y) / (0.5 * (left - right)))[None, :]
    cosine = (way_x * r.side[0] + way_y * r.side[1]) / np.maximum(np.hypot(way_x, way_y), 1e-9)
    inside = smooth_step((cosine - _SECTOR[0]) / (_SECTOR[1] - _SECTOR[0]))
    reach = r.over_m + 4.0 * _BEND  # farther out it has fallen as far as it will
    outside = np.full(cosine.shape, reach)
    i = slice(*np.searchsorted(x, (front - reach, back + reach)))
    j = slice(*np.searchsorted(y, (right - reach, left + reach)))
    outside[i, j] = shapely.distance(green, shapely.points(*np.meshgrid(x[i], y[j], indexing="ij")))
    return -r.drop_m / r.over_m * run_out(outside - _BEND, r.over_m) * inside
