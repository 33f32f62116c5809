"""Face and path: start line, spin axis, identity, energy, mirror, what the launch leaves out."""

from math import cos, degrees, radians, sin

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from carrybook.base.constants import BALL_MASS, BALL_RADIUS, RPM
from carrybook.base.errors import OutOfRangeError
from carrybook.base.numerics import Floats
from carrybook.physics.aerodynamics import MID
from carrybook.physics.delivery import (
    Contact,
    Delivery,
    deliver,
    delivery_for,
    is_consistent,
    launch_loft,
)
from carrybook.physics.flight import Launch, body_row, fly, level_net, wind_row
from carrybook.physics.flight_steps import fly_to_ground
from carrybook.physics.strike import strike
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.wind import CALM


def direction(up: float, right: float) -> Floats:
    return np.array([cos(up) * cos(right), -cos(up) * sin(right), sin(up)])


def delivery(
    loft: float, path: float = 0.0, face: float = 0.0, *, speed: float = 31.0, attack: float = -5.0
) -> Delivery:
    return Delivery(speed, radians(loft), radians(attack), radians(path), radians(face))


def velocity(launch: Launch) -> Floats:
    return launch.speed_mps * direction(launch.launch_rad, launch.start_right_rad)


@given(st.floats(8, 50), st.floats(15, 60), st.floats(-8, 2), st.floats(0.1, 0.6))
def test_a_straight_delivery_is_the_strike_without_tilt(
    speed: float, loft: float, attack: float, friction: float
) -> None:
    launch = deliver(delivery(loft, speed=speed, attack=attack), Contact(friction))
    plain = strike(speed, radians(loft - attack), radians(attack), friction=friction)
    assert launch.speed_mps == pytest.approx(plain.speed_mps, rel=1e-9)
    assert launch.launch_rad == pytest.approx(plain.launch_rad, abs=1e-9)
    assert launch.spin_rad_s == pytest.approx(plain.spin_rad_s, rel=1e-9)
    assert (launch.axis_rad, launch.start_right_rad) == pytest.approx((0.0, 0.0), abs=1e-12)


# Wood, Henrikson & Broadie 2018, Proceedings 2(6) 249: 61 to 83 % of the way, over club types.
@pytest.mark.parametrize("loft", range(30, 61, 5))
@pytest.mark.parametrize("path", [3.0, -6.0])
def test_the_ball_leaves_between_path_and_face_where_it_was_measured(
    loft: int, path: float
) -> None:
    d = delivery(loft - 5.0, path)  # spin loft is then about `loft`
    launch = deliver(d)
    leaving = velocity(launch) / launch.speed_mps
    turned = np.arccos(leaving @ direction(d.attack_rad, d.path_right_rad))
    assert 0.61 <= turned / d.spin_loft_rad() <= 0.83
    toward_face = 1.0 - degrees(launch.start_right_rad) / path  # seen from above
    if loft <= 50:
        assert 0.61 <= toward_face <= 0.83
    else:  # ours falls below what was measured: docs/sources.md
        assert 0.52 <= toward_face < 0.61


strikes = st.builds(
    delivery,
    st.floats(20, 60),
    st.floats(-12, 12),
    st.floats(-12, 12),
    speed=st.floats(10, 35),  # faster ones can spin more than a launch may
    attack=st.floats(-8, 2),
)


@given(strikes, st.floats(0.05, 0.6))
def test_the_identity_holds_in_space_whatever_the_friction(d: Delivery, friction: float) -> None:
    launch = deliver(d, Contact(friction))
    face, leaving = direction(d.dynamic_loft_rad, d.face_right_rad), velocity(launch)
    sine = np.linalg.norm(np.cross(face, leaving)) / launch.speed_mps
    assert sine == pytest.approx(0.4 * BALL_RADIUS * launch.spin_rad_s / launch.speed_mps, rel=1e-9)


@given(strikes, st.floats(0.05, 0.6))
def test_ball_leaves_in_the_plane_of_path_and_face(d: Delivery, friction: float) -> None:
    face, path = (
        direction(d.dynamic_loft_rad, d.face_right_rad),
        direction(d.attack_rad, d.path_right_rad),
    )
    across = np.cross(face, path)
    assert velocity(deliver(d, Contact(friction))) @ across == pytest.approx(0.0, abs=1e-9)


@given(strikes, st.floats(0.05, 0.6), st.floats(0.0, 0.6))
def test_the_ball_has_no_more_energy_than_the_head_has_lost(
    d: Delivery, friction: float, grip: float
) -> None:
    contact = Contact(friction, grip)
    launch = deliver(d, contact)
    head = d.club_speed_mps * direction(d.attack_rad, d.path_right_rad)
    after = head - BALL_MASS / contact.head_mass * velocity(launch)
    lost = 0.5 * contact.head_mass * float(head @ head - after @ after)
    spinning = 0.2 * BALL_MASS * (BALL_RADIUS * launch.spin_rad_s) ** 2
    assert 0.5 * BALL_MASS * launch.speed_mps**2 + spinning <= lost


