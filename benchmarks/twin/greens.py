"""Invented greens: an oval with a tilt and perhaps a tier, with sand and water beside it."""

from math import radians

import numpy as np

from carrybook.base.constants import FOOT, YARD
from carrybook.base.numerics import Floats
from carrybook.decision.advice import Situation
from carrybook.world.air import Air
from carrybook.world.firmness import TurfKind
from carrybook.world.ground import Ground, Surface
from carrybook.world.hole import Hole, HoleLocation
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import Wind

__all__ = ["some_situation"]

_STEP = 0.5
_NUMBERS = (48.0, 118.0)  # yd, from ball to hole
_TRIES = 500  # places for the hole before a green counts as steep all over


def some_hole(rng: np.random.Generator) -> Hole:
    """Draw a green and what lies around it."""
    depth, width = rng.uniform(24.0, 36.0), rng.uniform(17.0, 28.0)
    x, y = np.arange(-125.0, 75.1, _STEP), np.arange(-45.0, 45.1, _STEP)
    px, py = np.meshgrid(x, y, indexing="ij")
    middle = 0.5 * depth
    oval = ((px - middle) / middle) ** 2 + (py / (0.5 * width)) ** 2
    surfaces = np.full(px.shape, int(Surface.ROUGH), dtype=np.int64)
    surfaces[(np.abs(py) < 14.0) & (px < 2.0)] = int(Surface.FAIRWAY)
    surfaces[oval <= 1.25] = int(Surface.FRINGE)
    for side in (-1.0, 1.0):
        if rng.random() < 0.55:  # a bunker short or beside
            at = rng.uniform(-0.25, 0.9) * depth
            off = side * (rng.uniform(0.05, 0.5) * width if at < 0 else 0.5 * width + 3.5)
            sand = ((px - at) / rng.uniform(3.0, 6.0)) ** 2 + ((py - off) / 4.5) ** 2 <= 1.0
            surfaces[sand & (oval > 1.1)] = int(Surface.BUNKER)
    if rng.random() < 0.35:  # water along a side or in front
        if rng.random() < 0.7:
            side = rng.choice([-1.0, 1.0])
            surfaces[(side * py > 0.5 * width + rng.uniform(2.0, 6.0)) & (px > -40.0)] = int(
                Surface.WATER
            )
        else:
            surfaces[(px < -rng.uniform(2.0, 6.0)) & (px > -25.0)] = int(Surface.WATER)
    surfaces[oval <= 1.0] = int(Surface.GREEN)
    heights = _heights(px, py, depth, rng)
    turn = np.linspace(0.0, 2.0 * np.pi, 72, endpoint=False)
    outline = np.column_stack([middle + middle * np.cos(turn), 0.5 * width * np.sin(turn)])
    ground = Ground(float(x[0]), float(y[0]), _STEP, heights, surfaces)
    return Hole("Twin", "1", 4, ground, outline, (), 0.0)


def _heights(px: Floats, py: Floats, depth: float, rng: np.random.Generator) -> Floats:
    """A tilt of the green, held flat far away, and a tier with a soft ramp on half of them."""
    near = np.clip(px, -6.0, depth + 6.0), np.clip(py, -20.0, 20.0)
    back, across = rng.uniform(0.0, 0.025), rng.normal(0.0, 0.01)
    heights: Floats = back * near[0] + across * near[1]
    if rng.random() < 0.5:
        at, over, rise = rng.uniform(0.4, 0.7) * depth, 2.7, rng.uniform(0.4, 0.7)
        share = np.clip((px - at) / over + 0.5, 0.0, 1.0)
        heights = heights + rise * share * share * (3.0 - 2.0 * share)
    return heights


def some_location(hole: Hole, rng: np.random.Generator) -> HoleLocation | None:
    """Cut the hole at least four metres from the edge, where the ground is not steep.

    None where no such place was found: all of the green is steep.
    """
    half_depth = 0.5 * hole.green[:, 0].max()
    half_width = hole.green[:, 1].max()
    ground = hole.ground
    for _ in range(_TRIES):
        x = rng.uniform(4.0, 2.0 * half_depth - 4.0)
        y = rng.uniform(-half_width + 4.0, half_width - 4.0)
        inside = ((x - half_depth) / (half_depth - 3.7)) ** 2 + (y / (half_width - 3.7)) ** 2
        i = round((x - ground.x0) / ground.step)
        j = round((y - ground.y0) / ground.step)
        h = ground.heights
        fall = np.hypot(h[i + 1, j] - h[i - 1, j], h[i, j + 1] - h[i, j - 1])
        if inside < 1.0 and float(fall) / (2.0 * ground.step) < 0.035:
            break
    else:
        return None
    room = half_width * np.sqrt(max(1.0 - ((x - half_depth) / half_depth) ** 2, 0.0))
    return HoleLocation(x, y, x, room - y, room + y, 2.0 * half_depth - x)


def some_situation(rng: np.random.Generator) -> Situation:
    """Draw a situation as a player would be told it."""
    location = None
    while location is None:
        hole = some_hole(rng)
        location = some_location(hole, rng)
    number = rng.uniform(*_NUMBERS) * YARD
    off = radians(rng.uniform(-6.0, 6.0))
    lie = Lie.FAIRWAY if rng.random() < 0.75 else Lie.LIGHT_ROUGH
    moisture = Moisture.DRY if rng.random() < 0.8 else Moisture.DEW
    blowing = rng.random() < 0.7
    wind = Wind(
        rng.uniform(1.5, 6.5) if blowing else 0.0, radians(rng.uniform(-180.0, 180.0)), 0.03
    )
    return Situation(
        hole=hole,
        location=location,
        ball_x=float(location.x - number * np.cos(off)),
        ball_y=float(location.y - number * np.sin(off)),
        lie=lie,
        moisture=moisture,
        air=Air(rng.uniform(280.0, 302.0), rng.uniform(98e3, 103e3), rng.uniform(0.3, 0.9)),
        wind=wind,
        firmness_g=float(rng.choice([70.0, 90.0, 110.0])),
        firmness_sd_g=10.0,
        stimp_m=float(rng.choice([9.0, 10.0, 11.0])) * FOOT,
        kind=list(TurfKind)[int(rng.integers(len(TurfKind)))],
    )
