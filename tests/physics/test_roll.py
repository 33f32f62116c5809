"""Roll and cup: stimp and slope rules, Cross, Grober, 5/7, Holmes, the free-fall floor."""

from math import cos, radians, sin, sqrt

import numpy as np
import pytest

from carrybook.base.constants import BALL_RADIUS, FOOT, GRAVITY, HOLE_RADIUS
from carrybook.base.errors import OutOfRangeError
from carrybook.physics.cup import CENTRE_SPEED, capture_speed
from carrybook.physics.roll import STIMP_RELEASE, roll_kernel, rolling_resistance
from carrybook.physics.shot import GROUND_ROWS
from carrybook.world.ground import Ground, Surface, flat_ground


def roll(
    ground: Ground, vx: float, vy: float = 0.0, *, stimp: float = 10.0, stride: float = 0.15,
    slip: tuple[float, float] = (0.0, 0.0), hole: tuple[float, float] = (900.0, 0.0),
    start: tuple[float, float] = (0.0, 0.0),
) -> np.ndarray:  # fmt: skip
    out = np.empty(6)
    numbers = np.array([stride, GRAVITY, HOLE_RADIUS, BALL_RADIUS, CENTRE_SPEED])
    roll_kernel(
        *start, vx, vy, *slip, rolling_resistance(stimp * FOOT), 0.4, 0.0, *hole, numbers,
        GROUND_ROWS[:, 2].copy(), ground.heights, ground.surfaces, ground.x0, ground.y0,
        ground.step, out,
    )  # fmt: skip
    return out


def test_on_the_level_the_ball_rolls_its_stimp() -> None:
    assert roll(flat_ground(), STIMP_RELEASE)[0] == pytest.approx(10.0 * FOOT, abs=1e-9)


# Brede, USGA Green Section Record 28(6) 1990: S = 2 Su Sd / (Su + Sd).
@pytest.mark.parametrize(
    ("slope", "up", "down"), [(0.01, 8.87, 11.46), (0.02, 7.97, 13.43), (0.03, 7.24, 16.21)]
)
def test_up_and_down_readings_have_the_level_stimp_as_harmonic_mean(
    slope: float, up: float, down: float
) -> None:
    rise, fall = flat_ground(slope_x=slope), flat_ground(slope_x=-slope)
    su, sd = roll(rise, STIMP_RELEASE)[0] / FOOT, roll(fall, STIMP_RELEASE)[0] / FOOT
    assert (su, sd) == pytest.approx((up, down), abs=0.025)
    assert 2.0 * su * sd / (su + sd) == pytest.approx(10.0, abs=1e-9)


def test_a_published_pair_of_readings() -> None:
    # A greenkeeper's pair of 9 ft up and 14 ft down was published as 10 ft 11 in.
    assert pytest.approx(10.0 + 11.0 / 12.0, abs=0.05) == 2.0 * 9.0 * 14.0 / 23.0


@pytest.mark.parametrize("direction", [30.0, 75.0, 120.0])
def test_on_a_plane_the_turn_does_not_depend_on_speed_and_distance_grows_with_its_square(
    direction: float,
) -> None:
    # Cross, "Trajectory of a golf ball on a sloping green" (cross-slope): both are exact.
    plane = flat_ground(slope_x=0.02)
    a = radians(direction)
    slow = roll(plane, 1.0 * cos(a), 1.0 * sin(a))
    fast = roll(plane, 2.0 * cos(a), 2.0 * sin(a))
    angles = [np.degrees(np.arctan2(r[1], r[0])) for r in (slow, fast)]
    assert angles[0] == pytest.approx(angles[1], abs=0.1)
    assert np.hypot(*fast[:2]) / np.hypot(*slow[:2]) == pytest.approx(4.0, rel=0.002)


def test_equidistant_putts_share_one_target_point() -> None:
    # Grober, arXiv 1106.1698: within +-30 deg of the fall line all aim at one point above the hole.
    plane = flat_ground(slope_x=0.02)  # falls toward -x
    points = []
    for degrees in (-30.0, -15.0, 15.0, 30.0):
        phi = radians(degrees)
        start = (-4.0 * cos(phi), -4.0 * sin(phi))  # below the hole, which is at the origin
        aim = _aim_to_reach(plane, start)
        # where the start line crosses the fall line y = 0
        share = -start[1] / sin(aim)
        points.append(start[0] + share * cos(aim))
    assert np.ptp(points) < 0.03
    assert np.mean(points) > 0.1


def _aim_to_reach(plane: Ground, start: tuple[float, float]) -> float:
    """Start direction of the putt that stops at the origin, by Newton on both ends."""
    direct, speed = np.arctan2(-start[1], -start[0]), 2.2
    for _ in range(60):
        end = roll(plane, speed * cos(direct), speed * sin(direct), start=start)
        at = np.arctan2(end[1] - start[1], end[0] - start[0])
        wanted = np.arctan2(-start[1], -start[0])
        reach, full = np.hypot(end[0] - start[0], end[1] - start[1]), np.hypot(*start)
        direct += wanted - at
        speed *= sqrt(full / reach)
    return float(direct)


