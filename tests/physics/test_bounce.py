"""Bounce: Penner's regression rows, Haake's two kinds of green, energy, symmetry."""

from math import cos, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from carrybook.base.constants import BALL_MASS, BALL_RADIUS, RPM
from carrybook.base.errors import OutOfRangeError
from carrybook.base.numerics import Floats
from carrybook.physics.bounce import Turf, bounce, turf_of_firmness

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


def test_two_kinds_of_green() -> None:
    # Haake, Science and Golf II (1994): on one kind of green balls leave with topspin whatever the
    # backspin; on the other they keep backspin above about 350 rad/s (allow 250 to 450).
    def leaves_with_backspin(friction: float, spin: float) -> bool:
        velocity, _ = arriving(20.0, 45.0, 0.0)
        _, w = bounce(
            velocity, np.array([0.0, -spin, 0.0]), LEVEL, Turf(radians(12.0), 1.0, friction)
        )
        return bool(w[1] < 0.0)

    grippy = [leaves_with_backspin(1.0, s) for s in range(0, 900, 50)]
    assert not any(grippy)
    slippy = [s for s in range(0, 900, 10) if leaves_with_backspin(0.16, float(s))]
    assert 250 <= slippy[0] <= 450
    assert slippy == list(range(slippy[0], 900, 10))


@given(
    vx=st.floats(-30, 30), vy=st.floats(-30, 30), vz=st.floats(-30, -0.1),
    w=st.lists(st.floats(-1500, 1500), min_size=3, max_size=3),
    slope=st.lists(st.floats(-0.3, 0.3), min_size=2, max_size=2),
    tilt=st.floats(0, 24), restitution=st.floats(0.3, 1.3), friction=st.floats(0.05, 1.5),
)  # fmt: skip
def test_energy_never_grows(
    vx: float, vy: float, vz: float, w: list[float], slope: list[float],
    tilt: float, restitution: float, friction: float,
) -> None:  # fmt: skip
    normal = np.array([-slope[0], -slope[1], 1.0])
    normal /= np.linalg.norm(normal)
    velocity, spin = np.array([vx, vy, vz]), np.array(w)
    if velocity @ normal > -0.05:  # not coming down on this slope
        return
    v, after = bounce(velocity, spin, normal, Turf(radians(tilt), restitution, friction))
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


def test_firmer_turf_bounces_higher_and_tilts_less() -> None:
    soft, firm = turf_of_firmness(70.0), turf_of_firmness(110.0)
    assert np.degrees([soft.tilt_rad, firm.tilt_rad]) == pytest.approx([19.0, 14.0])
    assert (soft.restitution, firm.restitution) == pytest.approx((0.70, 1.00))


@pytest.mark.parametrize("g", [10.0, 400.0, float("nan")])
def test_firmness_of_no_green_is_refused(g: float) -> None:
    with pytest.raises(OutOfRangeError, match="firmness"):
        turf_of_firmness(g)
