"""What reports say of the air, against printed pressures, printed dew points and CoolProp."""

import pytest
from CoolProp.CoolProp import HAPropsSI

from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.world.air import (
    Air,
    air_from_dew_point,
    dew_point,
    relative_humidity,
    saturation_pressure,
    station_pressure,
)


def kelvin(celsius: float) -> float:
    return celsius + 273.15


# The equation of CIPM-2007 (picard-2008) worked through independently of this code.
@pytest.mark.parametrize(("t", "psv"), [(5.0, 872.535), (20.0, 2339.163), (35.0, 5628.865)])
def test_saturation_pressure_is_the_worked_value(t: float, psv: float) -> None:
    assert saturation_pressure(kelvin(t)) == pytest.approx(psv, abs=5e-3)


# 2339.163 Pa at 20 C, 872.535 at 5 C: worked as above, so 37.301 % is their ratio.
def test_humidity_is_the_ratio_of_two_saturation_pressures() -> None:
    assert relative_humidity(kelvin(20.0), kelvin(5.0)) == pytest.approx(0.373011, abs=5e-6)
    assert relative_humidity(kelvin(20.0), kelvin(20.0)) == 1.0


@pytest.mark.parametrize("celsius", [1.0, 10.0, 20.0, 35.0])
@pytest.mark.parametrize("humidity", [0.35, 0.6, 0.95])
def test_dew_point_agrees_with_coolprop(celsius: float, humidity: float) -> None:
    # CoolProp's humid air (ASHRAE RP-1485); below freezing it takes ice, so only dew above 0 C.
    there = HAPropsSI("D", "T", kelvin(celsius), "P", 101_325.0, "R", humidity)
    if there > kelvin(0.1):
        assert dew_point(kelvin(celsius), humidity) == pytest.approx(there, abs=0.02)


@pytest.mark.parametrize("celsius", [-25.0, -3.0, 0.0, 21.0, 50.0])
@pytest.mark.parametrize("humidity", [0.001, 0.02, 0.5, 0.999, 1.0])
def test_dew_point_and_humidity_undo_each_other(celsius: float, humidity: float) -> None:
    dew = dew_point(kelvin(celsius), humidity)
    assert dew <= kelvin(celsius) + 1e-9
    assert relative_humidity(kelvin(celsius), min(dew, kelvin(celsius))) == pytest.approx(
        humidity, rel=1e-9
    )


@pytest.mark.parametrize("humidity", [0.0, 1.01, float("nan")])
def test_no_dew_point_without_vapour(humidity: float) -> None:
    with pytest.raises(OutOfRangeError, match="relative humidity"):
        dew_point(kelvin(20.0), humidity)


@pytest.mark.parametrize(
    ("t", "dew", "message"),
    [
        (10.0, 10.5, r"dew point = 10.5 C is above the air temperature, 10 C"),
        (10.0, -101.0, r"dew point = -101 C is outside -100 to inf C"),
        (10.0, float("nan"), r"dew point = nan C"),
    ],
)
def test_dew_points_that_cannot_be(t: float, dew: float, message: str) -> None:
    with pytest.raises(BadInputError, match=message):
        relative_humidity(kelvin(t), kelvin(dew))


def test_air_from_dew_point() -> None:
    air = air_from_dew_point(kelvin(20.0), kelvin(5.0), 100_000.0)
    assert air == Air(kelvin(20.0), 100_000.0, relative_humidity(kelvin(20.0), kelvin(5.0)))


# ISO 2533 / U.S. Standard Atmosphere, pressure by height [m, Pa]; to 1 Pa.
@pytest.mark.parametrize(
    ("height", "pressure"),
    [(0.0, 101_325.0), (500.0, 95_461.0), (1e3, 89_875.0), (1500.0, 84_556.0), (2e3, 79_495.0)],
)
def test_standard_setting_gives_the_standard_atmosphere(height: float, pressure: float) -> None:
    assert station_pressure(101_325.0, height) == pytest.approx(pressure, abs=1.0)


# The formula of altimeter settings in hPa and m (from memory), worked by hand.
@pytest.mark.parametrize(
    ("qnh", "height"), [(1013.25, 300.0), (1013.25, 1300.0), (985.0, 120.0), (1035.0, -50.0)]
)
def test_station_pressure_is_that_of_the_altimeter_formula(qnh: float, height: float) -> None:
    by_hand = (qnh**0.190263 - 8.417286e-5 * height) ** (1.0 / 0.190263)
    assert station_pressure(qnh * 100.0, height) / 100.0 == pytest.approx(by_hand, abs=0.01)


@pytest.mark.parametrize(("height", "hectopascal"), [(300.0, 977.7), (1300.0, 866.5)])
def test_station_pressure_at_two_heights(height: float, hectopascal: float) -> None:
    assert station_pressure(101_325.0, height) / 100.0 == pytest.approx(hectopascal, abs=0.05)


def test_at_sea_level_nothing_is_taken_off() -> None:
    assert station_pressure(99_870.0, 0.0) == pytest.approx(99_870.0, rel=1e-12)


@pytest.mark.parametrize(
    ("qnh", "height", "message"),
    [
        (60_000.0, 0.0, "sea-level pressure = 600 hPa is outside 850 to 1090 hPa"),
        (101_325.0, 5000.0, "elevation = 5000 m is outside -500 to 4500 m"),
        (101_325.0, float("nan"), "elevation = nan m"),
    ],
)
def test_pressures_and_elevations_of_no_course(qnh: float, height: float, message: str) -> None:
    with pytest.raises(OutOfRangeError, match=message):
        station_pressure(qnh, height)
