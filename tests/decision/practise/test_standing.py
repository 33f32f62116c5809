"""The standing test: what it is, and that luck is told from change at the stated level.

robertson-2013: 27 balls at nine targets in random order; retest limits of 7.9 of 81 points.
"""

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise
from math import exp, sqrt

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, NoSolutionError, OutOfRangeError
from carrybook.base.numerics import Floats
from carrybook.decision.practise.standing import (
    FORM,
    Change,
    Result,
    StandingTest,
    change_between,
    ln_error,
    result_of,
    smallest_change,
    standing_test,
)
from carrybook.player.robust import DEGREES_OF_FREEDOM
from carrybook.player.summary import ShotSummary


def scores_of(
    rng: np.random.Generator, count: int, size: Floats | float = 1.0, *, balls: int = 27
) -> Floats:
    """Percent errors of balls of many tests: t with four degrees in both directions, and a day."""
    wild = np.sqrt(DEGREES_OF_FREEDOM / rng.chisquare(DEGREES_OF_FREEDOM, (count, balls)))
    depth, side = (
        rng.standard_normal((2, count, balls)) * wild * np.array([4.8, 3.8])[:, None, None]
    )
    miss = np.hypot(depth, side)
    return miss * np.reshape(size * np.exp(FORM * rng.standard_normal(count)), (-1, 1))


def changes(first: Floats, second: Floats) -> list[Change]:
    return [
        change_between(result_of(list(a), side=True), result_of(list(b), side=True))
        for a, b in zip(first, second, strict=True)
    ]


def test_nine_targets_three_balls_each_over_what_the_shots_are_for(
    bag: Sequence[ShotSummary],
) -> None:
    standing = standing_test([s.shot for s in bag])
    yards = [t / YARD for t in standing.targets_m]
    assert standing.balls == 27
    assert len(yards) == 9
    assert all(round(y) % 5 == 0 for y in yards)
    assert 40 <= yards[0] < yards[-1] <= 110


@pytest.mark.parametrize(("asked", "struck"), [(27, 27), (30, 36), (54, 54)])
def test_every_distance_has_the_same_balls(
    bag: Sequence[ShotSummary], asked: int, struck: int
) -> None:
    standing = standing_test([s.shot for s in bag], asked)
    assert standing.balls == struck
    order = standing.order(np.random.default_rng(1))
    assert set(Counter(order).values()) == {standing.each}


def test_orders_differ_and_no_target_comes_twice_in_a_row() -> None:
    standing = StandingTest((40.0, 60.0), 20)  # the hardest to keep apart
    orders = {standing.order(np.random.default_rng(seed)) for seed in range(5)}
    assert all(a != b for order in orders for a, b in pairwise(order))
    three = StandingTest((40.0, 60.0, 80.0), 9)
    assert len({three.order(np.random.default_rng(seed)) for seed in range(5)}) == 5


def test_fewer_than_27_balls_are_refused(bag: Sequence[ShotSummary]) -> None:
    with pytest.raises(OutOfRangeError, match="balls of the test = 20 balls is outside 27 to 90"):
        standing_test([s.shot for s in bag], 20)
    with pytest.raises(OutOfRangeError, match="balls of the test = 26"):
        StandingTest((40.0, 60.0), 13)
    with pytest.raises(BadInputError, match="two targets or more, rising"):
        StandingTest((60.0, 40.0), 14)
    with pytest.raises(NoSolutionError, match="no shot of the book is for 20 to 150 yd"):
        standing_test([])


def test_a_score_is_the_mean_with_an_interval() -> None:
    found = result_of([4.0, 8.0] * 14, side=True)
    assert found.percent == pytest.approx(6.0)
    assert found.high / found.percent == pytest.approx(found.percent / found.low)
    assert found.low < 6.0 < found.high
    with pytest.raises(NoSolutionError, match="two measured balls"):
        result_of([4.0], side=True)


def test_the_error_is_that_of_simulated_tests() -> None:
    """Standard deviation of ln score over tests of one player, against the stated error."""
    scores = np.log(scores_of(np.random.default_rng(1), 20_000).mean(axis=1))
    assert scores.std() == pytest.approx(ln_error(27), rel=0.06)


def test_one_ball_is_as_unsure_as_a_t_with_four_degrees() -> None:
    """Closed forms, against draws; heavy tails, so with a wide tolerance."""
    rng = np.random.default_rng(2)
    depth = rng.standard_t(4.0, 400_000)
    assert np.abs(depth).std() / np.abs(depth).mean() == pytest.approx(1.0, rel=0.03)
    wild = np.sqrt(4.0 / rng.chisquare(4.0, 400_000))
    both = np.hypot(*rng.standard_normal((2, 400_000))) * wild
    assert both.std() / both.mean() == pytest.approx(sqrt(16.0 / np.pi**2 - 1.0), rel=0.03)
    assert ln_error(10_000) == pytest.approx(FORM, rel=0.02)
    assert ln_error(27, side=False) == pytest.approx(sqrt(1.0 / 27.0 + FORM**2))


def test_the_smallest_real_change_is_the_usual_formula() -> None:
    """1.96 sqrt(2) SEM, as a share; fewer balls or no side tell less."""
    assert smallest_change(27) == pytest.approx(
        1.0 - exp(-1.96 * sqrt(2.0) * ln_error(27)), rel=1e-3
    )
    assert 0.3 < smallest_change(27) < 0.4
    assert smallest_change(90) < smallest_change(54) < smallest_change(27)
    assert smallest_change(27, side=False) > smallest_change(27)


def test_an_unchanged_player_seldom_looks_improved() -> None:
    """Stated: 2.5 % each way."""
    rng = np.random.default_rng(3)
    found = changes(scores_of(rng, 4000), scores_of(rng, 4000))
    better = np.mean([c.real and c.ratio < 1.0 for c in found])
    worse = np.mean([c.real and c.ratio > 1.0 for c in found])
    assert better == pytest.approx(0.025, abs=0.01)
    assert worse == pytest.approx(0.025, abs=0.01)


def test_a_player_who_halved_the_scatter_is_seen() -> None:
    rng = np.random.default_rng(4)
    found = changes(scores_of(rng, 500), scores_of(rng, 500, 0.5))
    assert np.mean([c.real for c in found]) > 0.85
    assert np.mean([c.chance for c in found]) > 0.9


def test_the_chance_of_improvement_means_what_it_says() -> None:
    """Players whose true change is as usual between two tests: of those told 80 %, 80 % did."""
    rng = np.random.default_rng(5)
    true = 0.15 * rng.standard_normal(6000)
    found = changes(scores_of(rng, 6000), scores_of(rng, 6000, np.exp(true)))
    chance = np.array([c.chance for c in found])
    for low, high in ((0.2, 0.4), (0.4, 0.6), (0.6, 0.8)):
        told = (chance >= low) & (chance < high)
        assert np.mean(true[told] < 0.0) == pytest.approx(chance[told].mean(), abs=0.05)


def test_no_change_is_an_even_chance() -> None:
    same = Result(6.0, 4.5, 8.0, 27, True)
    found = change_between(same, same)
    assert found.chance == pytest.approx(0.5)
    assert found.ratio == 1.0
    assert not found.real
    assert found.low * found.high == pytest.approx(1.0)


def test_with_and_without_the_side_are_no_match() -> None:
    with pytest.raises(BadInputError, match="cannot be compared"):
        change_between(Result(6.0, 5.0, 7.0, 27, True), Result(6.0, 5.0, 7.0, 27, False))
