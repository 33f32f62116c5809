"""Flight backwards: round trips, wind and height, and what cannot be reached."""

from math import radians

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from carrybook.base.errors import NoSolutionError
from carrybook.physics.aerodynamics import BAND, MID, Aerodynamics
from carrybook.physics.flight import (
    Launch,
    body_row,
    fly,
    fly_batch,
    level_carries,
    level_net,
    wind_row,
)
from carrybook.physics.solve import carry_speeds, solve_landings, speed_for_carry
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.wind import Wind


@given(
    carry=st.floats(10.0, 130.0),
    launch=st.floats(20.0, 48.0),
    ratio=st.floats(8.0, 33.0),
    celsius=st.floats(-5.0, 40.0),
    which=st.integers(0, 2),
)
def test_the_solved_speed_carries_what_was_asked_and_a_refusal_is_true(
    carry: float, launch: float, ratio: float, celsius: float, which: int
) -> None:
    air, a, angle = Air(celsius + 273.15), BAND[which], radians(launch)
    try:
        speeds = [speed_for_carry(carry, angle, ratio, air, aerodynamics=a)]
    except NoSolutionError:
        # so much spin goes with speed that more speed carries no further: nothing gets there
        speeds = [v for v in np.linspace(5.0, 90.0, 60) if ratio * v < 1675.0]
        reached = [_carry(v, angle, ratio, air, a) for v in speeds]
        assert max(reached) < 1.02 * carry
    else:
        if ratio * speeds[0] < 1675.0:  # the spin that a launch allows
            assert _carry(speeds[0], angle, ratio, air, a) == pytest.approx(carry, abs=2e-3)


def _carry(speed: float, launch: float, ratio: float, air: Air, a: Aerodynamics) -> float:
    return fly(Launch(speed, launch, ratio * speed), air, aerodynamics=a).carry_m


def test_a_landing_spot_in_a_cross_wind_on_a_hill_is_hit() -> None:
    wind, rise = Wind(6.0, radians(70.0)), 2.5
    target = np.array([[80.0, radians(4.0), rise]])
    solved = solve_landings(
        target, np.array([[radians(31.0), 29.0, 0.0]]), body_row(REFERENCE_DAY), MID.row()[None, :],
        np.zeros(1, dtype=np.int64), wind_row(wind),
    )[0]  # fmt: skip
    assert solved[7] == 1.0
    blown = Wind(6.0, radians(70.0) - solved[1])  # the same wind, relative to the solved start line
    landing = fly(
        Launch(solved[0], radians(31.0), 29.0 * solved[0], 0.0, solved[1]),
        wind=blown,
        height_change_m=rise,
    )
    assert landing.distance_m == pytest.approx(80.0, abs=2e-3)
    assert np.arctan2(landing.side_m, landing.carry_m) == pytest.approx(radians(4.0), abs=1e-5)
    assert landing.time_s == pytest.approx(solved[2], abs=1e-6)


def test_many_carries_at_once_are_what_single_ones_are() -> None:
    carries = np.linspace(20.0, 120.0, 40)
    many = carry_speeds(carries, np.full(40, 0.5), np.full(40, 28.0), REFERENCE_DAY)
    single = [speed_for_carry(c, 0.5, 28.0, REFERENCE_DAY) for c in carries[::13]]
    assert many[::13] == pytest.approx(single, rel=1e-12)
    assert np.all(np.diff(many) > 0.0)


def test_what_cannot_be_reached_is_said_so() -> None:
    assert np.isnan(
        carry_speeds(np.array([900.0]), np.array([0.5]), np.array([28.0]), REFERENCE_DAY)
    )[0]
    with pytest.raises(NoSolutionError, match=r"no ball speed up to 90 m/s carries 900\.0 m"):
        speed_for_carry(900.0, 0.5, 28.0, REFERENCE_DAY)


def test_a_thousand_landing_spots_in_wind_with_curve_and_climb_are_hit_within_a_centimetre() -> (
    None
):
    rng = np.random.default_rng(11)
    n = 1000
    targets = np.column_stack(
        [rng.uniform(20.0, 120.0, n), rng.uniform(-0.3, 0.3, n), rng.uniform(-6.0, 6.0, n)]
    )
    shots = np.column_stack(
        [rng.uniform(0.4, 0.65, n), rng.uniform(15.0, 27.0, n), rng.uniform(-0.25, 0.25, n)]
    )
    aero, which = np.array([a.row() for a in BAND]), rng.integers(0, 3, n)
    air, wind = Air(280.0, 97_000.0, 0.8), wind_row(Wind(4.0, 2.0), 0.1, -6.0)
    solved = solve_landings(targets, shots, body_row(air), aero, which, wind)
    found = solved[:, 7] > 0.0
    assert found.mean() > 0.97
    speed, right = solved[:, 0], solved[:, 1]
    rows = np.column_stack([speed, shots[:, 0], shots[:, 1] * speed, shots[:, 2], right])
    for climb in np.unique(np.round(targets[found, 2])):  # onto ground of that height, forward
        near = found & (np.round(targets[:, 2]) == climb)
        starts = np.column_stack([np.zeros((near.sum(), 2)), climb - targets[near, 2]])
        winds = np.tile(wind, (int(near.sum()), 1))
        winds[:, 4] += starts[:, 2]
        landed = fly_batch(
            rows[near], body_row(air), aero, which[near], winds, level_net(climb), starts
        )
        x = targets[near, 0] * np.cos(targets[near, 1])
        y = -targets[near, 0] * np.sin(targets[near, 1])
        miss = np.hypot(landed[:, 0] - x, landed[:, 1] - y)
        assert miss.max() < 0.01


def test_carry_to_speed_and_back_is_exact_for_curving_balls_too() -> None:
    carries, thin = np.linspace(15.0, 110.0, 60), Air(300.0, 80_000.0, 0.2)
    launch, ratio = np.full(60, 0.5), np.full(60, 24.0)
    for tilt in (-0.2, 0.0, 0.15):
        speeds = carry_speeds(carries, launch, ratio, thin, axis_rad=tilt)
        back = level_carries(speeds, launch, ratio, thin, axis_rad=tilt)
        np.testing.assert_allclose(back, carries, atol=2e-4)
    straight, bent = (carry_speeds(carries, launch, ratio, thin, axis_rad=t) for t in (0.0, 0.2))
    assert (bent > straight).all()  # tilted lift holds it up less
