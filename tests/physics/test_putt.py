"""One putt against closed forms: stopping distances, the turn on a plane, time run backward."""

import numpy as np
import pytest

from carrybook.base import constants as c
from carrybook.base.constants import FOOT
from carrybook.base.errors import OutOfRangeError
from carrybook.physics.cup import CENTRE_SPEED, capture_speed
from carrybook.physics.putt import (
    NUMBERS_ROW,
    Rolled,
    back_kernel,
    capture_offsets,
    path_of_putt,
    putt_kernel,
    resistance_row,
    roll_numbers,
    roll_putt,
)
from carrybook.physics.roll import rolling_resistance
from carrybook.world.ground import Ground, Surface, flat_ground

STIMP = 10.0 * FOOT
FAR_HOLE = (90.0, 90.0)
RESIST = rolling_resistance(STIMP)


def stop(ground: Ground, direction: float, reach: float) -> tuple[float, float]:
    rolled = roll_putt(
        ground, (0.0, 0.0), FAR_HOLE, direction_rad=direction, reach_m=reach, stimp_m=STIMP
    )
    return rolled.x, rolled.y


@pytest.mark.parametrize("reach", [0.3, 2.0, 12.0])
def test_on_the_level_a_putt_goes_as_far_as_its_reach(reach: float) -> None:
    x, y = stop(flat_ground(), 0.7, reach)
    assert np.hypot(x, y) == pytest.approx(reach, abs=0.002)
    assert np.arctan2(y, x) == pytest.approx(0.7, abs=1e-6)


@pytest.mark.parametrize("slope", [-0.03, -0.01, 0.02, 0.05])
def test_straight_up_and_down_five_sevenths_of_gravity_count(slope: float) -> None:
    """D = v^2 / (2 (a +- 5/7 g s)): a rolling sphere feels 5/7 of gravity down the slope."""
    pull = 5.0 / 7.0 * c.GRAVITY * slope / (1.0 + slope**2)
    x, y = stop(flat_ground(slope_x=slope), 0.0, 6.0)
    assert x == pytest.approx(6.0 * RESIST / (RESIST + pull), abs=0.005)
    assert y == pytest.approx(0.0, abs=1e-9)


def test_on_a_plane_turn_and_shape_do_not_depend_on_speed() -> None:
    """cross-slope: the angle to where it stops is that of the launch, distance goes as v^2."""
    ground = flat_ground(slope_y=0.02)
    ends = np.array([stop(ground, 0.3, reach) for reach in (2.0, 4.0, 8.0)])
    assert np.ptp(np.arctan2(ends[:, 1], ends[:, 0])) < 2e-3
    assert np.hypot(*ends.T) / np.array([2.0, 4.0, 8.0]) == pytest.approx(
        [np.hypot(*ends[0]) / 2.0] * 3, rel=3e-3
    )


@pytest.mark.parametrize("reach", [3.0, 11.0])
def test_half_the_step_changes_the_offset_by_less_than_half_a_millimetre(reach: float) -> None:
    ground, hole = flat_ground(slope_x=0.01, slope_y=0.02), (0.9 * reach, 0.0)
    coarse, fine = (
        roll_putt(
            ground, (0.0, 0.0), hole, direction_rad=0.1, reach_m=reach, stimp_m=STIMP,
            longest_step_s=step,
        )
        for step in (0.12, 0.01)
    )  # fmt: skip
    assert coarse.offset_m == pytest.approx(fine.offset_m, abs=5e-4)
    assert coarse.entry == pytest.approx(fine.entry, abs=2e-3)
    assert (coarse.x, coarse.y) == pytest.approx((fine.x, fine.y), abs=2e-3)


def test_offset_and_energy_at_the_hole_on_the_level() -> None:
    rolled = roll_putt(
        flat_ground(), (-5.0, 0.02), (0.0, 0.0), direction_rad=0.0, reach_m=6.0, stimp_m=STIMP
    )
    assert rolled.offset_m == pytest.approx(0.02, abs=1e-4)  # passes left of the centre
    assert rolled.entry == pytest.approx(RESIST * 1.0, abs=2e-3)
    short = roll_putt(
        flat_ground(), (-5.0, 0.0), (0.0, 0.0), direction_rad=0.0, reach_m=4.0, stimp_m=STIMP
    )
    assert short.entry == pytest.approx(-RESIST, abs=2e-3)
    assert isinstance(short, Rolled)


