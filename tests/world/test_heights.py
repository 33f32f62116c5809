"""A smooth surface through spot heights, against a known one."""

from collections.abc import Callable

import numpy as np

from carrybook.base.constants import FOOT, YARD
from carrybook.base.numerics import Floats
from carrybook.world.heights import smooth_surface

X, Y = np.arange(-20.0, 50.1, 0.5), np.arange(-30.0, 30.1, 0.5)


def spots_of(
    height: Callable[[Floats, Floats], Floats], step: float, margin: float = 20.0
) -> Floats:
    x = np.arange(X[0] - margin, X[-1] + margin + 0.1, step)
    y = np.arange(Y[0] - margin, Y[-1] + margin + 0.1, step)
    spots = np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1).reshape(-1, 2)
    return np.column_stack([spots, height(*spots.T)])


def two_tiers(x: Floats, y: Floats) -> Floats:
    """Two feet up over four yards at a depth of 18 yd, on a waving slope."""

    def hinge(u: Floats) -> Floats:
        return np.asarray(0.35 * np.logaddexp(0.0, u / 0.35))

    ramp = 2.0 * FOOT / (4.0 * YARD) * (hinge(x - 18.0 * YARD) - hinge(x - 22.0 * YARD))
    return np.asarray(0.0175 * x + 0.01 * y + ramp + 0.15 * np.sin(x / 9.0) * np.cos(y / 8.0))


def test_two_tier_green_within_the_stated_error() -> None:
    surface = smooth_surface(spots_of(two_tiers, 2.0), X, Y)
    error = surface - two_tiers(*np.meshgrid(X, Y, indexing="ij"))
    assert error.std() < 0.005
    assert np.abs(error).max() < 0.025


def test_noise_leaves_the_stated_false_slope() -> None:
    spots = spots_of(lambda x, y: 0.02 * x, 2.0)
    spots[:, 2] += np.random.default_rng(1).normal(0.0, 0.02, len(spots))
    slope = np.diff(smooth_surface(spots, X, Y), axis=0) / 0.5 - 0.02
    assert 0.008 < slope.std() < 0.016


def test_plane_stays_a_plane_whatever_the_order() -> None:
    spots = spots_of(lambda x, y: 3.0 + 0.02 * x - 0.01 * y, 2.0, margin=40.0)
    np.random.default_rng(2).shuffle(spots)
    plane = 3.0 + 0.02 * X[:, None] - 0.01 * Y[None, :]
    np.testing.assert_allclose(smooth_surface(spots, X, Y), plane, atol=1e-4)


def test_close_spots_are_averaged() -> None:
    spots = spots_of(lambda x, y: np.zeros_like(x), 2.0)
    up = np.array([0.0, 0.0, 0.1])
    twice = np.concatenate([spots + up, spots - up])
    np.testing.assert_allclose(smooth_surface(twice, X, Y), 0.0, atol=1e-12)


def test_runs_out_level_without_swinging() -> None:
    """A steep edge of the survey must not throw the surface up or down beyond it."""
    cliff = spots_of(lambda x, y: np.where(y > 10.0, -2.0, 0.0), 2.0, margin=-10.0)
    surface = smooth_surface(cliff, X, Y)
    assert surface.min() > -2.7
    assert surface.max() < 0.7
    np.testing.assert_allclose(surface[0, :20], 0.0, atol=0.01)


def test_few_spots_in_a_row_are_enough_for_a_surface() -> None:
    spots = np.column_stack([np.arange(5.0) * 3.0, np.zeros(5), np.full(5, 1.5)])
    np.testing.assert_allclose(smooth_surface(spots, X, Y), 1.5, atol=1e-9)
