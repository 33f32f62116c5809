"""Flight against closed forms, SciPy's DOP853 at tight tolerance, and stored high-order results."""

import csv
import tracemalloc
from dataclasses import replace
from math import atan, cosh, degrees, hypot, log, radians, sin, tanh
from pathlib import Path
from runpy import run_path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from carrybook.base.constants import BALL_AREA, BALL_MASS, BALL_RADIUS, GRAVITY, RPM
from carrybook.base.errors import NoSolutionError, OutOfRangeError
from carrybook.base.numerics import Floats
from carrybook.physics import flight, flight_steps
from carrybook.physics.aerodynamics import BAND, MID, Aerodynamics
from carrybook.physics.flight import (
    Launch,
    body_row,
    fly,
    fly_batch,
    fly_path,
    level_carries,
    level_net,
    wind_row,
)
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.ground import flat_ground
from carrybook.world.wind import CALM, Wind

NO_AIR = Aerodynamics(0.0, 1.0, 0.0, 0.0, 0.0, spin_decay=0.0)
WEDGE = Launch(30.0, radians(30.0), 9000.0 * RPM)


# -- closed forms --------------------------------------------------------------------------------


@pytest.mark.parametrize("angle", [20.0, 45.0, 60.0])
def test_without_air_the_range_is_galileos(angle: float) -> None:
    landing = fly(Launch(30.0, radians(angle), 0.0), aerodynamics=NO_AIR)
    assert landing.carry_m == pytest.approx(900.0 * sin(radians(2.0 * angle)) / GRAVITY, abs=1e-6)
    assert landing.apex_m == pytest.approx(
        (30.0 * sin(radians(angle))) ** 2 / 2.0 / GRAVITY, abs=1e-6
    )
    assert degrees(landing.descent_rad) == pytest.approx(angle, abs=1e-6)


# Erlichson 1983 / MacDonald & Hanzely 1991, Am. J. Phys.: drag and lift linear in velocity have a
# closed solution; values worked from it: v0, angle, a, b -> range, apex, time, descent, speed.
LINEAR = [
    (30.0, 30.0, 0.15, 0.10, 69.5946, 12.5657, 3.57499, 40.1259, 20.3256),
    (40.0, 25.0, 0.20, 0.15, 106.2711, 18.9850, 4.80872, 43.6592, 20.7311),
]


@pytest.mark.parametrize(
    ("v", "angle", "a", "b", "carry", "apex", "time", "descent", "speed"), LINEAR
)
def test_linear_drag_and_lift_have_a_closed_form(
    v: float, angle: float, a: float, b: float, carry: float, apex: float, time: float,
    descent: float, speed: float,
) -> None:  # fmt: skip
    # C_D = k S makes drag linear in speed, and C_L = (limit / scale) S lift, while S << scale.
    spin, body = 500.0, body_row(REFERENCE_DAY)
    unit = body[0] * BALL_RADIUS * spin
    linear = Aerodynamics(b / unit * 1e7, 1e7, 0.0, a / unit, 0.0, spin_decay=0.0)
    landing = fly(Launch(v, radians(angle), spin), aerodynamics=linear)
    assert landing.carry_m == pytest.approx(carry, abs=2e-4)
    assert landing.apex_m == pytest.approx(apex, abs=2e-4)
    assert landing.time_s == pytest.approx(time, abs=1e-5)
    assert degrees(landing.descent_rad) == pytest.approx(descent, abs=1e-4)
    assert landing.speed_mps == pytest.approx(speed, abs=1e-4)


@pytest.mark.parametrize("seconds", [1.0, 2.0, 3.0])
def test_a_dropped_ball_follows_the_hyperbolic_tangent(seconds: float) -> None:
    # Quadratic drag, fall from rest: v = vt tanh(g t / vt), y = vt^2 / g ln cosh(g t / vt).
    drag_only = replace(NO_AIR, drag_base=0.25)
    body = body_row(REFERENCE_DAY)
    terminal = (GRAVITY / (body[0] * 0.25)) ** 0.5
    fall = terminal**2 / GRAVITY * log(cosh(GRAVITY * seconds / terminal))
    out = np.empty(10)
    flight_steps.fly_to_ground(
        0.0, 0.0, fall, 0.0, 0.0, 0.0, 0.0, 0.0, -1.0, 0.0, body, drag_only.row(), wind_row(CALM),
        *level_net(), 0.05, 0, 600, out, np.empty((0, 3)),
    )  # fmt: skip
    assert out[7] == pytest.approx(seconds, abs=1e-5)
    assert -out[5] == pytest.approx(terminal * tanh(GRAVITY * seconds / terminal), abs=1e-4)


