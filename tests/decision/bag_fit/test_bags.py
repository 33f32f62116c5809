"""Bags over a table of known costs: against brute force and closed forms; what counts as real."""

from collections.abc import Callable
from itertools import combinations
from math import comb

import numpy as np
import pytest

from carrybook.decision.bag_fit.bags import (
    Saving,
    all_bags,
    choices,
    mean_costs,
    played,
    saved,
    saving,
)
from carrybook.decision.bag_fit.table import Table
from carrybook.decision.select import WORTH_SAYING

MakeTable = Callable[..., Table]


@pytest.fixture(scope="module")
def random(known_table: MakeTable) -> Table:
    rng = np.random.default_rng(2)
    return known_table(2.5 + rng.random((9, 7)), weights=(1.0, 2.0, 3.0, 4.0, 3.0, 2.0, 1.0))


def test_every_bag_is_looked_at_and_costs_what_brute_force_says(random: Table) -> None:
    bags = all_bags(random, 4)
    assert len(bags) == comb(9, 4)
    costs = mean_costs(random, bags)
    shares = np.array([1, 2, 3, 4, 3, 2, 1]) / 16.0
    for bag, cost in zip(bags, costs, strict=True):
        by_hand = sum(
            share * min(random.first[k, p] for k in bag) for p, share in enumerate(shares)
        )
        assert cost == pytest.approx(by_hand, abs=1e-12)


def test_clubs_that_stay_are_in_every_bag(random: Table) -> None:
    bags = all_bags(random, 3, always=(4,), kept=(0,))
    assert len(bags) == comb(7, 2)
    assert all({0, 4} <= set(bag) and len(bag) == 4 and list(bag) == sorted(bag) for bag in bags)


def test_one_more_club_is_never_worse(random: Table) -> None:
    for bag in all_bags(random, 3):
        wider = [tuple(sorted((*bag, k))) for k in range(9) if k not in bag]
        assert (mean_costs(random, wider) <= mean_costs(random, [bag])[0] + 1e-12).all()


def test_many_thousands_in_parts(random: Table) -> None:
    bags = list(combinations(range(9), 4)) * 50
    costs = mean_costs(random, bags)
    assert np.unique(costs.round(12)).size == np.unique(costs[:126].round(12)).size


def test_every_place_goes_to_the_club_that_costs_least(known_table: MakeTable) -> None:
    table = known_table([[2.5, 3.0, 2.7], [2.6, 2.4, 2.8], [2.0, 2.0, 2.0]])
    assert choices(table, (0, 1)).tolist() == [0, 1, 0]
    assert played(table, (0, 1)) == pytest.approx(np.full(64, (2.5 + 2.4 + 2.7) / 3.0))


def test_a_saving_is_the_difference_of_the_means(known_table: MakeTable) -> None:
    table = known_table([[2.5, 3.0], [2.4, 2.8]], noise=0.5)
    found = saving(table, (1,), (0,))
    assert found.strokes == pytest.approx(0.15)
    assert found.noise == pytest.approx(0.0, abs=1e-12)  # the same chance for both
    assert found.is_real
    assert saving(table, (0,), (1,)).strokes == pytest.approx(-0.15)


def test_a_bag_saves_nothing_against_itself(random: Table) -> None:
    found = saving(random, (1, 3), (1, 3))
    assert (found.strokes, found.noise, found.unsure) == (0.0, 0.0, 0.0)
    assert not found.is_real


def test_what_clubs_leave_open_adds_up_in_squares(known_table: MakeTable) -> None:
    table = known_table([[2.5], [2.4]])
    assert saving(table, (1,), (0,), clubs=0.3).unsure == pytest.approx(0.3, abs=1e-9)


def test_noise_is_that_of_a_mean(known_table: MakeTable) -> None:
    table = known_table([[2.5], [2.4]])
    difference = np.random.default_rng(1).standard_normal(64)
    found = saved(difference, table)
    assert found.noise == pytest.approx(difference.std(ddof=1) / 8.0)
    assert found.unsure >= found.noise


def test_what_is_known_of_nobody_is_added(known_table: MakeTable) -> None:
    """A difference that follows the firmness of the green is as unsure as that firmness."""
    table = known_table([[2.5], [2.4]])
    firmness = table.draws.firmness
    found = saved(0.1 + 0.2 * (firmness - firmness.mean()) / firmness.std(), table)
    assert found.unsure == pytest.approx(0.2, rel=0.05)


@pytest.mark.parametrize(
    ("strokes", "unsure", "real"),
    [(0.1, 0.04, True), (0.1, 0.06, False), (-0.1, 0.04, True), (0.9 * WORTH_SAYING, 1e-4, False)],
)
def test_real_means_that_it_separates_and_is_worth_a_thought(
    strokes: float, unsure: float, real: bool
) -> None:
    found = Saving(strokes, 0.0, unsure)
    assert found.is_real is real
    assert found.interval == pytest.approx((strokes - 2.0 * unsure, strokes + 2.0 * unsure))
