"""Where balls finish most densely, and round heights."""

import numpy as np
import pytest

from carrybook.artefacts.regions import CONTOURS, contour_levels, densest


@pytest.mark.parametrize("share", [0.5, 0.9])
def test_the_level_holds_the_share_of_the_balls(share: float) -> None:
    rng = np.random.default_rng(3)
    right, along = rng.normal(0.0, 3.0, 1000), rng.normal(80.0, 6.0, 1000)
    x, y = np.linspace(-15.0, 15.0, 121), np.linspace(55.0, 105.0, 201)
    density, (level,) = densest(right, along, (share,), x, y)
    assert density.shape == (201, 121)
    at = density[np.searchsorted(y, along).clip(0, 200), np.searchsorted(x, right).clip(0, 120)]
    assert (at >= level).mean() == pytest.approx(share, abs=0.03)


def test_more_balls_lie_in_a_larger_region() -> None:
    rng = np.random.default_rng(4)
    right, along = rng.normal(size=200), rng.normal(size=200)
    net = np.linspace(-5.0, 5.0, 81)
    _, (most, half) = densest(right, along, (0.9, 0.5), net, net)
    assert most < half


@pytest.mark.parametrize("unit", ["yd", "m"])
@pytest.mark.parametrize("rise", [0.3, 2.0, 11.0])
def test_levels_are_round_few_and_hold_the_green(unit: str, rise: float) -> None:
    _, unit_m, intervals = CONTOURS[unit]
    heights = np.linspace(-0.1, rise, 50) / unit_m
    levels = contour_levels(heights, intervals)
    step = np.diff(levels)
    assert np.allclose(step, step[0])
    assert levels[0] <= heights.min()
    assert levels[-1] >= heights.max()
    assert 2 <= len(levels) <= 11
