"""Air against the CIPM-2007 equation worked by hand, CoolProp, OIML and the standard atmosphere."""

import numpy as np
import pytest
from CoolProp.CoolProp import HAPropsSI

from carrybook.base.errors import OutOfRangeError
from carrybook.physics.air import air_density, air_viscosity, density_error
from carrybook.world.air import REFERENCE_DAY, Air

# Picard, Davis, Glaser & Fujii, Metrologia 45 (2008) 149: the equation worked through term by term,
# independently of this code: t [degC], p [Pa], h [1], density [kg/m3].
CIPM = [
    (20.0, 101_325.0, 0.5, 1.199314),
    (20.0, 101_325.0, 0.0, 1.204557),
    (15.0, 101_325.0, 0.0, 1.225521),
    (5.0, 101_325.0, 0.5, 1.267663),
    (30.0, 101_325.0, 0.5, 1.155513),
    (35.0, 101_325.0, 0.9, 1.124221),
    (25.0, 84_000.0, 0.3, 0.977557),
]


def air(celsius: float, pressure: float = 101_325.0, humidity: float = 0.5) -> Air:
    return Air(celsius + 273.15, pressure, humidity)


@pytest.mark.parametrize(("t", "p", "h", "density"), CIPM)
def test_density_is_the_worked_value(t: float, p: float, h: float, density: float) -> None:
    assert air_density(air(t, p, h)) == pytest.approx(density, abs=1.5e-6)


@pytest.mark.parametrize("celsius", [-10.0, -5.0, 5.0, 15.0, 21.0, 27.0, 40.0, 45.0])
@pytest.mark.parametrize("hectopascal", [600.0, 650.0, 850.0, 1013.25, 1080.0])
@pytest.mark.parametrize("humidity", [0.0, 0.3, 0.6, 0.95])
def test_density_agrees_with_coolprop(celsius: float, hectopascal: float, humidity: float) -> None:
    # CoolProp's humid air (ASHRAE RP-1485 real-gas mixture); specific volume per kg of humid air.
    t, p = celsius + 273.15, hectopascal * 100.0
    coolprop = 1.0 / HAPropsSI("Vha", "T", t, "P", p, "R", humidity)
    inside = 15.0 <= celsius <= 27.0
    tolerance = 5e-4 if inside else 8e-4
    assert air_density(air(celsius, p, humidity)) == pytest.approx(coolprop, rel=tolerance)


@pytest.mark.parametrize(("t", "h"), [(20.0, 50.0), (5.0, 50.0), (30.0, 50.0)])
def test_density_agrees_with_the_simple_formula_of_oiml(t: float, h: float) -> None:
    # OIML R 111-1 (2004), appendix E, approximate formula (from memory), good to 0.03 %.
    simple = (0.34848 * 1013.25 - 0.009 * h * np.exp(0.061 * t)) / (273.15 + t)
    assert air_density(air(t, 101_325.0, h / 100.0)) == pytest.approx(simple, rel=4e-4)


# ISO 2533 / U.S. Standard Atmosphere 1976, table of viscosity: 15 degC is 1.7894e-5 Pa s.
@pytest.mark.parametrize(("t", "mu"), [(0.0, 1.716e-5), (15.0, 1.7894e-5), (30.0, 1.861e-5)])
def test_viscosity_is_that_of_the_standard_atmosphere(t: float, mu: float) -> None:
    assert air_viscosity(air(t)) == pytest.approx(mu, abs=8e-9)


def test_damp_warm_and_thin_air_is_lighter() -> None:
    here = air_density(REFERENCE_DAY)
    assert air_density(air(20.0, humidity=1.0)) < here
    assert air_density(air(30.0)) < here
    assert air_density(air(20.0, 90_000.0)) < here


@pytest.mark.parametrize(
    ("given", "message"),
    [
        ((80.0, 101_325.0, 0.5), r"air temperature = 80 C is outside -25 to 50 C"),
        ((20.0, 29.92, 0.5), r"air pressure = 0.2992 hPa is outside 600 to 1100 hPa"),
        ((20.0, 101_325.0, 50.0), r"relative humidity = 5000 % is outside 0 to 100 %"),
        ((float("nan"), 101_325.0, 0.5), r"air temperature = nan C"),
    ],
)
def test_air_that_nobody_breathes_is_refused(
    given: tuple[float, float, float], message: str
) -> None:
    with pytest.raises(OutOfRangeError, match=message):
        air(*given)


def test_the_error_grows_where_the_stated_validity_ends() -> None:
    # picard-2008: 15 to 27 degC, 600 to 1100 hPa, relative uncertainty 2.2e-5.
    errors = [density_error(air(t)) for t in (14.9, 15.1, 26.9, 27.1)]
    assert errors == [8e-4, 2.2e-5, 2.2e-5, 8e-4]
