"""Club on ball: worked rows, the identity between spin and launch, published launch fractions."""

from math import asin, degrees, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from carrybook.base.constants import BALL_RADIUS, RPM
from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.physics.strike import launch_from_loft, lie_effect, off_this_lie, strike
from carrybook.world.lie import Lie, Moisture

# Rigid-body mechanics worked by hand with e from Penner 2001 (from memory), e_t 0.17, friction
# 0.40, head 0.30 kg, 31.3 m/s: spin loft, ball over club speed, rpm, launch above the path.
ROWS = [
    (30, 1.35, 5609, 23.2),
    (40, 1.21, 7211, 30.2),
    (45, 1.12, 7932, 33.4),
    (50, 1.03, 8593, 36.3),
    (55, 0.94, 9189, 38.7),
    (60, 0.83, 9715, 40.6),
    (65, 0.72, 9354, 43.2),
]


@pytest.mark.parametrize(("loft", "ratio", "rpm", "launch"), ROWS)
def test_worked_rows(loft: float, ratio: float, rpm: float, launch: float) -> None:
    hit = strike(31.3, radians(loft), 0.0)
    assert hit.speed_mps / 31.3 == pytest.approx(ratio, abs=6e-3)
    assert hit.spin_rad_s / RPM == pytest.approx(rpm, abs=1.5)
    assert degrees(hit.launch_rad) == pytest.approx(launch, abs=0.06)
    assert hit.gripped is (loft < 65)


@pytest.mark.parametrize(("friction", "rpm", "launch"), [(0.25, 6890, 46.0), (0.15, 4134, 51.5)])
def test_a_slippery_face_spins_less_and_launches_higher(
    friction: float, rpm: float, launch: float
) -> None:
    hit = strike(31.3, radians(60.0), 0.0, friction=friction)
    assert hit.spin_rad_s / RPM == pytest.approx(rpm, abs=1.5)
    assert degrees(hit.launch_rad) == pytest.approx(launch, abs=0.06)


@given(st.floats(10, 50), st.floats(10, 70), st.floats(-8, 2), st.floats(0.05, 0.6))
def test_spin_and_launch_keep_the_identity_whatever_the_friction(
    speed: float, loft: float, attack: float, friction: float
) -> None:
    hit = strike(speed, radians(loft), radians(attack), friction=friction)
    delta = radians(loft) + radians(attack) - hit.launch_rad
    assert sin(delta) == pytest.approx(0.4 * BALL_RADIUS * hit.spin_rad_s / hit.speed_mps, rel=1e-9)


@pytest.mark.parametrize("loft", range(30, 61, 5))
def test_launch_lies_where_it_was_measured_between_path_and_face(loft: float) -> None:
    # Wood, Henrikson & Broadie 2018, Proceedings 2(6) 249: 61 to 83 % of the way, over club types.
    assert 0.61 <= degrees(strike(31.3, radians(loft), 0.0).launch_rad) / loft <= 0.83


def test_more_loft_launches_higher_and_low_flight_launches_lower() -> None:
    launches = [launch_from_loft(radians(loft), "stock")[0] for loft in (48, 52, 56, 60)]
    assert launches == sorted(launches)
    for loft in (48, 56, 60):
        low, stock, high = (launch_from_loft(radians(loft), f)[0] for f in ("low", "stock", "high"))
        assert low < stock < high


def test_wet_and_rough_take_spin_off_within_their_stated_range() -> None:
    for lie in (Lie.FAIRWAY, Lie.LIGHT_ROUGH, Lie.DEEP_ROUGH):
        for moisture in Moisture:
            effect = lie_effect(lie, moisture)
            assert 0.0 < effect.spin[0] <= effect.spin[1] <= effect.spin[2] <= 1.0
            assert 0.0 < effect.speed[0] <= effect.speed[1] <= effect.speed[2] <= 1.0
    assert lie_effect(Lie.FAIRWAY, Moisture.DRY).spin == (1.0, 1.0, 1.0)


def test_a_wet_ball_launches_higher_by_what_the_identity_says() -> None:
    # common practice, no source: wet face or ball means less spin and a higher launch
    launch, ratio = off_this_lie(radians(32.0), 30.0, 0.6)
    before, after = asin(0.4 * BALL_RADIUS * 30.0), asin(0.4 * BALL_RADIUS * 18.0)
    assert ratio == pytest.approx(18.0)
    assert launch - radians(32.0) == pytest.approx(before - after)


def test_sand_is_said_not_to_be_modelled() -> None:
    with pytest.raises(BadInputError, match="'sand' is not modelled"):
        lie_effect(Lie.SAND, Moisture.DRY)


@pytest.mark.parametrize(("speed", "loft"), [(1.0, 40.0), (30.0, 85.0), (float("nan"), 40.0)])
def test_a_strike_that_nobody_makes_is_refused(speed: float, loft: float) -> None:
    with pytest.raises(OutOfRangeError):
        strike(speed, radians(loft), 0.0)
