"""The putting map against tour putts, closed forms, symmetries and putts rolled one by one."""

import inspect
import types
from dataclasses import replace

import numpy as np
import pytest
from tests.outcomes.plain_putts import played
from tests.outcomes.test_putting import AVERAGES, BINS

from carrybook.base.constants import FOOT
from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.base.numerics import Floats
from carrybook.outcomes import putt_aims, putt_rolls
from carrybook.outcomes.level_putts import level_putts
from carrybook.outcomes.off_green import FROM_FRINGE, strokes_off_green
from carrybook.outcomes.putt_rolls import COLUMNS, ERROR_ROW, ROWS
from carrybook.outcomes.putter import MID, PUTTERS, SCRATCH, TOUR_PUTTER, Putter
from carrybook.outcomes.putting_map import (
    PuttingMap,
    build_map,
    kept_map,
    solve_points,
    surface_of,
)
from carrybook.world.ground import Ground, Surface, flat_ground

STIMP = 11.0 * FOOT  # about what tour greens run; ours
BOX = (-7.0, -7.0, 7.0, 7.0)
PLANE = dict(stimp_m=10.0 * FOOT, step=1.0, box=BOX)


def tiers() -> Ground:
    """A green of two tiers with a fringe and rough round it: half a metre up over three."""
    x, y = np.meshgrid(np.arange(-12.0, 14.1, 0.5), np.arange(-11.0, 11.1, 0.5), indexing="ij")
    heights = 0.5 / (1.0 + np.exp(-(x + 2.0) / 0.7)) + 0.012 * y
    away = np.hypot(x / 10.0, y / 8.0)
    surfaces = np.where(
        away < 1.0, Surface.GREEN, np.where(away < 1.1, Surface.FRINGE, Surface.ROUGH)
    )
    return Ground(-12.0, -11.0, 0.5, heights, surfaces.astype(np.int64))


@pytest.fixture(scope="module")
def tiered() -> PuttingMap:
    return build_map(tiers(), (4.0, 1.0), stimp_m=STIMP)


@pytest.fixture(scope="module")
def slope() -> PuttingMap:
    """Two per cent up along x."""
    return build_map(flat_ground(slope_x=0.02), (0.0, 0.0), **PLANE)


def _axes(chart: PuttingMap) -> tuple[Floats, Floats]:
    nx, ny = chart.solved.shape
    return chart.x0 + chart.step * np.arange(nx), chart.y0 + chart.step * np.arange(ny)


def aims_of(chart: PuttingMap, x: Floats, y: Floats) -> tuple[Floats, Floats]:
    """Start lines left of the straight ones, and chances."""
    aims = solve_points(chart, x, y).aims
    turn = aims.line - np.arctan2(chart.hole[1] - y, chart.hole[0] - x)
    return turn - 2.0 * np.pi * np.round(turn / (2.0 * np.pi)), aims.make


def test_one_pair_of_errors_meets_a_million_tour_putts() -> None:
    feet, tried, holed = BINS.T
    level = level_putts(TOUR_PUTTER, STIMP)
    misses = level.at(level.make, feet * FOOT) - holed / tried
    assert np.abs(misses).max() < 0.011
    assert np.average(np.abs(misses), weights=tried) < 0.005


@pytest.mark.parametrize(("feet", "putts"), AVERAGES.items())
def test_average_putts_come_out_without_being_fitted_alone(feet: int, putts: float) -> None:
    """broadie-2014, from memory. Ours needs a little more from 20 ft on: 0.04 at most."""
    level = level_putts(TOUR_PUTTER, STIMP)
    assert level.at(level.putts, np.array([feet * FOOT]))[0] == pytest.approx(putts, abs=0.045)


def test_level_putts_are_monotone_and_begin_at_one() -> None:
    level = level_putts(TOUR_PUTTER, STIMP)
    assert level.putts[0] == level.make[0] == 1.0
    assert np.all(np.diff(level.putts[:600]) > -2e-4)
    assert np.all(np.diff(level.make[:600]) < 2e-4)


def test_a_player_scoring_ninety_holes_half_from_five_feet() -> None:
    """broadie-2014 as quoted: 50 % at 5 ft."""
    level = level_putts(MID, 10.0 * FOOT)
    assert level.at(level.make, np.array([5.0 * FOOT]))[0] == pytest.approx(0.5, abs=0.03)


@pytest.mark.parametrize("name", ["direction_rad", "pace"])
def test_smaller_errors_never_cost_putts(tiered: PuttingMap, name: str) -> None:
    better = replace(TOUR_PUTTER, **{name: 0.7 * getattr(TOUR_PUTTER, name)})
    ours = build_map(tiers(), (4.0, 1.0), stimp_m=STIMP, putter=better, step=1.5)
    theirs = build_map(tiers(), (4.0, 1.0), stimp_m=STIMP, step=1.5)
    assert np.all(ours.putts[ours.solved] < theirs.putts[ours.solved] + 2e-3)
    assert ours.putts[ours.solved].mean() < theirs.putts[ours.solved].mean() - 0.02


