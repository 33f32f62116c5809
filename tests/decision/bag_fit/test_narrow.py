"""Which tries are played on: those far behind are not, nothing that may win is given up."""

from collections.abc import Callable

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.narrow import (
    Aimed,
    Tries,
    best_of_clubs,
    narrowed,
    rounds_of,
    tries_from,
    worth_playing_on,
)
from carrybook.decision.bag_fit.swings import bounces_of, fly_all, rows_of
from carrybook.decision.bag_fit.wedges import Wedge, own_wedges
from carrybook.outcomes.draws import draw
from carrybook.player.summary import ShotSummary
from carrybook.world.lie import Lie, Moisture

MakeShots = Callable[..., tuple[ShotSummary, ...]]


@pytest.fixture(scope="module")
def wedges(shots_of: MakeShots) -> tuple[Wedge, ...]:
    return own_wedges(shots_of((48, 118), (54, 98), (60, 78)))


def noisy(*means: float, count: int = 64) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    shared = np.random.default_rng(3).standard_normal((1, count))
    own = 0.1 * np.random.default_rng(4).standard_normal((len(means), count))
    return np.array(means)[:, None] + shared + own


def test_the_first_of_those_alike_is_the_best() -> None:
    found = best_of_clubs(np.array([0, 0, 2, 2]), np.array([2.5, 2.5, 3.0, 2.9]))
    assert found == {0: 0, 2: 3}


def test_what_is_far_behind_goes_and_what_is_close_stays() -> None:
    clubs = np.array([0, 0, 1])
    worth = worth_playing_on(clubs, noisy(2.5, 2.51, 3.5), [(0, 1)])
    assert worth.tolist() == [True, True, False]


def test_a_club_stays_while_one_of_its_bags_needs_it() -> None:
    clubs, strokes = np.array([0, 1, 2]), noisy(2.0, 3.0, 4.0)
    assert worth_playing_on(clubs, strokes, [(0, 1, 2)]).tolist() == [True, False, False]
    assert worth_playing_on(clubs, strokes, [(0,), (1, 2)]).tolist() == [True, True, False]
    assert worth_playing_on(clubs, strokes, [(0,), (1,), (2,)]).all()
    assert worth_playing_on(clubs, strokes, [(0, 1)]).tolist() == [True, False, False]  # 2: no bag


@pytest.mark.parametrize(
    ("count", "rounds"),
    [(512, [64, 128, 256, 512]), (128, [32, 64, 128]), (32, [32]), (8, [8])],
)
def test_rounds_end_with_all_draws_and_none_is_too_short_to_say(
    count: int, rounds: list[int]
) -> None:
    assert rounds_of(count) == rounds


def test_tries_reach_the_place_within_the_partials(wedges: tuple[Wedge, ...]) -> None:
    rows = rows_of(wedges)
    carry = rows.feel_m.copy()
    found = tries_from(80.0 * YARD, rows, carry, (0.0, 3.0))
    assert set(found.club.tolist()) == {0, 1, 2}
    assert (found.feel_m <= rows.longest_m[found.swing] + 0.31).all()
    assert (found.feel_m >= rows.shortest_m[found.swing] - 0.31).all()
    assert (np.abs(found.feel_m - 80.0 * YARD) < 32.0 * YARD).all()
    half = len(found.swing) // 2
    np.testing.assert_array_equal(found.aside_m, np.repeat([0.0, 3.0], half))
    # a try is read for the hole so much nearer as the swing is taken to go further
    moved = carry[found.swing] * (found.feel_m / rows.feel_m[found.swing] - 1.0)
    np.testing.assert_allclose(80.0 * YARD - found.away_m, moved, atol=1e-9)


def test_a_club_that_carries_nowhere_near_is_tried_where_it_comes_nearest(
    wedges: tuple[Wedge, ...],
) -> None:
    rows = rows_of(wedges)
    found = tries_from(150.0 * YARD, rows, rows.feel_m, (0.0,))
    for club in range(3):
        mine = found.feel_m[found.club == club]
        longest = rows.longest_m[rows.wedge == club].max()
        assert mine.max() == pytest.approx(longest, abs=2.0 * YARD)


def test_round_by_round_the_same_wins_as_when_all_is_played(wedges: tuple[Wedge, ...]) -> None:
    greens, count = Greens(), 256
    world = greens.world(Lie.FAIRWAY, Moisture.DRY, 90.0)
    draws, rows = draw(np.random.default_rng(2), count), rows_of(wedges)
    flown, carry = fly_all(world, rows.swings, draws)
    aimed = {
        k: Aimed(tries_from(yards * YARD, rows, carry, (0.0,)), greens.maps()[0])
        for k, yards in enumerate((60.0, 75.0, 95.0))
    }
    best = narrowed(bounces_of(flown, world, draws), aimed, count, [(0,), (1,), (2,)])
    full = bounces_of(flown, world, draws)
    every = np.ones(full.ends.land.shape[:2], dtype=bool)
    full.play(every, every)
    for k, each in aimed.items():
        means = each.read(full, count).mean(axis=1)
        which = np.array(list(best_of_clubs(each.tries.club, means).values()))
        found, costs = best[k]
        assert isinstance(found, Tries)
        np.testing.assert_array_equal(found.swing, each.tries.swing[which])
        np.testing.assert_array_equal(found.away_m, each.tries.away_m[which])
        np.testing.assert_array_equal(costs, means[which])
