"""Height, slope and curvature of many points: the kernel's surface, and closed forms."""

import numpy as np
import pytest

from carrybook.base.errors import BadInputError
from carrybook.physics.terrain import height_and_slope
from carrybook.world.ground import Ground
from carrybook.world.shape import HeightDoubt, doubt_at, shape_at


def net(height: object, step: float = 0.5, n: int = 21) -> Ground:
    axis = step * np.arange(n) - 5.0
    z = height(*np.meshgrid(axis, axis, indexing="ij"))  # type: ignore[operator]
    return Ground(-5.0, -5.0, step, np.asarray(z, dtype=float), np.zeros((n, n), dtype=np.int64))


def test_is_the_surface_that_balls_roll_on() -> None:
    rng = np.random.default_rng(3)
    ground = net(lambda x, y: rng.normal(size=x.shape))
    x, y = rng.uniform(-4.7, 4.7, (2, 200))
    shape = shape_at(ground, x, y)
    for n in range(0, 200, 7):
        want = height_and_slope(x[n], y[n], ground.heights, ground.x0, ground.y0, ground.step)
        got = shape.height[n], shape.slope_x[n], shape.slope_y[n]
        assert got == pytest.approx(want, rel=1e-12, abs=1e-12)


def test_a_bowl_has_its_curvature_everywhere() -> None:
    ground = net(lambda x, y: 0.03 * x**2 - 0.01 * x * y + 0.02 * y**2)
    shape = shape_at(
        ground, np.array([[0.3, 1.2], [-2.0, 3.9]]), np.array([[0.1, -1.7], [2.0, 0.0]])
    )
    assert shape.height.shape == (2, 2)
    for got, want in (
        (shape.curvature_xx, 0.06), (shape.curvature_xy, -0.01), (shape.curvature_yy, 0.04)
    ):  # fmt: skip
        np.testing.assert_allclose(got, want, atol=1e-12)


def test_steepness_is_that_of_the_fall_line() -> None:
    shape = shape_at(net(lambda x, y: 0.03 * x + 0.04 * y), 0.2, -0.7)
    assert float(shape.slope) == pytest.approx(0.05)


def test_doubt_is_that_of_the_nearest_node() -> None:
    ground = net(lambda x, y: 0.0 * x)
    height_se = np.arange(21 * 21, dtype=float).reshape(21, 21)
    doubt = HeightDoubt(height_se, 2.0 * height_se)
    height, slope = doubt_at(
        ground, doubt, np.array([-5.0, 0.2, 99.0]), np.array([-5.0, 0.2, 99.0])
    )
    np.testing.assert_array_equal(height, [0.0, 220.0, 440.0])
    np.testing.assert_array_equal(slope, 2.0 * height)


def test_doubt_is_refused_where_it_cannot_be() -> None:
    with pytest.raises(BadInputError, match="one shape"):
        HeightDoubt(np.zeros((4, 4)), np.zeros((4, 5)))
    for bad in (-1.0, np.nan):
        with pytest.raises(BadInputError, match="zero or more"):
            HeightDoubt(np.full((4, 4), bad), np.zeros((4, 4)))
