"""Baselines: published percent errors, the course-rating table, the player's own closest shot."""

from collections.abc import Sequence

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.decision.practise.levels import (
    baseline_named,
    from_lie,
    own_scatter,
    usual_baseline,
)
from carrybook.outcomes.plain_green import misses
from carrybook.player.level import Player, Scatter, scatter_prior
from carrybook.player.summary import ShotSummary
from carrybook.world.lie import Lie


@pytest.mark.parametrize(("yards", "low", "high"), [(75, 5.2, 6.5), (150, 4.6, 5.3)])
def test_tour_players_miss_as_published(
    bag: Sequence[ShotSummary], yards: int, low: float, high: float
) -> None:
    """james-rees-2008: medians of 5.2 to 6.5 % from 50 to 100 yd, 4.6 to 5.3 % from 100 to 200."""
    scatter = baseline_named("tour", bag).scatter(yards * YARD, Lie.FAIRWAY)
    median = 100.0 * np.median(misses(yards * YARD, scatter)) / (yards * YARD)
    assert low < median < high
    assert median == pytest.approx((low + high) / 2.0, abs=0.06)


def test_rough_adds_what_was_published(bag: Sequence[ShotSummary]) -> None:
    """4.3 percentage points on a median of 5.4."""
    tour = baseline_named("tour", bag)
    d = 110.0 * YARD
    clean, rough = (
        np.median(misses(d, tour.scatter(d, lie))) / d for lie in (Lie.FAIRWAY, Lie.LIGHT_ROUGH)
    )
    assert 100.0 * (rough - clean) == pytest.approx(4.3, abs=0.4)
    assert from_lie(Scatter(0.05, 0.03), Lie.TEE) == Scatter(0.05, 0.03)
    assert from_lie(Scatter(0.05, 0.03), Lie.DEEP_ROUGH).spread > 0.05


def test_scratch_and_handicaps_are_the_table(bag: Sequence[ShotSummary]) -> None:
    for name, handicap in (("scratch", 0.0), ("5", 5.0), ("+2", -2.0)):
        found = baseline_named(name, bag).scatter(82.0, Lie.FAIRWAY)
        assert found == scatter_prior(Player(handicap), 82.0)


def test_own_best_is_the_closest_shot_that_is_known(bag: Sequence[ShotSummary]) -> None:
    own = baseline_named("own", bag)
    assert own.scatter(50.0, Lie.FAIRWAY) == Scatter(0.04, 0.03)
    assert "60" in own.words
    assert usual_baseline(bag) == "own"


def test_without_a_known_shot_there_is_no_own_best(summary: object) -> None:
    few = [summary(balls=14)]  # type: ignore[operator]
    assert usual_baseline(few) == "scratch"
    with pytest.raises(BadInputError, match="baseline = 'own' needs a shot with 15 logged balls"):
        baseline_named("own", few)


def test_other_words_are_refused(bag: Sequence[ShotSummary]) -> None:
    with pytest.raises(BadInputError, match="baseline = 'hero' is not one of: tour, scratch, own"):
        baseline_named("hero", bag)
    with pytest.raises(OutOfRangeError, match="handicap = 70"):
        baseline_named("70", bag)


def test_own_scatter_is_that_of_the_partial(bag: Sequence[ShotSummary]) -> None:
    assert own_scatter(bag[0], 50.0, Lie.FAIRWAY) == Scatter(0.04, 0.03)
    assert own_scatter(bag[0], 50.0, Lie.LIGHT_ROUGH).side_rad > 0.05