def test_terminal_speed_of_a_stated_ball() -> None:
    # m 0.04593 kg, r 0.021335 m, density 1.225 kg/m3, C_D 0.25: 45.354 m/s by hand.
    assert (
        pytest.approx(45.354, abs=5e-4)
        == (2.0 * BALL_MASS * GRAVITY / (1.225 * BALL_AREA * 0.25)) ** 0.5
    )


def test_spin_is_lost_at_the_published_rate() -> None:
    # Dewhurst 2015: 0.0004 (mph)(rpm) a second, 340 rpm/s at 120 mph and 7097 rpm, is K = 1.91e-5;
    # ours is 2.0e-5 (smits-smith-1994): 356 to 358 rpm/s at once, a little less over a tenth.
    body = body_row(REFERENCE_DAY)
    _, _, _, rate = flight_steps.acceleration(
        120 * 0.44704, 0.0, 0.0, 10.0, 7097 * RPM, 0.0, -1.0, 0.0, body, MID.row(), wind_row(CALM)
    )
    assert -rate / RPM == pytest.approx(357.0, abs=1.5)


# -- symmetries ----------------------------------------------------------------------------------


@given(
    speed=st.floats(10.0, 45.0), angle=st.floats(15.0, 55.0), spin=st.floats(2000.0, 11000.0),
    tilt=st.floats(-30.0, 30.0), start=st.floats(-20.0, 20.0),
    wind=st.floats(0.0, 12.0), side=st.floats(0.0, 360.0),
)  # fmt: skip
def test_the_mirror_image_of_a_flight_is_a_flight(
    speed: float, angle: float, spin: float, tilt: float, start: float, wind: float, side: float
) -> None:
    launch = Launch(speed, radians(angle), spin * RPM, radians(tilt), radians(start))
    mirror = replace(launch, axis_rad=-launch.axis_rad, start_right_rad=-launch.start_right_rad)
    a = fly(launch, wind=Wind(wind, radians(side)))
    b = fly(mirror, wind=Wind(wind, -radians(side)))
    assert b.carry_m == pytest.approx(a.carry_m, abs=1e-6)
    assert b.side_m == pytest.approx(-a.side_m, abs=1e-6)


def test_a_uniform_wind_is_a_moving_frame() -> None:
    body, row = body_row(REFERENCE_DAY), WEDGE.row()
    wind = np.array([-4.0, 1.5, 0.0, 10.0, 0.0])  # no shear: the same at every height
    blown = _land(row, body, wind)
    level, up = 30.0 * np.cos(radians(30.0)), 30.0 * sin(radians(30.0))
    calm = np.empty(10)
    flight_steps.fly_to_ground(
        0.0, 0.0, 0.0, level + 4.0, -1.5, up, row[2], 0.0, -1.0, 0.0, body, MID.row(),
        wind_row(CALM), *level_net(), 0.05, 0, 600, calm, np.empty((0, 3)),
    )  # fmt: skip
    assert blown[7] == pytest.approx(calm[7], abs=1e-5)
    assert blown[0] == pytest.approx(calm[0] - 4.0 * calm[7], abs=1e-4)
    assert blown[1] == pytest.approx(calm[1] + 1.5 * calm[7], abs=1e-4)


def test_only_density_times_area_over_mass_matters() -> None:
    a = _land(WEDGE.row(), body_row(REFERENCE_DAY), wind_row(CALM))
    heavy = body_row(REFERENCE_DAY, mass=2.0 * BALL_MASS)
    heavy[0] *= 2.0
    assert _land(WEDGE.row(), heavy, wind_row(CALM)) == pytest.approx(a, rel=1e-12)