@given(strikes)
def test_a_mirrored_delivery_is_the_mirrored_launch(d: Delivery) -> None:
    mirrored = Delivery(
        d.club_speed_mps, d.dynamic_loft_rad, d.attack_rad, -d.path_right_rad, -d.face_right_rad
    )
    here, there = deliver(d).row(), deliver(mirrored).row()
    assert there == pytest.approx(here * [1, 1, 1, -1, -1], abs=1e-9)


def test_path_right_of_the_face_starts_right_and_curves_left() -> None:
    # Common practice, no source: the ball starts nearer the face and curves away from the path.
    launch = deliver(delivery(43.0, path=5.0))
    assert launch.start_right_rad > 0.0 > launch.axis_rad
    landing = fly(launch)
    assert landing.side_m < landing.carry_m * np.tan(launch.start_right_rad)


@pytest.mark.parametrize(
    ("speed", "loft", "path"), [(31, 43, 4), (25, 46, -6), (35, 35, 5), (18, 50, 5)]
)
def test_the_part_of_the_axis_left_out_takes_10_to_17_per_cent_off_the_curve(
    speed: float, loft: float, path: float
) -> None:
    d = delivery(loft, path, speed=speed)
    launch = deliver(d)
    axis = np.cross(
        direction(d.attack_rad, d.path_right_rad), direction(d.dynamic_loft_rad, d.face_right_rad)
    )
    axis /= -np.linalg.norm(axis) * np.sign(axis[1])  # backspin points to -y
    assert axis @ velocity(launch) == pytest.approx(0.0, abs=1e-9)  # no rifle spin
    out = np.empty(10)
    fly_to_ground(
        0.0, 0.0, 0.0, *velocity(launch), launch.spin_rad_s, *axis,
        body_row(REFERENCE_DAY), MID.row(), wind_row(CALM), *level_net(),
        0.05, 8, 600, out, np.empty((0, 3)),
    )  # fmt: skip
    short = fly(launch)
    right = launch.start_right_rad

    def curve(ahead: float, side: float) -> float:
        return side * cos(right) - ahead * sin(right)

    assert short.carry_m == pytest.approx(out[0], rel=1e-3)
    share = curve(short.carry_m, short.side_m) / curve(out[0], -out[1])
    assert 0.83 <= share <= 0.90


@given(st.floats(8, 60), st.floats(12, 55), st.floats(3.0, 40.0), st.floats(-8, 2))
def test_the_delivery_found_for_a_ball_gives_that_ball_again(
    speed: float, launch_deg: float, ratio: float, attack: float
) -> None:
    assume(ratio * speed / RPM < 16_000)
    wanted = Launch(speed, radians(launch_deg), ratio * speed)
    assume(degrees(launch_loft(speed, wanted.launch_rad, wanted.spin_rad_s, 0.0)[0]) < 66.0)
    try:
        found = delivery_for(speed, wanted.launch_rad, wanted.spin_rad_s, radians(attack))
    except OutOfRangeError:
        assume(False)  # such a ball would need a head faster than any
    assert deliver(*found).row() == pytest.approx(wanted.row(), rel=1e-6, abs=1e-6)


def test_launch_and_spin_say_which_loft_was_delivered() -> None:
    hit = strike(31.3, radians(50.0), radians(-5.0))
    loft, spin_loft = launch_loft(hit.speed_mps, hit.launch_rad, hit.spin_rad_s, radians(-5.0))
    assert (degrees(loft), degrees(spin_loft)) == pytest.approx((45.0, 50.0))


@pytest.mark.parametrize(
    ("launch", "rpm", "loft", "consistent"),
    [
        (31.0, 8500, 45.0, True),
        (31.0, 8500, 52.0, False),  # 7 deg off the loft said
        (31.0, 850, 45.0, False),  # a digit of the spin lost: 12 deg off
        (45.0, 8500, 45.0, False),  # launched as high as the face points, yet spinning
        (3.0, 9000, 18.0, False),  # that much spin asks for more grip than a face has
        (31.0, 99_000, 45.0, False),  # no strike at all
        (float("nan"), 8500, 45.0, False),
    ],
)
def test_readings_that_cannot_be_are_told_from_those_that_can(
    launch: float, rpm: float, loft: float, consistent: bool
) -> None:
    said = is_consistent(32.0, radians(launch), rpm * RPM, radians(-5.0), radians(loft))
    assert said is consistent


def test_bad_input_is_one_clear_line() -> None:
    with pytest.raises(OutOfRangeError, match=r"^path = 40 deg is outside -30 to 30 deg$"):
        delivery(45.0, path=40.0)
    with pytest.raises(OutOfRangeError, match=r"^spin loft = 77 deg is outside 5 to 75 deg$"):
        deliver(delivery(72.0))
    with pytest.raises(OutOfRangeError, match=r"^spin at that ball speed = 16000 rpm is outside"):
        launch_loft(10.0, 0.5, 16_000 * RPM, 0.0)
    with pytest.raises(OutOfRangeError, match="spin loft = 3 deg"):
        delivery_for(30.0, radians(3.0), 0.0, 0.0)
