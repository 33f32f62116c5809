"""Heat index and wind chill against the charts they were made for, and their tiers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from carrybook.base.constants import CELSIUS_ZERO, MILE_PER_HOUR
from carrybook.base.errors import OutOfRangeError
from carrybook.world.air import Air
from carrybook.world.exposure import (
    SUN_ADDS_K,
    ColdTier,
    Exposure,
    HeatTier,
    exposure_of,
    heat_index,
    wind_chill,
)


def kelvin(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) / 1.8 + CELSIUS_ZERO


def fahrenheit(kelvins: float) -> float:
    return (kelvins - CELSIUS_ZERO) * 1.8 + 32.0


@pytest.mark.parametrize(
    ("temperature", "humidity", "chart"),
    [(90, 50, 95), (100, 40, 109), (86, 90, 105), (96, 50, 108), (80, 40, 80)],
)
def test_the_chart_of_the_heat_index(temperature: float, humidity: float, chart: float) -> None:
    """rothfusz-1990: the fit keeps to 1.3 F of the chart, which is printed in whole degrees."""
    found = fahrenheit(heat_index(kelvin(temperature), humidity / 100.0))
    assert found == pytest.approx(chart, abs=1.3 + 0.5)


@pytest.mark.parametrize(
    ("temperature", "wind", "chart"),
    [(40, 10, 34), (30, 15, 19), (20, 20, 4), (0, 15, -19), (-10, 30, -39), (40, 5, 36)],
)
def test_the_chart_of_the_wind_chill(temperature: float, wind: float, chart: float) -> None:
    """nws-chill-2001, printed in whole degrees."""
    found = wind_chill(kelvin(temperature), wind * MILE_PER_HOUR)
    assert found is not None
    assert fahrenheit(found) == pytest.approx(chart, abs=0.51)


def test_no_wind_chill_where_it_is_mild_or_calm() -> None:
    assert wind_chill(kelvin(51.0), 10.0) is None
    assert wind_chill(kelvin(20.0), 2.9 * MILE_PER_HOUR) is None


def test_the_two_adjustments_of_the_heat_index() -> None:
    """Very dry air feels cooler than the regression; very damp air at 80 to 87 F warmer."""
    dry, damp = heat_index(kelvin(95.0), 0.05), heat_index(kelvin(82.0), 0.95)
    plain_dry = -42.379 + 2.04901523 * 95 + 10.14333127 * 5 - 0.22475541 * 95 * 5
    plain_dry += -6.83783e-3 * 95**2 - 5.481717e-2 * 25 + 1.22874e-3 * 95**2 * 5
    plain_dry += 8.5282e-4 * 95 * 25 - 1.99e-6 * 95**2 * 25
    assert fahrenheit(dry) == pytest.approx(plain_dry - 2.0, abs=1e-6)  # (13 - 5) / 4 sqrt(17 / 17)
    assert fahrenheit(damp) > fahrenheit(heat_index(kelvin(82.0), 0.85)) + 2.0


@given(st.floats(-20.0, 45.0), st.floats(0.0, 0.9))
def test_warmer_is_never_cooler(celsius: float, humidity: float) -> None:
    """Where the simple form ends, the regression begins up to a degree and a half lower."""
    here, there = (heat_index(t + CELSIUS_ZERO, humidity) for t in (celsius, celsius + 5.0))
    assert there > here - 0.5


@given(st.floats(-20.0, 9.0), st.floats(2.0, 20.0))
def test_more_wind_is_colder(celsius: float, wind: float) -> None:
    here, there = (wind_chill(celsius + CELSIUS_ZERO, v) for v in (wind, wind + 3.0))
    assert here is not None
    assert there is not None
    assert there < here < celsius + CELSIUS_ZERO + 1.0


@pytest.mark.parametrize(
    ("index", "tier"),
    [
        (79.9, None),
        (80.1, HeatTier.CAUTION),
        (90.1, HeatTier.EXTREME_CAUTION),
        (103.1, HeatTier.DANGER),
        (125.1, HeatTier.EXTREME_DANGER),
    ],
)
def test_tiers_of_heat(index: float, tier: HeatTier | None) -> None:
    """nws-heat-2015; full sun moves the limits down by 15 F."""
    assert Exposure(kelvin(index), None, 300.0).heat is tier
    assert Exposure(kelvin(index - 15.0), None, 300.0).heat_in_sun is tier
    assert pytest.approx(15.0 / 1.8) == SUN_ADDS_K


@pytest.mark.parametrize(
    ("felt", "tier"),
    [(42, None), (41, ColdTier.COLD), (14, ColdTier.VERY_COLD), (-18, ColdTier.FROSTBITE)],
)
def test_tiers_of_cold(felt: float, tier: ColdTier | None) -> None:
    assert Exposure(300.0, None, kelvin(felt - 1e-6)).cold is tier


def test_the_worst_of_some_hours() -> None:
    cold, hot = Air(278.15, 1e5, 0.8), Air(305.15, 1e5, 0.6)
    worst = exposure_of([(cold, 8.0), (hot, 1.0), (cold, 0.0)])
    assert worst.heat_index_k == heat_index(305.15, 0.6)
    assert worst.wind_chill_k == wind_chill(278.15, 8.0)
    assert worst.coldest_k == worst.wind_chill_k
    calm = exposure_of([(cold, 0.0)])
    assert (calm.wind_chill_k, calm.coldest_k) == (None, 278.15)


def test_what_no_air_is() -> None:
    with pytest.raises(OutOfRangeError, match=r"air temperature = 70 C is outside -25 to 50 C"):
        heat_index(343.15, 0.5)
    with pytest.raises(OutOfRangeError, match=r"relative humidity = 1.2 is outside 0 to 1"):
        heat_index(300.0, 1.2)