def test_thin_air_tends_to_no_air() -> None:
    thin = body_row(REFERENCE_DAY) * np.array([1e-9, 1.0, 1.0, 1.0])
    galileo = 900.0 * sin(radians(60.0)) / GRAVITY
    assert _land(WEDGE.row(), thin, wind_row(CALM))[0] == pytest.approx(galileo, abs=1e-5)


def test_directions_have_the_signs_they_are_said_to_have() -> None:
    calm = fly(WEDGE)
    assert fly(WEDGE, wind=Wind(5.0, 0.0)).carry_m < calm.carry_m  # into
    assert fly(WEDGE, wind=Wind(5.0, radians(180.0))).carry_m > calm.carry_m  # helping
    assert fly(WEDGE, wind=Wind(5.0, radians(90.0))).side_m < 0.0  # from the right, blows left
    assert fly(replace(WEDGE, axis_rad=radians(5.0))).side_m > 0.0  # tilted right, curves right
    assert fly(replace(WEDGE, start_right_rad=radians(3.0))).side_m > 0.0
    assert (
        fly(WEDGE, height_change_m=-6.0).carry_m
        > calm.carry_m
        > fly(WEDGE, height_change_m=6.0).carry_m
    )


def test_wind_into_costs_more_than_wind_helping_gives() -> None:  # common practice, no source
    calm, into, helping = (
        fly(WEDGE, wind=Wind(w, d)).carry_m for w, d in ((0, 0), (5, 0), (5, np.pi))
    )
    assert calm - into > 1.2 * (helping - calm)


# -- against an independent integrator -----------------------------------------------------------


LANDINGS = [
    {name: float(value) for name, value in row.items()}
    for row in csv.DictReader(
        (Path(__file__).parent / "data" / "landings.csv").read_text("utf-8").splitlines()
    )
]  # 1 000 of them, by tools/make_reference_landings.py
REFERENCE = run_path(str(Path(__file__).parents[2] / "tools" / "make_reference_landings.py"))
dop853, flight_of = REFERENCE["dop853"], REFERENCE["flight_of"]