def test_reading_errors_cost_where_there_is_something_to_read(slope: PuttingMap) -> None:
    blind = replace(slope, putter=replace(TOUR_PUTTER, reading=0.3))
    across, along = (np.array([0.0, -3.0]), np.array([-3.0, 0.0]))
    seen, misread = (solve_points(c, across, along).aims.make for c in (slope, blind))
    assert np.all(misread < seen - 0.004)
    level = build_map(flat_ground(), (0.0, 0.0), **PLANE)
    blind = replace(level, putter=replace(TOUR_PUTTER, reading=0.3))
    same = [solve_points(c, across, along).aims.make for c in (level, blind)]
    assert same[0] == pytest.approx(same[1], abs=1e-6)


def test_straight_up_and_down_there_is_no_break(slope: PuttingMap) -> None:
    turn, _ = aims_of(slope, np.array([-4.0, 4.0]), np.zeros(2))
    assert turn == pytest.approx([0.0, 0.0], abs=2e-4)


def test_the_aim_mirrors(slope: PuttingMap) -> None:
    y = np.array([1.0, 2.5, 4.0])
    left, made = aims_of(slope, np.full(3, -1.0), y)
    right, same = aims_of(slope, np.full(3, -1.0), -y)
    assert left == pytest.approx(-right, abs=1e-4)
    assert made == pytest.approx(same, abs=1e-4)
    assert np.all(np.abs(left) > 0.02)


def test_putts_from_above_need_more_aim(slope: PuttingMap) -> None:
    x, y = np.array([2.1, -2.1]), np.full(2, 2.1)
    turn, _ = aims_of(slope, x, y)
    assert abs(turn[0]) > 1.2 * abs(turn[1])


def test_down_the_fall_line_errors_of_line_shrink_and_up_it_they_grow(slope: PuttingMap) -> None:
    """Down the slope gravity keeps the ball going while friction eats what goes aside."""
    nets = solve_points(slope, np.array([-3.0, 3.0]), np.zeros(2)).nets
    up, down = (nets.left - nets.right)[:, 4]  # width of the lines that drop, at like energy
    assert down > 1.2 * up


def test_equidistant_putts_share_a_target_point(slope: PuttingMap) -> None:
    """grober-2011: on a plane, start lines within 30 deg of the fall line meet at one point."""
    angle = np.radians([-30.0, -20.0, -10.0, 10.0, 20.0, 30.0])
    for side in (-1.0, 1.0):  # from below the hole, and from above
        x, y = side * 3.0 * np.cos(angle), 3.0 * np.sin(angle)
        turn, _ = aims_of(slope, x, y)
        line = np.arctan2(-y, -x) + turn
        meets = x - y / np.tan(line)  # where a start line crosses the fall line
        assert meets.mean() > 0.1  # above the hole
        assert np.ptp(meets) < 0.25 * meets.mean() + 0.03


def test_a_level_map_is_the_level_table() -> None:
    chart = build_map(flat_ground(), (0.3, -0.2), **PLANE)
    x, y = np.meshgrid(np.linspace(-6.0, 6.0, 9), np.linspace(-6.0, 6.0, 9))
    far = np.hypot(x - 0.3, y + 0.2)
    level = chart.level
    assert chart.putts_at(x, y) == pytest.approx(level.at(level.putts, far), abs=0.01)
    assert chart.make_at(x, y) == pytest.approx(level.at(level.make, far), abs=0.01)


def test_holing_and_putts_agree_with_putts_rolled_one_by_one(tiered: PuttingMap) -> None:
    rng = np.random.default_rng(7)
    green = surface_of(tiered.ground, *np.moveaxis(nodes(tiered), -1, 0)) == Surface.GREEN
    chosen = rng.permutation(np.argwhere(tiered.solved & green))[:24]
    n = 3000
    rolled = np.array([played(tiered, int(i), int(j), n, rng) for i, j in chosen])
    i, j = chosen.T
    noise = 3.0 * np.sqrt(np.maximum(rolled[:, 0] * (1.0 - rolled[:, 0]), 1e-4) / n)
    missed = np.abs(tiered.make[i, j] - rolled[:, 0])
    assert np.all(missed < 0.01 + noise), (missed - noise).max()
    assert np.abs(tiered.putts[i, j] - rolled[:, 1]).mean() < 0.02
    assert np.abs(tiered.putts[i, j] - rolled[:, 1]).max() < 0.06


def nodes(chart: PuttingMap) -> Floats:
    i, j = np.indices(chart.solved.shape)
    return np.stack([chart.x0 + chart.step * i, chart.y0 + chart.step * j], axis=-1)


def test_a_coarse_map_says_nearly_the_same(tiered: PuttingMap) -> None:
    coarse = build_map(tiered.ground, tiered.hole, stimp_m=STIMP, step=1.0)
    at = nodes(tiered)[tiered.solved]
    x, y = at[:, 0].copy(), at[:, 1].copy()
    on = surface_of(tiered.ground, x, y) == Surface.GREEN
    differ = np.abs(coarse.putts_at(x, y) - tiered.putts_at(x, y))[on]
    assert differ.mean() < 0.01
    assert np.quantile(differ, 0.95) < 0.04


