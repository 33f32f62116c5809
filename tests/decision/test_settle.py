"""The last yard: a paraboloid through noisy costs, and where a shot is landed by it."""

from collections.abc import Callable

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.decision.advice import Situation
from carrybook.decision.candidates import Spot, build, world_of
from carrybook.decision.select import fewest_strokes, play
from carrybook.decision.settle import lowest_point, settle
from carrybook.outcomes.draws import draw
from carrybook.player.summary import ShotSummary

NET = np.array([(p, r) for p in (-2.0, 0.0, 2.0) for r in (-2.0, 0.0, 2.0)])


def bowl(spots: np.ndarray, past: float, right: float) -> np.ndarray:
    u, v = (spots - (past, right)).T
    return 2.7 + 0.02 * u * u + 0.03 * v * v + 0.01 * u * v


@pytest.mark.parametrize(("past", "right"), [(0.0, 0.0), (0.7, -1.1), (-1.9, 0.4)])
def test_the_lowest_point_of_a_bowl_is_found_between_the_spots(past: float, right: float) -> None:
    assert lowest_point(NET, bowl(NET, past, right)) == pytest.approx((past, right), abs=1e-9)


def test_the_net_may_lie_anywhere() -> None:
    moved = NET + np.array([30.0, -8.0])
    assert lowest_point(moved, bowl(moved, 30.5, -8.5)) == pytest.approx((30.5, -8.5), abs=1e-9)


def test_a_bowl_beyond_the_spots_is_lowest_on_their_edge() -> None:
    past, right = lowest_point(NET, bowl(NET, 9.0, 0.0))
    assert past == pytest.approx(2.0)
    edge = np.array([(2.0, r) for r in np.linspace(-2.0, 2.0, 401)])
    assert right == pytest.approx(edge[bowl(edge, 9.0, 0.0).argmin(), 1], abs=0.01)


def test_noise_moves_the_lowest_point_less_than_the_cheapest_spot() -> None:
    rng = np.random.default_rng(3)
    fitted, cheapest = [], []
    for _ in range(200):
        costs = bowl(NET, 0.3, 0.2) + 0.02 * rng.standard_normal(len(NET))
        fitted.append(bowl(np.array([lowest_point(NET, costs)]), 0.3, 0.2)[0])
        cheapest.append(bowl(NET[[costs.argmin()]], 0.3, 0.2)[0])
    assert np.mean(fitted) < np.mean(cheapest)


@pytest.mark.parametrize("costs", [-bowl(NET, 0.0, 0.0), NET[:, 0] * NET[:, 1]])
def test_what_does_not_curve_up_gives_the_cheapest_spot(costs: np.ndarray) -> None:
    assert lowest_point(NET, costs) == tuple(NET[costs.argmin()])


def test_too_few_spots_give_the_cheapest() -> None:
    assert lowest_point(NET[:4], bowl(NET[:4], 0.0, 0.0)) == tuple(NET[1])


def test_it_settles_where_many_more_balls_say_it_is_best(
    situation: Callable[..., Situation], bag: tuple[ShotSummary, ...]
) -> None:
    s, again = situation(85.0, (15.0, 3.0), water_left_of=9.0), 2.8
    world, shot = world_of(s), bag[1]
    start = build(world, s, shot, [Spot(-2.5 * YARD, 4.0 * YARD)])[0]
    rng = np.random.default_rng(1)
    found = settle(world, s, start, (draw(rng, 256), draw(rng, 768)), again, fewest_strokes)
    net = [Spot(p * YARD, r * YARD) for p in range(-6, 3) for r in range(-1, 9)]
    tried = [found.best, start, *build(world, s, shot, net)]
    many = play(world, tried, draw(np.random.default_rng(9), 4000), again).finish.strokes
    means = many.mean(axis=1)
    assert means[0] < means.min() + 0.01
    assert found.best.summary is shot
    assert len(found.near) == 9


def test_at_the_end_of_a_reach_it_stays_within_it(
    situation: Callable[..., Situation], bag: tuple[ShotSummary, ...]
) -> None:
    longest = bag[0].shot.longest_m
    s = situation(longest / YARD + 2.0)
    world = world_of(s)
    start = build(world, s, bag[0], [Spot(-3.0 * YARD, 0.0)])[0]
    rng = np.random.default_rng(1)
    found = settle(world, s, start, (draw(rng, 128), draw(rng, 256)), 2.8, fewest_strokes)
    assert start.feel_m - 5.0 * YARD < found.best.feel_m <= longest