@pytest.mark.parametrize("row", LANDINGS[:: len(LANDINGS) // 60])
def test_stored_landings_are_those_of_dop853(row: dict[str, float]) -> None:
    stored = [row[name] for name in ("carry_m", "side_m", "apex_m", "time_s", "spin_rad_s")]
    assert dop853(*flight_of(row)) == pytest.approx(stored, abs=2e-6)


def test_a_thousand_flights_land_where_dop853_lands_them() -> None:
    worst = dict.fromkeys(("carry_m", "side_m", "apex_m", "time_s"), 0.0)
    for row in LANDINGS:
        launch, air, wind, a, rise = flight_of(row)
        ours = fly(launch, air, wind, aerodynamics=a, height_change_m=rise)
        for name, most in worst.items():
            worst[name] = max(most, abs(getattr(ours, name) - row[name]))
        assert ours.spin_rad_s == pytest.approx(row["spin_rad_s"], rel=2e-4)
    assert len(LANDINGS) == 1000
    assert max(worst["carry_m"], worst["side_m"], worst["apex_m"]) < 1e-3, worst
    assert worst["time_s"] < 1e-3, worst


# Ours, from DOP853 at 1e-11 with density 1.225 kg/m3, viscosity 1.81e-5 Pa s, no wind:
# v0, angle, rpm, carry, apex, time, descent, landing speed, landing rpm, carry low, carry high.
STORED = [
    (20, 30, 6500, 30.65, 5.35, 2.239, 38.44, 14.51, 6302, 30.6, 30.7),
    (25, 30, 8000, 44.81, 8.69, 2.912, 43.33, 16.06, 7641, 43.3, 45.7),
    (30, 30, 9000, 60.32, 13.13, 3.642, 48.52, 17.38, 8450, 55.9, 63.0),
    (36, 28, 9500, 79.94, 18.34, 4.411, 51.91, 18.80, 8730, 71.8, 85.0),
    (44, 25, 9500, 107.12, 26.04, 5.400, 55.23, 20.59, 8470, 94.6, 115.0),
    (15, 32, 4500, 18.92, 3.29, 1.713, 36.75, 12.37, 4415, 19.1, 18.8),
    (25, 45, 7000, 42.97, 15.14, 3.706, 58.35, 17.08, 6652, 41.9, 43.5),
    (28, 38, 7500, 54.23, 15.59, 3.853, 54.42, 17.72, 7061, 52.0, 55.4),
]


@pytest.mark.parametrize("row", STORED)
def test_stored_flights_come_out_to_the_last_digit(row: tuple[float, ...]) -> None:
    v, angle, rpm, carry, apex, time, descent, speed, spin, low, high = row
    body = np.array(
        [
            1.225 * BALL_AREA / (2.0 * BALL_MASS),
            1.225 * 2.0 * BALL_RADIUS / 1.81e-5,
            BALL_RADIUS,
            GRAVITY,
        ]
    )
    launch = Launch(v, radians(angle), rpm * RPM)
    lows, middle, highs = (_land(launch.row(), body, wind_row(CALM), a) for a in BAND)
    assert middle[0] == pytest.approx(carry, abs=6e-3)
    assert middle[8] == pytest.approx(apex, abs=6e-3)
    assert middle[7] == pytest.approx(time, abs=6e-4)
    assert degrees(atan(-middle[5] / middle[3])) == pytest.approx(descent, abs=6e-3)
    assert hypot(middle[3], middle[5]) == pytest.approx(speed, abs=6e-3)
    assert middle[6] / RPM == pytest.approx(spin, abs=0.6)
    assert (lows[0], highs[0]) == pytest.approx((low, high), abs=0.06)


# -- kernels, steps, paths, refusals -------------------------------------------------------------


def test_half_the_step_moves_carry_by_less_than_a_millimetre(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    wind = Wind(6.0, radians(60.0))
    whole = fly(WEDGE, wind=wind)
    monkeypatch.setattr(flight, "STEPS", flight.STEPS / 2.0)
    half = fly(WEDGE, wind=wind)
    assert whole.carry_m == pytest.approx(half.carry_m, abs=1e-3)
    assert whole.side_m == pytest.approx(half.side_m, abs=1e-3)


def test_the_compiled_step_equals_the_plain_one() -> None:
    state = (1.0, 2.0, 3.0, 20.0, 1.0, 15.0, 800.0, 0.1, -0.99, -0.1)
    rest = (body_row(REFERENCE_DAY), MID.row(), wind_row(Wind(5.0, 1.0)))
    plain = flight_steps.acceleration.py_func(*state[3:6], 3.0, *state[6:], *rest)  # type: ignore[attr-defined]
    assert flight_steps.acceleration(*state[3:6], 3.0, *state[6:], *rest) == pytest.approx(
        plain, rel=1e-13
    )


def test_a_batch_gives_what_single_flights_give_whatever_the_number_of_parts() -> None:
    rng = np.random.default_rng(3)
    launches = [
        Launch(rng.uniform(15, 45), radians(rng.uniform(20, 50)), rng.uniform(3000, 10000) * RPM)
        for _ in range(700)
    ]
    wind = Wind(4.0, 1.0)
    rows = np.array([launch.row() for launch in launches])
    landed = fly_batch(
        rows, body_row(REFERENCE_DAY), MID.row()[None, :], np.zeros(700, dtype=np.int64),
        np.tile(wind_row(wind), (700, 1)), level_net(), np.zeros(3),
    )  # fmt: skip
    single = [fly(launch, wind=wind) for launch in launches[::97]]
    assert landed[::97, 0] == pytest.approx([s.carry_m for s in single], abs=1e-12)
    assert -landed[::97, 1] == pytest.approx([s.side_m for s in single], abs=1e-12)


def many(count: int) -> tuple[Floats, Floats, np.ndarray, Floats]:
    """Launches, winds, sets and starts of many balls."""
    rng = np.random.default_rng(12)
    low, high = (10.0, 0.2, 100.0, -0.3, -0.2), (45.0, 0.9, 1100.0, 0.3, 0.2)
    winds = np.column_stack(
        [rng.normal(0.0, 4.0, (count, 2)), np.tile([0.17, 10.0, 0.0], (count, 1))]
    )
    starts = rng.uniform(0.0, 3.0, (count, 3))
    return rng.uniform(low, high, (count, 5)), winds, rng.integers(0, 3, count), starts


def fly_many(launches: Floats, winds: Floats, which: np.ndarray, starts: Floats) -> Floats:
    return fly_batch(
        launches, body_row(REFERENCE_DAY), np.array([a.row() for a in BAND]), which, winds,
        level_net(), starts,
    )  # fmt: skip


def test_how_many_are_sorted_at_once_changes_no_bit(monkeypatch: pytest.MonkeyPatch) -> None:
    given = many(3000)
    whole = fly_many(*given)
    monkeypatch.setattr(flight, "_AT_ONCE", 37)
    np.testing.assert_array_equal(fly_many(*given), whole)


def test_working_memory_does_not_grow_with_the_number_of_balls() -> None:
    peaks = []
    for count in (40_000, 160_000):
        given = many(count)
        fly_many(*(rows[:10] for rows in given))  # compiled
        tracemalloc.start()
        landed = fly_many(*given)
        peaks.append(tracemalloc.get_traced_memory()[1] - landed.nbytes)
        tracemalloc.stop()
    assert peaks[1] < 4e6  # four megabytes for the work of 160 000 balls
    assert peaks[1] < 1.1 * peaks[0] + 1e5


def test_a_path_starts_at_the_ball_and_ends_at_the_landing() -> None:
    path = fly_path(WEDGE, height_change_m=2.0)
    landing = fly(WEDGE, height_change_m=2.0)
    assert path[0] == pytest.approx([0.0, 0.0, 0.0])
    assert path[-1] == pytest.approx([landing.carry_m, -landing.side_m, 2.0], abs=1e-4)
    assert path[:, 2].max() == pytest.approx(landing.apex_m, abs=0.02)


def test_a_ball_can_land_on_a_bank_it_flies_into() -> None:
    bank = flat_ground(slope_x=0.5)
    landed = fly_batch(
        Launch(20.0, radians(35.0), 5000 * RPM).row()[None, :],
        body_row(REFERENCE_DAY), MID.row()[None, :],
        np.zeros(1, dtype=np.int64), wind_row(CALM)[None, :],
        (bank.heights, bank.x0, bank.y0, bank.step), np.zeros(3),
    )  # fmt: skip
    assert landed[0, 2] == pytest.approx(0.5 * landed[0, 0], abs=1e-6)
    assert 3.0 < landed[0, 0] < fly(Launch(20.0, radians(35.0), 5000 * RPM)).carry_m


@pytest.mark.parametrize(
    ("launch", "message"),
    [
        (dict(speed_mps=-3.0), "ball speed = -3 m/s is outside 1 to 90 m/s"),
        (dict(speed_mps=float("nan")), "ball speed = nan m/s"),
        (dict(launch_rad=2.0), "launch angle = 114.592 deg is outside 0 to 80 deg"),
        (dict(spin_rad_s=5000.0), "spin = 47746.5 rpm is outside 0 to 16000 rpm"),
        (dict(axis_rad=1.5), "spin axis = 85.9437 deg is outside -80 to 80 deg"),
    ],
)
def test_a_launch_that_nobody_hits_is_refused(launch: dict[str, float], message: str) -> None:
    with pytest.raises(OutOfRangeError, match=message):
        replace(WEDGE, **launch)


def test_ground_that_is_never_reached_is_said_so() -> None:
    with pytest.raises(NoSolutionError, match=r"does not come down on ground \+40\.0 m"):
        fly(WEDGE, height_change_m=40.0)


def _land(row: Floats, body: Floats, wind: Floats, a: Aerodynamics = MID) -> Floats:
    return fly_batch(
        row[None, :], body, a.row()[None, :], np.zeros(1, dtype=np.int64), wind[None, :],
        level_net(), np.zeros(3),
    )[0]  # fmt: skip


def test_a_ball_without_a_speed_has_no_carry_and_harms_no_other() -> None:
    carries = level_carries(np.array([30.0, np.nan, 30.0]), radians(30.0), 30.0)
    assert np.isnan(carries).tolist() == [False, True, False]
    alone = fly(Launch(30.0, radians(30.0), 900.0)).carry_m
    assert carries[[0, 2]] == pytest.approx([alone, alone], abs=1e-12)