def test_shapes_and_what_is_not_solved(tiered: PuttingMap) -> None:
    for values in (tiered.line_rad, tiered.reach_m, tiered.make, tiered.putts, tiered.three):
        assert values.shape == tiered.solved.shape
        assert np.array_equal(np.isfinite(values), tiered.solved)
    assert np.all(tiered.putts[tiered.solved] >= 1.0 - 1e-9)
    assert np.all((tiered.three[tiered.solved] >= 0.0) & (tiered.three[tiered.solved] <= 1.0))
    solved = solve_points(tiered, np.array([2.0, 3.0]), np.array([0.0, 1.0]))
    assert solved.nets.stop_x.shape == solved.aims.missed.shape == (2, ROWS, COLUMNS)
    missed = solved.aims.missed.sum(axis=(1, 2))
    assert missed == pytest.approx(1.0 - solved.aims.make, abs=1e-9)


def test_up_the_tier_takes_more_putts_than_along_it(tiered: PuttingMap) -> None:
    below, along = tiered.putts_at(np.array([-5.0, 4.0]), np.array([1.0, -6.0]))
    assert below > along + 0.1


def test_fringe_costs_its_extra(tiered: PuttingMap) -> None:
    surface = surface_of(tiered.ground, *np.moveaxis(nodes(tiered), -1, 0))
    fringe = tiered.solved & (surface == Surface.FRINGE)
    misses = 1.0 - tiered.make[fringe]
    assert np.all(tiered.putts[fringe] > 1.0 + misses + FROM_FRINGE - 1e-6)


def test_what_a_ball_off_the_green_costs() -> None:
    surface = np.array([int(s) for s in Surface])
    strokes = strokes_off_green(surface, np.full(len(surface), 12.0))
    assert np.isnan(strokes[[Surface.GREEN, Surface.FRINGE]]).all()
    assert strokes[Surface.FAIRWAY] < strokes[Surface.ROUGH] < strokes[Surface.BUNKER]
    assert strokes[Surface.WATER] == strokes[Surface.ROUGH] + 1.0


def test_maps_are_kept_by_ground_hole_and_speed() -> None:
    ground = tiers()
    first = kept_map(ground, (4.0, 1.0), stimp_m=STIMP, step=3.0)
    assert kept_map(ground, (4.0, 1.0), stimp_m=STIMP, step=3.0) is first
    assert kept_map(ground, (4.0, 2.0), stimp_m=STIMP, step=3.0) is not first
    assert kept_map(tiers(), (4.0, 1.0), stimp_m=STIMP, step=3.0) is not first


def test_a_kept_map_that_goes_further_serves_as_well() -> None:
    ground = tiers()
    near = kept_map(ground, (4.0, 1.0), stimp_m=STIMP, step=2.0, within_m=6.0)
    assert kept_map(ground, (4.0, 1.0), stimp_m=STIMP, step=2.0, within_m=6.0) is near
    whole = kept_map(ground, (4.0, 1.0), stimp_m=STIMP, step=2.0)  # a near one is too little
    assert whole.solved.sum() > near.solved.sum() > 0
    assert kept_map(ground, (4.0, 1.0), stimp_m=STIMP, step=2.0, within_m=6.0) is whole


def test_a_map_of_what_is_near_says_there_what_the_whole_one_says(tiered: PuttingMap) -> None:
    near = build_map(tiers(), tiered.hole, stimp_m=STIMP, within_m=10.0)
    x, y = (a[near.solved] for a in np.meshgrid(*_axes(near), indexing="ij"))
    off = near.putts_at(x, y) - tiered.putts_at(x, y)
    assert np.sqrt((off * off).mean()) < 0.01
    assert abs(off).max() < 0.1


def test_a_hole_off_the_green_is_refused() -> None:
    with pytest.raises(BadInputError, match="not on a green"):
        build_map(tiers(), (12.5, 0.0), stimp_m=STIMP)


@pytest.mark.parametrize(
    ("direction", "pace", "reading", "what"),
    [(0.0, 0.1, 0.0, "direction"), (0.02, 0.9, 0.0, "pace"), (0.02, 0.1, 1.5, "reading")],
)
def test_a_putter_nobody_is_is_refused(
    direction: float, pace: float, reading: float, what: str
) -> None:
    with pytest.raises(OutOfRangeError, match=what):
        Putter(direction, pace, reading)


def test_players_are_ordered() -> None:
    assert list(PUTTERS.values()) == [TOUR_PUTTER, SCRATCH, MID]
    assert TOUR_PUTTER.pace < SCRATCH.pace < MID.pace
    assert len(TOUR_PUTTER.row()) == len(ERROR_ROW)


def test_kernels_read_no_outside_number() -> None:
    found = [
        thing
        for module in (putt_rolls, putt_aims)
        for thing in vars(module).values()
        if hasattr(thing, "py_func")
    ]
    assert len(found) >= 9
    for thing in found:
        for value in inspect.getclosurevars(thing.py_func).globals.values():
            allowed = isinstance(value, types.BuiltinFunctionType) or hasattr(value, "py_func")
            assert allowed or value is np
