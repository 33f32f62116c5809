"""What a finish costs: putts, baseline, penalty, stroke and distance, the hole itself."""

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.base.numerics import Floats
from carrybook.outcomes.baseline import strokes_from
from carrybook.outcomes.putting import expected_putts
from carrybook.outcomes.putting_map import build_map
from carrybook.outcomes.strokes import finish_of
from carrybook.physics.shot import END_ROW, End
from carrybook.world.ground import Ground, Surface, flat_ground
from carrybook.world.lie import Lie

HOLE = (0.0, 0.0)


def end(x: float, y: float, code: End = End.REST, dry: tuple[float, float] = (0.0, 0.0)) -> Floats:
    row = dict.fromkeys(END_ROW, 0.0) | dict(x=x, y=y, code=float(code), dry_x=dry[0], dry_y=dry[1])
    return np.array([[row[name] for name in END_ROW]])


def cost(row: Floats, ground: Ground, again: float = 2.8) -> float:
    return float(finish_of(row, ground, HOLE, again=again).strokes[0])


@pytest.mark.parametrize(
    ("surface", "lie"),
    [(Surface.FAIRWAY, Lie.FAIRWAY), (Surface.ROUGH, Lie.LIGHT_ROUGH), (Surface.BUNKER, Lie.SAND)],
)
def test_off_the_green_the_baseline_counts(surface: Surface, lie: Lie) -> None:
    wanted = 1.0 + strokes_from(lie, np.array([15.0]))[0]
    assert cost(end(-15.0, 0.0), flat_ground(surface)) == pytest.approx(wanted)


def test_on_the_green_putts_count_and_fringe_costs_a_little_more() -> None:
    putts = 1.0 + expected_putts(np.array([5.0]))[0]
    assert cost(end(3.0, 4.0), flat_ground(Surface.GREEN)) == pytest.approx(putts)
    assert putts < cost(end(3.0, 4.0), flat_ground(Surface.FRINGE)) < putts + 0.1


def test_with_a_map_the_slopes_of_the_green_count() -> None:
    ground = flat_ground(slope_y=0.025)
    chart = build_map(ground, HOLE, stimp_m=3.3, step=1.5, box=(-6.0, -6.0, 6.0, 6.0))
    rows = np.concatenate([end(-4.0, 0.0), end(0.0, -4.0)])
    mapped = finish_of(rows, ground, HOLE, again=2.8, chart=chart).strokes
    x, y = rows[:, 0].copy(), rows[:, 1].copy()
    assert mapped == pytest.approx(1.0 + chart.putts_at(x, y))
    plain = finish_of(rows, ground, HOLE, again=2.8).strokes
    assert plain[0] == pytest.approx(plain[1])
    assert mapped[0] > plain[0] + 0.02  # a putt across the slope is harder than a level one


def test_the_hole_costs_one() -> None:
    finish = finish_of(end(0.0, 0.0, End.HOLED), flat_ground(), HOLE, again=2.8)
    assert (finish.strokes[0], finish.distance[0], bool(finish.holed[0])) == (1.0, 0.0, True)


def test_water_costs_a_penalty_and_is_dropped_at_the_edge_it_crossed() -> None:
    ground = flat_ground(Surface.ROUGH)
    ground.surfaces[:, ground.surfaces.shape[1] // 2 + 10 :] = int(Surface.WATER)  # y from 9.5 m on
    splash = end(-4.0, 30.0, End.WATER, dry=(-40.0, -6.0))
    finish = finish_of(splash, ground, HOLE, again=2.8)
    crossing = np.hypot(-4.0 - (30.0 - 9.5), 9.5)
    assert finish.distance[0] == pytest.approx(crossing, abs=0.3)
    wanted = 2.0 + strokes_from(Lie.LIGHT_ROUGH, finish.distance)[0]
    assert finish.strokes[0] == pytest.approx(wanted)


def test_out_of_bounds_is_stroke_and_distance() -> None:
    assert cost(end(5.0, 5.0), flat_ground(Surface.OUT_OF_BOUNDS), again=2.85) == pytest.approx(
        4.85
    )
    assert cost(end(5.0, 5.0, End.ALOFT), flat_ground(), again=2.85) == pytest.approx(4.85)


def test_finishes_keep_the_shape_they_came_in() -> None:
    rows = np.broadcast_to(end(-3.0 * YARD, 0.0), (4, 7, 9)).copy()
    finish = finish_of(rows, flat_ground(), HOLE, again=2.8)
    assert finish.strokes.shape == finish.surface.shape == finish.distance.shape == (4, 7)