def test_a_ball_without_spin_ends_its_skid_at_five_sevenths() -> None:
    # Rolling starts at 5/7 of the speed after skidding 12 v^2 / (49 mu g); then it rolls out.
    v = 2.0
    skid = 12.0 * v * v / (49.0 * 0.4 * GRAVITY)
    rolled = (5.0 / 7.0 * v) ** 2 / (2.0 * rolling_resistance(10.0 * FOOT))
    assert roll(flat_ground(), v, slip=(v, 0.0))[0] == pytest.approx(skid + rolled, abs=2e-3)


# Slope [%] from which no ball stops, against green speed [ft]: the chart of Lemons, Green Section
# Record (2008), as tabulated in the trade press.
CRITICAL = [(14, 3.85), (13, 4.20), (12, 4.55), (11, 4.90), (10, 5.42), (9, 5.95), (8, 6.65)]


@pytest.mark.parametrize(("stimp", "critical"), CRITICAL)
def test_the_chart_of_slope_limits_and_the_slope_on_which_our_ball_stops(
    stimp: float, critical: float
) -> None:
    # Rolling theory: rest needs 5/7 g s < v0^2 / 2S. The trade's chart sets its limit lower by 1.4,
    # without the 5/7 of a rolling sphere; motion follows the theory (docs/turf.md).
    ours = 7.0 / 5.0 * rolling_resistance(stimp * FOOT) / GRAVITY
    assert 100.0 * ours / critical == pytest.approx(1.4, abs=0.1)
    assert roll(flat_ground(slope_x=-0.97 * ours), 0.2, stimp=stimp)[3] == 1.0
    steep = roll(flat_ground(slope_x=-1.03 * ours), 0.2, stimp=stimp)
    assert steep[3] == 4.0
    assert steep[0] > 5.0


def test_a_ball_hit_uphill_too_softly_rolls_back_down_a_steep_slope() -> None:
    assert roll(flat_ground(slope_x=0.12), 2.0)[0] < -5.0
    assert roll(flat_ground(slope_x=0.05), 2.0)[0] > 0.0


def test_downhill_and_fast_greens_run_further() -> None:
    runs = [roll(flat_ground(slope_x=s), 1.5)[0] for s in (0.03, 0.0, -0.03)]
    assert runs == sorted(runs)
    runs = [roll(flat_ground(), 1.5, stimp=s)[0] for s in (8.0, 10.0, 12.0)]
    assert runs == sorted(runs)


def test_water_takes_the_ball_and_the_last_dry_point_is_kept() -> None:
    ground = flat_ground()
    ground.surfaces[ground.surfaces.shape[0] // 2 + 2 :, :] = int(Surface.WATER)
    end = roll(ground, 3.0)
    assert end[3] == 3.0
    assert end[4] < 1.5 <= end[0] + 0.2


# -- the cup -------------------------------------------------------------------------------------


def test_centre_line_limit_is_holmes() -> None:
    assert capture_speed(0.0) == pytest.approx(1.63)  # Holmes 1991, Am. J. Phys. 59:129


# Free fall by one radius before the far rim, no help from it: worked by hand, offset [mm], [m/s].
@pytest.mark.parametrize(
    ("offset", "bound", "fit"),
    [
        (0, 1.313, 1.63),
        (10, 1.275, 1.574),
        (20, 1.151, 1.406),
        (30, 0.876, 1.127),
        (32.5, 0.701, 1.040),
    ],
)
def test_capture_is_penners_fit_and_never_under_free_fall(
    offset: float, bound: float, fit: float
) -> None:
    assert capture_speed(offset / 1000.0) == pytest.approx(fit, abs=2e-3)
    assert capture_speed(offset / 1000.0) >= bound


def test_capture_is_symmetric_falls_with_offset_and_ends_at_the_rim() -> None:
    speeds = [capture_speed(d / 1000.0) for d in range(0, 60)]
    assert speeds[54:] == [0.0] * 6
    assert speeds == sorted(speeds, reverse=True)
    assert capture_speed(-0.02) == capture_speed(0.02)


@pytest.mark.parametrize(("speed", "holed"), [(1.0, True), (1.55, True), (1.75, False)])
def test_a_ball_drops_at_the_hole_when_slow_enough_there(speed: float, holed: bool) -> None:
    start = sqrt(speed**2 + 2.0 * rolling_resistance(10.0 * FOOT) * 1.0)
    end = roll(flat_ground(), start, hole=(1.0, 0.0))
    assert bool(end[3] == 2.0) is holed
    assert bool(end[0] == 1.0) is holed


def test_a_ball_that_passes_beside_the_hole_does_not_drop() -> None:
    assert roll(flat_ground(), 1.5, hole=(1.0, 0.06))[3] == 1.0


@pytest.mark.parametrize("feet", [2.0, 25.0, float("nan")])
def test_green_speed_of_no_green_is_refused(feet: float) -> None:
    with pytest.raises(OutOfRangeError, match="green speed"):
        rolling_resistance(feet * FOOT)
