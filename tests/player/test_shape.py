"""Draw and cut: which way they curve, by hand; what the log says goes before what is usual."""

from datetime import UTC, datetime, timedelta
from math import atan2, degrees, radians, tan

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import OutOfRangeError
from carrybook.physics.flight import Launch, fly
from carrybook.physics.strike import launch_from_loft
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.balls import Ball
from carrybook.player.shape import STRAIGHT, Curve, Sizes, curve_of, usual_shape
from carrybook.player.summary import summarise
from carrybook.world.lie import Lie

LAUNCH, RATIO = launch_from_loft(radians(54.0), "stock")
STOCK = Launch(30.0, LAUNCH, RATIO * 30.0)


def shot(shape: Shape) -> Shot:
    return Shot(Club("54", radians(54.0)), Flight.STOCK, shape, 80 * YARD, 50 * YARD, 82 * YARD)


def struck(
    tilts: np.ndarray, *, measured: bool, days: int = 4, drift_rad: float = 0.0
) -> list[Ball]:
    """Balls of a shot with these tilts; the axis measured, or start line, side and carry."""
    balls = []
    for k, tilt in enumerate(tilts):
        at = datetime(2026, 6, 1, tzinfo=UTC) + timedelta(days=k % days)
        if measured:
            balls.append(Ball(shot="54 draw", at=at, spin_axis_rad=float(tilt)))
            continue
        landed = fly(Launch(30.0, LAUNCH, RATIO * 30.0, float(tilt)))
        turn = atan2(landed.side_m, landed.carry_m) + drift_rad
        start = radians(2.0)
        balls.append(
            Ball(
                shot="54 draw", at=at, start_line_rad=start, carry_m=landed.carry_m,
                side_m=landed.carry_m * tan(turn + start),
            )
        )  # fmt: skip
    return balls


@pytest.mark.parametrize("shape", [Shape.DRAW, Shape.CUT])
@pytest.mark.parametrize("loft", [38.0, 46.0, 54.0, 60.0])
def test_a_left_handers_shape_is_the_mirror_image(loft: float, shape: Shape) -> None:
    base = launch_from_loft(radians(loft), "stock")
    right, left = (usual_shape(*base, shape, left_handed=hand) for hand in (False, True))
    assert right.curve.axis_rad == pytest.approx(-left.curve.axis_rad, abs=1e-12)
    assert (right.launch_rad, right.spin_per_speed) == (left.launch_rad, left.spin_per_speed)
    assert (right.curve.axis_rad < 0.0) == (shape is Shape.DRAW)
    assert radians(2.0) < abs(right.curve.axis_rad) < radians(10.0)
    assert right.curve.axis_se_rad >= radians(1.5)


def test_a_draw_has_less_loft_and_spin_and_a_cut_more() -> None:  # common practice, no source
    draw, straight, cut = (usual_shape(LAUNCH, RATIO, s) for s in Shape)
    assert draw.launch_rad < straight.launch_rad < cut.launch_rad
    assert draw.spin_per_speed < straight.spin_per_speed < cut.spin_per_speed
    assert straight.curve == STRAIGHT


def test_larger_sizes_curve_more() -> None:
    wide = Sizes(across_rad=(radians(6.0), radians(10.0), radians(14.0)))
    usual, more = (usual_shape(LAUNCH, RATIO, Shape.DRAW, sizes=s).curve for s in (None, wide))
    assert more.axis_rad < 1.7 * usual.axis_rad
    assert more.axis_se_rad > usual.axis_se_rad


def test_a_launch_that_no_strike_gives_still_gets_a_curve() -> None:
    odd = usual_shape(radians(75.0), 10.0, Shape.CUT)
    assert (odd.launch_rad, odd.spin_per_speed) == (radians(75.0), 10.0)
    assert odd.curve == Curve(radians(5.0), radians(1.5))


@pytest.mark.parametrize("measured", [True, False])
def test_known_curve_comes_back_from_the_log(measured: bool) -> None:
    true = radians(-9.0)
    tilts = true + radians(2.0) * np.random.default_rng(2).normal(size=80)
    usual = usual_shape(LAUNCH, RATIO, Shape.DRAW).curve
    found = curve_of(shot(Shape.DRAW), struck(tilts, measured=measured), usual, STOCK)
    assert found.balls == 80
    assert found.axis_se_rad < usual.axis_se_rad
    assert abs(found.axis_rad - true) < 2.0 * found.axis_se_rad
    if measured:
        assert found.axis_rad == pytest.approx(true, abs=radians(0.8))


def test_wind_that_nobody_logged_makes_the_side_worth_little() -> None:
    usual = usual_shape(LAUNCH, RATIO, Shape.DRAW).curve
    tilts = np.full(60, usual.axis_rad)
    blown = struck(tilts, measured=False, days=1, drift_rad=radians(1.5))
    found = curve_of(shot(Shape.DRAW), blown, usual, STOCK)
    assert degrees(abs(found.axis_rad - usual.axis_rad)) < 1.0
    assert found.axis_se_rad > 0.8 * usual.axis_se_rad


def test_wild_readings_and_sand_do_not_move_it() -> None:
    usual = usual_shape(LAUNCH, RATIO, Shape.DRAW).curve
    tilts = usual.axis_rad + radians(1.5) * np.random.default_rng(5).normal(size=60)
    balls = struck(tilts, measured=True)
    wild = [Ball(shot="54 draw", at=b.at, spin_axis_rad=radians(55.0)) for b in balls[:4]]
    sand = [Ball(shot="54 draw", spin_axis_rad=radians(40.0), lie=Lie.SAND)] * 20
    clean, spoilt = (
        curve_of(shot(Shape.DRAW), some, usual, STOCK) for some in (balls, [*balls, *wild, *sand])
    )
    assert abs(spoilt.axis_rad - clean.axis_rad) < clean.axis_se_rad


def test_without_balls_it_is_the_usual_one_and_a_straight_shot_has_none() -> None:
    usual = usual_shape(LAUNCH, RATIO, Shape.CUT).curve
    assert curve_of(shot(Shape.CUT), [], usual, STOCK) == usual
    tilted = [Ball(shot="54", spin_axis_rad=0.2)] * 9
    assert curve_of(shot(Shape.STRAIGHT), tilted, STRAIGHT, STOCK) == STRAIGHT


def test_the_summary_holds_the_curve_of_either_hand() -> None:
    shots = [shot(s) for s in Shape]
    right, left = (summarise(shots, [], left_handed=hand) for hand in (False, True))
    axes = [s.curve.axis_rad for s in right]
    assert axes[0] < 0.0 == axes[1] < axes[2]
    assert [s.curve.axis_rad for s in left] == pytest.approx([-a for a in axes])
    logged = summarise(shots, struck(np.full(40, radians(-11.0)), measured=True))
    assert logged[0].curve.balls == 40
    assert degrees(logged[0].curve.axis_rad) == pytest.approx(-11.0, abs=1.0)


def test_sizes_that_nobody_swings_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match="path across the face"):
        Sizes(across_rad=(0.0, 0.1, 0.5))
