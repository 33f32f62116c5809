"""The air a ball flies through, as a frozen value in SI; from what weather reports say of it."""

from dataclasses import dataclass
from math import exp, inf

from carrybook.base.constants import CELSIUS_ZERO
from carrybook.base.errors import BadInputError, require_range

__all__ = [
    "REFERENCE_DAY",
    "Air",
    "air_from_dew_point",
    "dew_point",
    "relative_humidity",
    "saturation_pressure",
    "station_pressure",
]

# Saturation pressure of CIPM-2007 (picard-2008, eq. A1.1): A, B, C, D.
_PSV = (1.2378847e-5, -1.9121316e-2, 33.93711047, -6.3431645e3)
# The standard atmosphere (iso-2533): sea-level pressure [Pa] and temperature [K], lapse [K/m],
# and the exponent R L / g of its pressure.
_SEA_LEVEL_PA = 101_325.0
_SEA_LEVEL_K = 288.15
_LAPSE = 0.0065
_EXPONENT = 0.190263
_COLDEST_DEW_K = 173.15  # ours: -100 C, drier than any air that is reported
_SMALLEST_STEP_K = 1e-9  # ours: a dew point is known when a step of the search is smaller


@dataclass(frozen=True, slots=True)
class Air:
    """Air at the ball.

    Parameters
    ----------
    temperature_k : float
        Air temperature, 248.15 to 323.15. [K]
    pressure_pa : float
        Station pressure: at the ball, not reduced to sea level; 60e3 to 110e3. [Pa]
    humidity : float
        Relative humidity, 0 to 1. [1]

    Raises
    ------
    OutOfRangeError
        A quantity is outside its range.
    """

    temperature_k: float
    pressure_pa: float = 101_325.0
    humidity: float = 0.5

    def __post_init__(self) -> None:
        require_range("air temperature", self.temperature_k - CELSIUS_ZERO, -25.0, 50.0, "C")
        require_range("air pressure", self.pressure_pa / 100.0, 600.0, 1100.0, "hPa")
        require_range("relative humidity", self.humidity * 100.0, 0.0, 100.0, "%")


# Ours: every logged ball is carried to this day, so that carries of different days compare.
REFERENCE_DAY = Air(temperature_k=293.15, pressure_pa=101_325.0, humidity=0.5)


def saturation_pressure(temperature_k: float) -> float:
    """Pressure of water vapour over a plane of water.

    Parameters
    ----------
    temperature_k : float
        Air temperature. [K]

    Returns
    -------
    pressure_pa : float
        [Pa]

    References
    ----------
    picard-2008, eq. A1.1.
    """
    a, b, c, d = _PSV
    t = temperature_k
    return exp(a * t * t + b * t + c + d / t)


def relative_humidity(temperature_k: float, dew_point_k: float) -> float:
    """Humidity of air whose dew point was reported.

    Parameters
    ----------
    temperature_k, dew_point_k : float
        Air temperature; dew point, at most the temperature and -100 C or more. [K]

    Returns
    -------
    humidity : float
        Relative humidity over water, 0 to 1. [1]

    Raises
    ------
    BadInputError
        A dew point above the temperature, or one that no air has.

    Notes
    -----
    The ratio of the two saturation pressures, also below freezing: reports give the dew point
    over water there. The enhancement factors of the two, less than 0.1 % apart, are left out.

    References
    ----------
    picard-2008, eq. A1.1; wmo-guide-8, dew point and relative humidity.
    """
    celsius, dew_celsius = temperature_k - CELSIUS_ZERO, dew_point_k - CELSIUS_ZERO
    if dew_point_k > temperature_k:
        raise BadInputError(
            f"dew point = {dew_celsius:.4g} C is above the air temperature, {celsius:.4g} C"
        )
    require_range("dew point", dew_celsius, _COLDEST_DEW_K - CELSIUS_ZERO, inf, "C")
    return saturation_pressure(dew_point_k) / saturation_pressure(temperature_k)


def dew_point(temperature_k: float, humidity: float) -> float:
    """Temperature at which this air would begin to shed dew; undoes :func:`relative_humidity`.

    Parameters
    ----------
    temperature_k : float
        Air temperature. [K]
    humidity : float
        Relative humidity over water, above 0.001 up to 1. [1]

    Returns
    -------
    dew_point_k : float
        [K]

    Raises
    ------
    OutOfRangeError
        A humidity outside that range: air without vapour has no dew point.

    Notes
    -----
    Newton's steps on ln(pressure), which is nearly straight in 1 / T.

    References
    ----------
    picard-2008, eq. A1.1.
    """
    require_range("relative humidity", humidity * 100.0, 0.1, 100.0, "%")
    a, b, _, d = _PSV
    wanted = humidity * saturation_pressure(temperature_k)
    t, step = temperature_k, inf
    while abs(step) > _SMALLEST_STEP_K:
        shortfall = saturation_pressure(t) / wanted - 1.0
        slope = 2.0 * a * t + b - d / (t * t)  # of ln(pressure)
        step = -shortfall / (slope * (1.0 + shortfall))
        t += step
    return t


def station_pressure(sea_level_pa: float, elevation_m: float) -> float:
    """Pressure at the ball, from pressure reduced to sea level.

    Parameters
    ----------
    sea_level_pa : float
        Altimeter setting (QNH), 850e2 to 1090e2. [Pa]
    elevation_m : float
        Height of the ball above sea level, -500 to 4500. [m]

    Returns
    -------
    pressure_pa : float
        [Pa]

    Raises
    ------
    OutOfRangeError
        A pressure or an elevation that no course has.

    Notes
    -----
    p = p0 ((q / p0)^n - L h / T0)^(1/n) with the standard atmosphere, which is how an altimeter
    setting is defined. The sea-level pressure of a weather map is reduced with the temperature of
    the day instead: at 300 m and 10 K off standard, that is 1.2 hPa (0.1 % of density).

    References
    ----------
    iso-2533, its pressure of the lowest layer, solved for a setting other than 1013.25 hPa.
    """
    require_range("sea-level pressure", sea_level_pa / 100.0, 850.0, 1090.0, "hPa")
    require_range("elevation", elevation_m, -500.0, 4500.0, "m")
    aloft = (sea_level_pa / _SEA_LEVEL_PA) ** _EXPONENT - _LAPSE * elevation_m / _SEA_LEVEL_K
    return float(_SEA_LEVEL_PA * aloft ** (1.0 / _EXPONENT))


def air_from_dew_point(temperature_k: float, dew_point_k: float, pressure_pa: float) -> Air:
    """Air whose humidity was reported as a dew point.

    Parameters
    ----------
    temperature_k, dew_point_k : float
        Air temperature and dew point. [K]
    pressure_pa : float
        Station pressure. [Pa]

    Raises
    ------
    BadInputError
        A dew point above the temperature, or a quantity outside its range.
    """
    return Air(temperature_k, pressure_pa, relative_humidity(temperature_k, dew_point_k))