def test_rolled_back_from_the_hole_and_forward_again_it_goes_in() -> None:
    """What the sweep back notes at a node, rolled forward from there, enters as it was sent."""
    ground = flat_ground(slope_x=0.015, slope_y=-0.02)
    shape, corner, step, entry = (25, 25), -6.0, 0.5, 0.2
    near, start, reach = np.full(shape, 0.05), np.zeros(shape), np.zeros(shape)
    back_kernel(
        0.0, 0.0, entry, 1440, 20.0, roll_numbers(STIMP), resistance_row(STIMP), ground.heights,
        ground.surfaces, ground.x0, ground.y0, ground.step, corner, corner, step, near, start,
        reach,
    )  # fmt: skip
    found = np.argwhere((near < 0.05) & (start != 0.0))
    assert len(found) > 40
    for i, j in found[::5]:
        x, y = corner + step * i, corner + step * j
        line = np.arctan2(-y, -x) + start[i, j]
        far = float(np.hypot(x, y))
        rolled = roll_putt(
            ground, (x, y), (0.0, 0.0), direction_rad=line, reach_m=far + reach[i, j],
            stimp_m=STIMP,
        )  # fmt: skip
        assert abs(rolled.offset_m) < 0.08  # the roll passed the node within 5 cm
        assert rolled.entry == pytest.approx(entry, abs=0.06)


def test_a_ball_that_cannot_rest_runs_on() -> None:
    x, _ = stop(flat_ground(slope_x=-0.10, extent_m=50.0), 0.0, 0.05)
    assert x > 40.0


def test_energy_never_grows() -> None:
    rng = np.random.default_rng(5)
    axis = np.arange(61)
    heights = 0.4 * np.sin(axis / 6.0)[:, None] * np.cos(axis / 7.0)[None, :]
    surfaces = np.zeros(heights.shape, dtype=np.int64)
    ground = Ground(-15.0, -15.0, 0.5, heights, surfaces)
    for direction in rng.uniform(0.0, 6.28, 10):
        path = path_of_putt(
            ground, (0.0, 0.0), direction_rad=float(direction), reach_m=5.0, stimp_m=STIMP
        )
        length = np.hypot(*np.diff(path, axis=0).T).sum()
        lift = heights.max() - heights.min()
        assert length < 5.0 + 5.0 / 7.0 * c.GRAVITY * lift / RESIST


def test_the_path_ends_where_the_putt_stops() -> None:
    ground = flat_ground(slope_y=0.02)
    path = path_of_putt(ground, (1.0, 2.0), direction_rad=0.4, reach_m=5.0, stimp_m=STIMP)
    rolled = roll_putt(ground, (1.0, 2.0), FAR_HOLE, direction_rad=0.4, reach_m=5.0, stimp_m=STIMP)
    assert path[0] == pytest.approx([1.0, 2.0])
    assert path[-1] == pytest.approx([rolled.x, rolled.y], abs=0.01)
    assert path.shape[1] == 2


def test_offsets_that_drop_are_the_capture_speeds_read_backward() -> None:
    offsets = capture_offsets()
    speeds = np.linspace(0.0, CENTRE_SPEED, len(offsets))
    assert offsets[-1] == pytest.approx(0.0, abs=1e-4)
    assert np.all(np.diff(offsets) <= 1e-12)
    for k in (20, 100, 200):
        assert capture_speed(float(offsets[k])) == pytest.approx(speeds[k], abs=2e-3)


def test_longer_grass_holds_more_and_water_sinks() -> None:
    row = resistance_row(STIMP)
    assert row[Surface.GREEN] == RESIST < row[Surface.FRINGE] < row[Surface.ROUGH]
    assert row[Surface.WATER] < 0.0
    assert len(roll_numbers(STIMP)) == len(NUMBERS_ROW)
    assert hasattr(putt_kernel, "py_func")


def test_a_green_speed_nobody_mows_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="green speed = 25 ft"):
        resistance_row(25.0 * FOOT)
