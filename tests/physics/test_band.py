"""One ball with every set: the same landings and paths as one by one."""

from math import radians

import numpy as np
import pytest

from carrybook.base.constants import RPM
from carrybook.base.errors import NoSolutionError
from carrybook.physics.aerodynamics import BAND
from carrybook.physics.band import UNGUARDED, flight_numbers, fly_band, guard_flight
from carrybook.physics.flight import Launch, body_row, fly, fly_path
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.wind import Wind

LAUNCH = Launch(32.0, radians(30.0), 8800 * RPM, radians(5.0))


def test_the_band_is_its_sets_in_order() -> None:
    air, wind = Air(285.0, 98_000.0, 0.6), Wind(4.0, 1.0)
    flown = fly_band(LAUNCH, air, wind, height_change_m=-2.0)
    assert (flown.launch, flown.air, flown.wind) == (LAUNCH, air, wind)
    for a, landing, path in zip(BAND, flown.landings, flown.paths, strict=True):
        assert landing == fly(LAUNCH, air, wind, aerodynamics=a, height_change_m=-2.0)
        alone = fly_path(LAUNCH, air, wind, aerodynamics=a, height_change_m=-2.0)
        np.testing.assert_array_equal(path, alone)


def test_paths_end_where_landings_are() -> None:
    flown = fly_band(LAUNCH, wind=Wind(5.0, 0.5))
    for landing, path in zip(flown.landings, flown.paths, strict=True):
        assert path[-1] == pytest.approx([landing.carry_m, -landing.side_m, 0.0], abs=0.02)


def test_low_carries_least_and_high_most_where_spin_is_high() -> None:
    carries = [landing.carry_m for landing in fly_band(LAUNCH).landings]
    assert carries == sorted(carries)
    assert carries[2] > 1.05 * carries[0]


def test_ground_that_is_never_reached_is_said_so() -> None:
    with pytest.raises(NoSolutionError, match="does not come down"):
        fly_band(LAUNCH, height_change_m=50.0)


def lob(rpm: float, speed: float = 20.0) -> Launch:
    return Launch(speed, radians(30.0), rpm * RPM)


def test_slow_with_little_spin_the_band_is_eight_per_cent_at_least() -> None:
    flown = fly_band(lob(2000))
    carries = [landing.carry_m for landing in flown.landings]
    carry = flown.middle.carry_m
    assert carry == fly(lob(2000)).carry_m
    assert flown.carry_low_m == pytest.approx(min(*carries, 0.92 * carry))
    assert flown.carry_high_m == pytest.approx(max(*carries, 1.08 * carry))
    (warning,) = flown.warnings
    assert "lift can vanish or reverse" in warning
    assert "8 % either way" in warning


@pytest.mark.parametrize("launch", [lob(6500), lob(3000), lob(4000, 40.0)])
def test_with_spin_or_speed_the_band_is_that_of_the_sets(launch: Launch) -> None:
    # lyu-2020: normal lift again at 2500 rpm.
    flown = fly_band(launch)
    carries = [landing.carry_m for landing in flown.landings]
    assert (flown.carry_low_m, flown.carry_high_m) == (min(carries), max(carries))
    assert not any("reverse" in warning for warning in flown.warnings)


def test_warnings_name_what_is_left() -> None:
    assert fly_band(Launch(36.0, radians(24.0), 6000 * RPM)).warnings == ()
    (spin,) = fly_band(Launch(44.0, radians(25.0), 9500 * RPM)).warnings
    assert spin.startswith("spin parameter 0.48 to 1.2")
    slow = fly_band(Launch(8.0, radians(60.0), 3000 * RPM)).warnings
    assert [w.split(" ")[0] for w in slow] == ["spin", "Reynolds"]


def test_a_head_wind_blows_the_ball_faster_through_the_air() -> None:
    wind, calm = Wind(8.0), Wind(0.0)
    least = []
    for day in (wind, calm):
        path = fly_path(LAUNCH, wind=day)
        spin = fly(LAUNCH, wind=day).spin_rad_s
        s, re, w = flight_numbers(LAUNCH, path, spin, REFERENCE_DAY, day)
        assert len(s) == len(re) == len(w) == len(path) - 1
        least.append(re.min())
    assert least[0] > 1.1 * least[1]


def test_numbers_along_a_flight_begin_and_end_as_they_must() -> None:
    path, landing = fly_path(LAUNCH), fly(LAUNCH)
    s, re, spin = flight_numbers(LAUNCH, path, landing.spin_rad_s, REFERENCE_DAY)
    radius, per_speed = body_row(REFERENCE_DAY)[2], body_row(REFERENCE_DAY)[1]
    assert s[0] == pytest.approx(LAUNCH.spin_rad_s * radius / LAUNCH.speed_mps)
    assert re[0] == pytest.approx(LAUNCH.speed_mps * per_speed)
    assert re[-1] == pytest.approx(landing.speed_mps * per_speed, rel=0.02)
    assert spin[-1] == pytest.approx(landing.spin_rad_s, rel=0.01)


def test_a_ball_that_hardly_flies_has_numbers_too() -> None:
    assert fly_band(Launch(1.0, 0.0, 0.0)).warnings


def test_a_guard_says_what_a_flight_leaves_and_an_ordinary_one_leaves_nothing() -> None:
    slow, wedge, spun = lob(2000), lob(6500, 27.0), Launch(34.0, radians(38.0), 15_000 * RPM)
    seen = []
    for launch in (slow, wedge, spun):
        landing, path = fly(launch), fly_path(launch)
        seen.append(guard_flight(launch, path, landing.spin_rad_s, REFERENCE_DAY))
        assert seen[-1].warnings == fly_band(launch).warnings
    assert [g.reverse for g in seen] == [True, False, False]
    assert [g.spin_beyond for g in seen] == [False, False, True]
    assert not any(g.reynolds_beyond for g in seen)
    assert UNGUARDED.warnings == seen[1].warnings == ()


def test_very_slow_flights_are_beyond_the_reynolds_numbers_of_the_sets() -> None:
    crawl = Launch(8.0, radians(40.0), 3000 * RPM)
    (warning,) = [w for w in fly_band(crawl).warnings if "Reynolds" in w]
    assert "outside 30000 to 250000" in warning
