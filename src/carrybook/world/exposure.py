"""What heat and cold do to people who are out in them: heat index, wind chill, and their tiers.

Tiers are for shade and for people in health; they are no medical advice.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from math import sqrt

from carrybook.base import constants as c
from carrybook.base.errors import require_range
from carrybook.world.air import Air

__all__ = [
    "SUN_ADDS_K",
    "ColdTier",
    "Exposure",
    "HeatTier",
    "exposure_of",
    "heat_index",
    "wind_chill",
]

_KELVIN_PER_F = 5.0 / 9.0
SUN_ADDS_K = 15.0 * _KELVIN_PER_F  # full sun adds up to 15 F (nws-heat-2015)


class HeatTier(StrEnum):
    """Tiers of the heat index; the newer and stricter table (nws-heat-2015)."""

    CAUTION = "caution"
    EXTREME_CAUTION = "extreme caution"
    DANGER = "danger"
    EXTREME_DANGER = "extreme danger"


class ColdTier(StrEnum):
    """Tiers of the wind chill: ours, but the last, frostbite in 30 minutes (nws-chill-2001)."""

    COLD = "cold"
    VERY_COLD = "very cold"
    FROSTBITE = "frostbite within 30 minutes"


# From which heat index [F], and down from which wind chill [F].
_HEAT = ((125.0, HeatTier.EXTREME_DANGER), (103.0, HeatTier.DANGER),
         (90.0, HeatTier.EXTREME_CAUTION), (80.0, HeatTier.CAUTION))  # fmt: skip
_COLD = ((-18.0, ColdTier.FROSTBITE), (14.0, ColdTier.VERY_COLD), (41.0, ColdTier.COLD))
# rothfusz-1990: constant, T, R, TR, TT, RR, TTR, TRR, TTRR; T in F, R in per cent.
_HEAT_FIT = (-42.379, 2.04901523, 10.14333127, -0.22475541, -6.83783e-3, -5.481717e-2,
             1.22874e-3, 8.5282e-4, -1.99e-6)  # fmt: skip
_CHILL_FIT = (35.74, 0.6215, -35.75, 0.4275)  # nws-chill-2001: F and mph
_CHILL_FROM_F, _CHILL_FROM_MPH = 50.0, 3.0  # it is told at or under, and at or over


@dataclass(frozen=True, slots=True)
class Exposure:
    """The worst of a stretch of time.

    Parameters
    ----------
    heat_index_k : float
        Highest heat index, in the shade. [K]
    wind_chill_k : float, optional
        Lowest wind chill; none where it was never cold and windy enough to have one. [K]
    coldest_k : float
        Lowest of air temperature and wind chill. [K]
    """

    heat_index_k: float
    wind_chill_k: float | None
    coldest_k: float

    @property
    def heat(self) -> HeatTier | None:
        """Tier in the shade; none where it is not hot."""
        return _heat_tier(self.heat_index_k)

    @property
    def heat_in_sun(self) -> HeatTier | None:
        """Tier where full sun adds all it may."""
        return _heat_tier(self.heat_index_k + SUN_ADDS_K)

    @property
    def cold(self) -> ColdTier | None:
        """Tier of the cold; none where it is not cold."""
        felt = _fahrenheit(self.coldest_k)
        return next((tier for limit, tier in _COLD if felt <= limit), None)


def exposure_of(hours: Iterable[tuple[Air, float]]) -> Exposure:
    """Give the worst of some hours.

    Parameters
    ----------
    hours : iterable of (Air, float)
        Air, and mean wind at 10 m. [m/s] At least one.
    """
    told = list(hours)
    hottest = max(heat_index(air.temperature_k, air.humidity) for air, _ in told)
    chills = [wind_chill(air.temperature_k, wind) for air, wind in told]
    felt = [chill for chill in chills if chill is not None]
    coldest = min([*felt, *(air.temperature_k for air, _ in told)])
    return Exposure(hottest, min(felt, default=None), coldest)


def heat_index(temperature_k: float, humidity: float) -> float:
    """How hot it feels in the shade. [K]

    Parameters
    ----------
    temperature_k : float
        Of the air, -25 to 50 C. [K]
    humidity : float
        Relative humidity, 0 to 1. [1]

    Raises
    ------
    OutOfRangeError
        A quantity outside its range.

    Notes
    -----
    The regression of rothfusz-1990 with its two adjustments where it gives 80 F or more; below, its
    simple form. Good to 1.3 F against the table it was fitted to. Shade and a light wind.
    """
    require_range("air temperature", temperature_k - c.CELSIUS_ZERO, -25.0, 50.0, "C")
    require_range("relative humidity", humidity, 0.0, 1.0, "")
    t, r = _fahrenheit(temperature_k), 100.0 * humidity
    simple = 0.5 * (0.5 * (t + 61.0 + 1.2 * (t - 68.0) + 0.094 * r) + t)
    return _kelvin(simple if simple < 80.0 else _regression(t, r))


def wind_chill(temperature_k: float, wind_mps: float) -> float | None:
    """How cold it feels on bare skin; none over 50 F or under 3 mph. [K]

    Parameters
    ----------
    temperature_k : float
        Of the air. [K]
    wind_mps : float
        Mean wind at 10 m. [m/s]

    Notes
    -----
    nws-chill-2001: 35.74 + 0.6215 T - 35.75 V^0.16 + 0.4275 T V^0.16, in F and mph. Dry skin; wet
    clothes are colder.
    """
    t, v = _fahrenheit(temperature_k), wind_mps / c.MILE_PER_HOUR
    if t > _CHILL_FROM_F or v < _CHILL_FROM_MPH:
        return None
    constant, by_t, by_v, by_both = _CHILL_FIT
    return _kelvin(constant + by_t * t + (by_v + by_both * t) * v**0.16)


def _regression(t: float, r: float) -> float:
    """Heat index in F from F and per cent, 80 F and more."""
    terms = (1.0, t, r, t * r, t * t, r * r, t * t * r, t * r * r, t * t * r * r)
    index = sum(a * x for a, x in zip(_HEAT_FIT, terms, strict=True))
    if r < 13.0 and 80.0 <= t <= 112.0:
        index -= (13.0 - r) / 4.0 * sqrt((17.0 - abs(t - 95.0)) / 17.0)
    if r > 85.0 and 80.0 <= t <= 87.0:
        index += (r - 85.0) / 10.0 * (87.0 - t) / 5.0
    return index


def _heat_tier(index_k: float) -> HeatTier | None:
    felt = _fahrenheit(index_k)
    return next((tier for limit, tier in _HEAT if felt >= limit), None)


def _fahrenheit(kelvin: float) -> float:
    return (kelvin - c.CELSIUS_ZERO) / _KELVIN_PER_F + 32.0


def _kelvin(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) * _KELVIN_PER_F + c.CELSIUS_ZERO
