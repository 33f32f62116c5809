"""The ground: planes are exact, the slope belongs to the surface, edges go on level."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from carrybook.physics.terrain import height, height_and_slope, heights_at, surface_code
from carrybook.world.ground import Ground, Surface, flat_ground


def at(ground: Ground, x: float, y: float) -> tuple[float, float, float]:
    return height_and_slope(x, y, ground.heights, ground.x0, ground.y0, ground.step)


@given(st.floats(-90, 90), st.floats(-90, 90), st.floats(-0.2, 0.2), st.floats(-0.2, 0.2))
def test_a_plane_is_exactly_that_plane(x: float, y: float, sx: float, sy: float) -> None:
    z, gx, gy = at(flat_ground(slope_x=sx, slope_y=sy), x, y)
    assert z == pytest.approx(sx * x + sy * y, abs=1e-9)
    assert (gx, gy) == pytest.approx((sx, sy), abs=1e-9)


def wavy() -> Ground:
    axis = np.arange(-20.0, 20.5, 0.5)
    heights = 0.3 * np.sin(axis[:, None] / 3.0) * np.cos(axis[None, :] / 4.0)
    return Ground(-20.0, -20.0, 0.5, heights, np.zeros(heights.shape, dtype=np.int64))


@given(st.floats(-18, 18), st.floats(-18, 18))
def test_the_slope_is_the_derivative_of_the_height(x: float, y: float) -> None:
    ground, h = wavy(), 1e-5
    _, gx, gy = at(ground, x, y)
    assert (at(ground, x + h, y)[0] - at(ground, x - h, y)[0]) / (2 * h) == pytest.approx(
        gx, abs=1e-5
    )
    assert (at(ground, x, y + h)[0] - at(ground, x, y - h)[0]) / (2 * h) == pytest.approx(
        gy, abs=1e-5
    )


def test_many_points_have_the_heights_that_each_has() -> None:
    ground, points = wavy(), np.random.default_rng(1).uniform(-25.0, 25.0, (500, 2))
    one_by_one = [height(ground, x, y) for x, y in points.tolist()]
    np.testing.assert_allclose(heights_at(ground, points), one_by_one, rtol=0.0, atol=1e-15)
    assert heights_at(ground, np.empty((0, 2))).shape == (0,)


def test_a_smooth_hill_is_drawn_to_a_few_millimetres() -> None:
    ground = wavy()
    x = np.linspace(-15, 15, 101)
    drawn = [height(ground, v, 1.3) for v in x]
    assert drawn == pytest.approx(0.3 * np.sin(x / 3.0) * np.cos(1.3 / 4.0), abs=4e-3)


def test_beyond_the_net_the_edge_goes_on_level() -> None:
    ground = flat_ground(slope_x=0.1, extent_m=10.0)
    z, gx, _ = at(ground, 500.0, 0.0)
    assert gx == 0.0
    assert z == pytest.approx(0.95, abs=1e-9)


def test_kernel_and_plain_lookup_of_the_surface_agree() -> None:
    ground = wavy()
    ground.surfaces[50:, :] = int(Surface.BUNKER)
    for x, y in np.random.default_rng(1).uniform(-25, 25, (200, 2)):
        code = surface_code(x, y, ground.surfaces, ground.x0, ground.y0, ground.step)
        assert Surface(code) is ground.surface_at(x, y)
