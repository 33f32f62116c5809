"""A putting map of a 600 m2 green: seconds, and how far it is from rolling putts one by one."""

from collections.abc import Iterator
from pathlib import Path

import numpy as np

import carrybook.app
from benchmarks.timing import best_of
from carrybook.base.constants import FOOT
from carrybook.base.numerics import Floats
from carrybook.outcomes.off_green import FROM_FRINGE, strokes_off_green
from carrybook.outcomes.putting_map import PuttingMap, build_map, surface_of
from carrybook.physics.putt import capture_offsets, putt_kernel, resistance_row, roll_numbers
from carrybook.world.ground import Ground, Surface, flat_ground
from carrybook.world.hole_map import read_hole
from carrybook.world.locate import locate

DATA = Path(carrybook.app.__file__).parent / "demo_data"
STIMP = 11.0 * FOOT
POINTS = 60
PUTTS = 3000


def lines() -> Iterator[str]:
    """Measure and say."""
    ground, hole = tiered()
    for step in (0.5, 1.0, 2.0):
        seconds = best_of(lambda step=step: build_map(ground, hole, stimp_m=STIMP, step=step), 3)
        chart = build_map(ground, hole, stimp_m=STIMP, step=step)
        area = (chart.solved.sum() * step**2).item()
        yield f"putting map, {area:.0f} m2 at {step} m: {seconds:.2f} s"
    chart = build_map(ground, hole, stimp_m=STIMP)
    yield from (f"  {name}: {line}" for name, line in errors(chart, "two tiers"))
    level = build_map(flat_ground(), (0.0, 0.0), stimp_m=STIMP, box=(-12.0, -12.0, 12.0, 12.0))
    yield from (f"  {name}: {line}" for name, line in errors(level, "level"))


def tiered() -> tuple[Ground, tuple[float, float]]:
    """Hole 4 of the demo, cut up on its back shelf."""
    hole = read_hole(DATA / "venue.geojson", "4", DATA / "heights.csv")
    location = locate(hole, "27 on, 9 from the left")
    return hole.ground, (location.x, location.y)


def errors(chart: PuttingMap, name: str, seed: int = 1) -> Iterator[tuple[str, str]]:
    """Say how far chance and putts are from rolling each aim out many times."""
    rng = np.random.default_rng(seed)
    nodes = rng.permutation(np.argwhere(chart.solved))[:POINTS]
    made, putts = np.array([brute(chart, int(i), int(j), rng) for i, j in nodes]).T
    i, j = nodes.T
    sampling = np.sqrt(np.maximum(made * (1.0 - made), 1e-4) / PUTTS)
    for what, error in (
        ("holing [points]", 100.0 * (chart.make[i, j] - made)),
        ("putts", chart.putts[i, j] - putts),
    ):
        share = np.percentile(np.abs(error), [50, 90])
        yield (
            name,
            f"{what}: mean {error.mean():+.3f}, half within {share[0]:.3f}, nine in ten"
            f" {share[1]:.3f}, largest {np.abs(error).max():.3f}",
        )
    yield name, f"sampling error of the holing itself: {100.0 * sampling.mean():.2f} points"


def brute(chart: PuttingMap, i: int, j: int, rng: np.random.Generator) -> tuple[float, float]:
    """Chance of holing and expected putts of one aim, by rolling it with its errors."""
    x, y = chart.x0 + chart.step * i, chart.y0 + chart.step * j
    direction, pace, _, floor = chart.putter.row()
    reach = chart.reach_m[i, j]
    ways = chart.line_rad[i, j] + direction * rng.standard_normal(PUTTS)
    reaches = reach + pace * np.hypot(reach, floor) * rng.standard_normal(PUTTS)
    rolls = roll(chart, x, y, ways, np.maximum(reaches, 1e-3))
    speed = np.sqrt(2.0 * np.maximum(rolls[:, 1], 0.0))
    limit = np.interp(speed, np.linspace(0.0, 1.63, 256), capture_offsets(), right=0.0)
    rim = -np.pi / 4.0 * 0.054 * roll_numbers(chart.stimp_m)[4]
    holed = (np.abs(rolls[:, 0]) < limit) & (rolls[:, 1] > rim)
    sx, sy = np.ascontiguousarray(rolls[:, 2]), np.ascontiguousarray(rolls[:, 3])
    far = np.hypot(sx - chart.hole[0], sy - chart.hole[1])
    off = strokes_off_green(surface_of(chart.ground, sx, sy), far)
    left = np.where(np.isnan(off), chart.putts_at(sx, sy), off)
    fringe = chart.ground.surface_at(x, y) is Surface.FRINGE
    return float(holed.mean()), 1.0 + float(
        np.where(holed, 0.0, left).mean()
    ) + FROM_FRINGE * fringe


def roll(chart: PuttingMap, x: float, y: float, ways: Floats, reaches: Floats) -> Floats:
    """Roll putts one by one: columns of :class:`carrybook.physics.putt.Rolled`."""
    g, numbers, resist = chart.ground, roll_numbers(chart.stimp_m), resistance_row(chart.stimp_m)
    net = (g.heights, g.surfaces, g.x0, g.y0, g.step)
    return np.array([
        putt_kernel(x, y, w, r, *chart.hole, numbers, resist, *net)
        for w, r in zip(ways, reaches, strict=True)
    ])  # fmt: skip


if __name__ == "__main__":
    for said in lines():
        print(said, flush=True)
