"""Coefficients in groups: their draws against the normal and the half-normal they must follow."""

import numpy as np
import pytest

from carrybook.player.learn.pooling import Side, drawn_sd, sweep
from carrybook.player.learn.problem import Group, columns

GROUPS = (Group("level", 1, 0.5, centre=1.0), Group("shot", 3, 0.2, pooled=True))


def side(information: np.ndarray) -> Side:
    parts = [(g, np.zeros(0, dtype=np.int64), np.zeros(0)) for g in GROUPS]
    design, groups = columns(0, parts)
    centre = np.array([1.0, 0.0, 0.0, 0.0])
    return Side(design, groups, centre.copy(), centre, [0.5, 0.1], information, np.zeros(4))


def test_precision_and_places_follow_the_groups() -> None:
    here = side(np.zeros((4, 4)))
    assert here.precision() == pytest.approx([4.0, 100.0, 100.0, 100.0])
    assert here.pooled() == {1: slice(1, 4)}


def test_without_values_the_mean_is_the_centre_whatever_the_draw() -> None:
    here = side(np.zeros((4, 4)))
    rng = np.random.default_rng(1)
    found = [sweep(here, np.zeros(4), rng) for _ in range(3000)]
    level = np.array([beta[0] for beta, _ in found])
    assert np.array([mean for _, mean in found]) == pytest.approx(
        np.tile([1.0, 0, 0, 0], (3000, 1))
    )
    assert level.mean() == pytest.approx(1.0, abs=0.03)
    assert level.std() == pytest.approx(0.5, rel=0.05)


def test_many_values_pin_a_coefficient_and_its_group() -> None:
    here = side(np.diag([1e8] * 4))
    true = np.array([1.2, 0.3, -0.1, 0.2])
    rng = np.random.default_rng(2)
    sds = []
    for _ in range(800):
        beta, mean = sweep(here, 1e8 * true, rng)
        assert mean == pytest.approx(true, abs=1e-4)
        assert beta == pytest.approx(true, abs=1e-2)
        sds.append(here.sd[1])
    # Density of the standard deviation: half-normal of 0.2 times three normals, on a fine grid.
    grid = np.linspace(0.01, 1.2, 4000)
    logs = -3.0 * np.log(grid) - 0.5 * 0.14 / grid**2 - 0.5 * (grid / 0.2) ** 2
    weight = np.exp(logs - logs.max())
    assert np.mean(sds) == pytest.approx(float((grid * weight).sum() / weight.sum()), rel=0.05)


def test_a_standard_deviation_grows_with_what_it_must_explain() -> None:
    rng = np.random.default_rng(3)
    small, large = (
        np.mean([drawn_sd(GROUPS[1], np.full(3, off), rng) for _ in range(400)])
        for off in (0.01, 0.3)
    )
    assert small < 0.1 < 0.2 < large
