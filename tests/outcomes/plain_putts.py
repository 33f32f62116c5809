"""Putts rolled the plain way, as a check: tiny equal steps, no net, the cup step by step."""

import numpy as np

from carrybook.base import constants as c
from carrybook.base.numerics import Floats, Ints, kernel
from carrybook.outcomes.off_green import strokes_off_green
from carrybook.outcomes.putting_map import PuttingMap, surface_of
from carrybook.physics.cup import CENTRE_SPEED
from carrybook.physics.putt import resistance_row
from carrybook.physics.terrain import height_and_slope, surface_code


def played(
    chart: PuttingMap, i: int, j: int, n: int, rng: np.random.Generator
) -> tuple[float, float]:
    """Share holed and mean putts of `n` putts with errors, aimed as the map says at a node."""
    start = chart.x0 + chart.step * i, chart.y0 + chart.step * j
    direction, pace, _, floor = chart.putter.row()
    reach = float(chart.reach_m[i, j])
    lines = chart.line_rad[i, j] + direction * rng.standard_normal(n)
    reaches = np.maximum(reach + pace * np.hypot(reach, floor) * rng.standard_normal(n), 1e-3)
    ends = np.empty((n, 3))
    g, resist = chart.ground, resistance_row(chart.stimp_m)
    _roll(
        start[0], start[1], lines, np.sqrt(2.0 * resist[0] * reaches), chart.hole[0], chart.hole[1],
        c.HOLE_RADIUS, CENTRE_SPEED, c.GRAVITY, 0.004, resist, g.heights, g.surfaces, g.x0, g.y0,
        g.step, ends,
    )  # fmt: skip
    x, y, holed = ends[:, 0].copy(), ends[:, 1].copy(), ends[:, 2] == 1.0
    far = np.hypot(x - chart.hole[0], y - chart.hole[1])
    off = strokes_off_green(surface_of(g, x, y), far)
    left = np.where(np.isnan(off), chart.putts_at(x, y), off)
    return float(holed.mean()), 1.0 + float(np.where(holed, 0.0, left).mean())


@kernel
def _roll(
    start_x: float,
    start_y: float,
    lines: Floats,
    speeds: Floats,
    hole_x: float,
    hole_y: float,
    radius: float,
    centre: float,
    gravity: float,
    dt: float,
    resistances: Floats,
    heights: Floats,
    surfaces: Ints,
    x0: float,
    y0: float,
    step: float,
    ends: Floats,
) -> None:
    """Where each putt ends, and whether it dropped: the fit 1.63 (1 - (d / R)^2) at each step."""
    for n in range(lines.shape[0]):
        x, y, holed = start_x, start_y, 0.0
        vx, vy = speeds[n] * np.cos(lines[n]), speeds[n] * np.sin(lines[n])
        nearest, fast = 1e9, 0.0
        for _ in range(10000):
            resist = resistances[surface_code(x, y, surfaces, x0, y0, step)]
            _, gx, gy = height_and_slope(x, y, heights, x0, y0, step)
            pull = -5.0 / 7.0 * gravity / (1.0 + gx * gx + gy * gy)
            speed = np.sqrt(vx * vx + vy * vy)
            force = abs(pull) * np.sqrt(gx * gx + gy * gy)
            if speed < 0.006 and force < resist:
                break
            share = min(resist * dt / (speed + 1e-12), 1.0)
            vx, vy = vx * (1.0 - share) + pull * gx * dt, vy * (1.0 - share) + pull * gy * dt
            x, y = x + dt * vx, y + dt * vy
            away = np.sqrt((x - hole_x) ** 2 + (y - hole_y) ** 2)
            if away < nearest:
                nearest, fast = away, np.sqrt(vx * vx + vy * vy)
            elif nearest < radius:
                if fast < centre * (1.0 - (nearest / radius) ** 2):
                    holed = 1.0
                    break
                nearest, fast = 0.0, 9.0  # over the hole and on: what comes back does not count
        if nearest < radius and fast < centre * (1.0 - (nearest / radius) ** 2):
            holed = 1.0
        ends[n, 0], ends[n, 1], ends[n, 2] = x, y, holed
