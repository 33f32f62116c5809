"""Bounce: Penner's regression rows, grip and slip reversal, wrap, energy, symmetry."""

from math import cos, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from carrybook.base.constants import BALL_MASS, BALL_RADIUS, RPM
from carrybook.base.numerics import Floats
from carrybook.physics.bounce import bounce
from carrybook.physics.turf import Turf, turf_of_firmness

LEVEL = np.array([0.0, 0.0, 1.0])
PENNER = Turf(radians(15.4), 1.0)


def arriving(speed: float, angle: float, rpm: float) -> tuple[Floats, Floats]:
    a = radians(angle)
    return speed * np.array([cos(a), 0.0, -sin(a)]), np.array([0.0, -rpm * RPM, 0.0])


# Penner 2002, "The run of a golf ball", constants from memory; worked by hand at 18.6 m/s and
# 44.4 deg with r = 21.35 mm: these rows test the code, not nature.
PENNER_ROWS = [
    (0.0, 5.843, 3.953, -2989.0),
    (4000.0, 3.380, 3.274, -1846.0),
    (6000.0, 2.148, 2.935, -1275.0),
    (8000.0, 1.350, 2.715, -201.0),
    (10000.0, 1.350, 2.715, 1799.0),
]


@pytest.mark.parametrize(("rpm", "vx", "vz", "out"), PENNER_ROWS)
def test_the_worked_rows_come_out(rpm: float, vx: float, vz: float, out: float) -> None:
    v, w = bounce(*arriving(18.6, 44.4, rpm), LEVEL, PENNER, radius=0.02135)
    assert v == pytest.approx([vx, 0.0, vz], abs=1.5e-3)
    assert -w[1] / RPM == pytest.approx(out, abs=1.5)


def test_a_ball_dropped_straight_down_bounces_straight_up() -> None:
    v, w = bounce(np.array([0.0, 0.0, -20.0]), np.zeros(3), LEVEL, turf_of_firmness(90.0))
    assert v[:2] == pytest.approx([0.0, 0.0])
    assert w == pytest.approx(np.zeros(3))
    assert 0.0 < v[2] < 4.0


@given(
    vx=st.floats(-30, 30), vy=st.floats(-30, 30), vz=st.floats(-30, -0.1),
    w=st.lists(st.floats(-1500, 1500), min_size=3, max_size=3),
    slope=st.lists(st.floats(-0.3, 0.3), min_size=2, max_size=2),
    tilt=st.floats(0, 24), restitution=st.floats(0.3, 1.3), friction=st.floats(0.05, 1.5),
    grip=st.floats(0, 1), wrap=st.floats(0, 1.3),
)  # fmt: skip
def test_energy_never_grows(
    vx: float, vy: float, vz: float, w: list[float], slope: list[float],
    tilt: float, restitution: float, friction: float, grip: float, wrap: float,
) -> None:  # fmt: skip
    normal = np.array([-slope[0], -slope[1], 1.0])
    normal /= np.linalg.norm(normal)
    velocity, spin = np.array([vx, vy, vz]), np.array(w)
    if velocity @ normal > -0.05:  # not coming down on this slope
        return
    turf = Turf(radians(tilt), restitution, friction, grip, 0.4, wrap)
    v, after = bounce(velocity, spin, normal, turf)
    assert _energy(v, after) <= _energy(velocity, spin) * (1.0 + 1e-9) + 1e-12


def _energy(v: Floats, w: Floats) -> float:
    return float(0.5 * BALL_MASS * (v @ v) + 0.2 * BALL_MASS * BALL_RADIUS**2 * (w @ w))


def test_sidespin_kicks_sideways_and_mirrors() -> None:
    velocity, spin = arriving(20.0, 50.0, 7000.0)
    tilted = spin + np.array([-200.0, 0.0, 0.0])  # a component along the line: rifle spin
    v, w = bounce(velocity, tilted, LEVEL, turf_of_firmness(90.0))
    mirrored, m = bounce(
        velocity, spin + np.array([200.0, 0.0, 0.0]), LEVEL, turf_of_firmness(90.0)
    )
    assert abs(v[1]) > 0.1
    assert mirrored == pytest.approx(v * [1, -1, 1])
    assert m == pytest.approx(w * [-1, 1, -1])


def test_a_bounce_does_not_know_which_way_is_north() -> None:
    velocity, spin = arriving(20.0, 50.0, 7000.0)
    turn = np.array([[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
    v, w = bounce(velocity, spin, LEVEL, turf_of_firmness(90.0))
    turned, turned_spin = bounce(turn @ velocity, turn @ spin, LEVEL, turf_of_firmness(90.0))
    assert turned == pytest.approx(turn @ v)
    assert turned_spin == pytest.approx(turn @ w)


@pytest.mark.parametrize("grip", [0.0, 0.1, 0.3])
def test_a_bounce_that_grips_leaves_with_its_slip_reversed_by_the_tangential_restitution(
    grip: float,
) -> None:
    # Cross 2002, "Grip-slip behavior of a bouncing ball": gripping balls spin faster than rolling.
    velocity, spin = arriving(15.0, 50.0, 0.0)
    v, w = bounce(velocity, spin, LEVEL, Turf(0.0, 1.0, 2.0, grip, 2.0))
    slip_in = velocity[0] - BALL_RADIUS * spin[1]
    assert v[0] - BALL_RADIUS * w[1] == pytest.approx(-grip * slip_in)


def test_without_grip_and_wrap_a_gripping_ball_keeps_five_sevenths() -> None:
    velocity, spin = arriving(15.0, 50.0, 0.0)
    v, w = bounce(velocity, spin, LEVEL, Turf(0.0, 1.0, 2.0, 0.0, 2.0))
    assert v[0] == pytest.approx(5.0 / 7.0 * velocity[0])
    assert w[1] * BALL_RADIUS == pytest.approx(v[0])


def test_a_crater_that_wraps_the_ball_turns_spin_into_less_speed() -> None:
    velocity, spin = arriving(20.0, 54.0, 9000.0)
    back = [
        bounce(velocity, spin, LEVEL, Turf(radians(18.0), 0.8, 1.0, 0.0, 1.0, wrap))[0][0]
        for wrap in (0.0, 0.4, 0.8, 1.2)
    ]
    assert back[0] < -0.5
    assert back == sorted(back)


def test_friction_of_a_gentle_bounce_is_that_of_a_skid() -> None:
    def braked(speed: float, turf: Turf) -> float:
        spin = np.array([0.0, -1200.0, 0.0])  # so that it slips
        v, _ = bounce(np.array([9.0, 0.0, -speed]), spin, LEVEL, turf)
        return float(9.0 - v[0])

    slick, rough = Turf(0.0, 1.0, 0.1, 0.0, 0.4), Turf(0.0, 1.0, 0.4)
    assert braked(0.3, slick) == pytest.approx(braked(0.3, rough), rel=0.01)
    assert braked(18.0, slick) < 0.45 * braked(18.0, rough)
