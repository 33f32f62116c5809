"""The plain green: closed forms of the net, monotony, and the published tour averages."""

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.outcomes.baseline import TABLE
from carrybook.outcomes.plain_green import (
    expected_miss,
    expected_strokes,
    misses,
    strokes_after,
    swing_net,
)
from carrybook.outcomes.putting import expected_putts
from carrybook.player.level import Player, Scatter, scatter_prior
from carrybook.player.robust import HALF_WIDTH_68


def test_a_holed_ball_costs_a_putt_and_no_more() -> None:
    assert strokes_after(np.array(0.0)) == pytest.approx(1.0)


def test_a_short_miss_is_a_putt_of_that_length() -> None:
    near = np.array([0.5, 1.0, 2.0, 3.0])  # nearer than any hole is to the edge
    np.testing.assert_allclose(strokes_after(near), expected_putts(near), rtol=1e-6)


def test_a_longer_miss_costs_more_and_no_jump() -> None:
    cost = strokes_after(np.arange(0.0, 60.0, 0.25))
    assert (np.diff(cost) > 0.0).all()
    assert np.diff(cost).max() < 0.12


def test_the_net_is_a_t_with_four_degrees_in_both_directions() -> None:
    depth, side = swing_net()
    assert depth.mean() == pytest.approx(0.0, abs=1e-12)
    assert np.mean(depth * side) == pytest.approx(0.0, abs=1e-12)
    size = np.hypot(depth, side)
    # P(longer than r) = (1 + r^2 / 4)^-2, so the median is 2 sqrt(sqrt 2 - 1)
    assert np.median(size) == pytest.approx(2.0 * np.sqrt(np.sqrt(2.0) - 1.0), rel=0.02)
    assert np.mean(np.abs(depth) <= HALF_WIDTH_68) == pytest.approx(0.6827, abs=0.01)


def test_misses_grow_with_distance_and_scatter() -> None:
    small, large = Scatter(0.04, 0.03), Scatter(0.06, 0.045)
    assert expected_miss(80.0, large) == pytest.approx(1.5 * expected_miss(80.0, small), rel=0.02)
    assert expected_miss(60.0, small) == pytest.approx(expected_miss(90.0, small))
    assert expected_strokes(90.0, small) > expected_strokes(60.0, small)
    assert expected_strokes(80.0, large) > expected_strokes(80.0, small)


def test_without_the_side_it_is_the_error_of_carry_alone() -> None:
    only_depth = misses(80.0, Scatter(0.05, 0.03), side=False)
    np.testing.assert_allclose(only_depth, misses(80.0, Scatter(0.05, 0.0)))
    assert expected_strokes(80.0, Scatter(0.05, 0.03), side=False) < expected_strokes(
        80.0, Scatter(0.05, 0.03)
    )


@pytest.mark.parametrize("yards", [80, 100, 120, 140])
def test_a_scratch_pattern_costs_about_what_a_tour_player_needs(yards: int) -> None:
    """broadie-2014 from the fairway; tour misses are of that size (james-rees-2008)."""
    scratch = scatter_prior(Player(0.0), yards * YARD)
    assert expected_strokes(yards * YARD, scratch) == pytest.approx(TABLE[yards][0], abs=0.08)
