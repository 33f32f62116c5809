"""How wind grows with height and how it gusts, over ground of one roughness; neutral air."""

from math import expm1, log

from carrybook.base.errors import require_range
from carrybook.world.wind import Wind

__all__ = ["gust_sd", "one_shot_share", "turbulence_intensity", "wind_share"]

_STATED_AT = 10.0  # m, height of a reported or forecast wind (wmo-guide-8)
# A gust of three seconds is 2.5 to 3 standard deviations over the mean (with en-1991-1-4, 1.4 to
# 1.5 times the mean in open country); the middle is ours.
_GUST_OVER_MEAN = 2.75
_ROUGHEST = 1.0  # m, ours: beyond, the law of turbulence at 10 m says too much
_SMALL = 1e-3  # ours: below this ratio of times the share is its series, exact to 1e-7


def wind_share(height_m: float, roughness_m: float) -> float:
    """Mean wind at a height, over the mean wind at 10 m.

    Parameters
    ----------
    height_m : float
        Above the ground, 0 to 200; the share is 0 up to the roughness length. [m]
    roughness_m : float
        Roughness length z0, 0.0002 to 2. [m]

    Returns
    -------
    share : float
        [1]

    Raises
    ------
    OutOfRangeError
        A height or a roughness outside its range.

    Notes
    -----
    ln(z / z0) / ln(10 m / z0): the profile that the flights are computed in.

    References
    ----------
    wmo-guide-8, part I, chapter 5.
    """
    require_range("height above ground", height_m, 0.0, 200.0, "m")
    require_range("roughness length", roughness_m, 2e-4, 2.0, "m")
    if height_m <= roughness_m:
        return 0.0
    return log(height_m / roughness_m) / log(_STATED_AT / roughness_m)


def turbulence_intensity(height_m: float, roughness_m: float) -> float:
    """Standard deviation of the wind along its own direction, over its mean.

    Parameters
    ----------
    height_m : float
        Above the ground, 1 to 200 and at least 2 z0. [m]
    roughness_m : float
        Roughness length z0, 0.0002 to 2. [m]

    Returns
    -------
    intensity : float
        [1]

    Raises
    ------
    OutOfRangeError
        A height or a roughness outside its range.

    Notes
    -----
    1 / ln(z / z0): level ground, turbulence factor 1.

    References
    ----------
    en-1991-1-4, turbulence intensity.
    """
    require_range("roughness length", roughness_m, 2e-4, 2.0, "m")
    require_range("height above ground", height_m, max(1.0, 2.0 * roughness_m), 200.0, "m")
    return 1.0 / log(height_m / roughness_m)


def gust_sd(wind: Wind) -> float:
    """Standard deviation of the wind along its own direction, where its speed was stated.

    Parameters
    ----------
    wind : Wind
        With a stated gust, or without.

    Returns
    -------
    sd : float
        [m/s]

    Notes
    -----
    (gust - mean) / 2.75 where a gust is stated; else the mean times the turbulence intensity at
    10 m over that roughness.

    References
    ----------
    en-1991-1-4, turbulence intensity.
    """
    if wind.gust_mps is not None:
        return (wind.gust_mps - wind.speed_mps) / _GUST_OVER_MEAN
    return wind.speed_mps * turbulence_intensity(_STATED_AT, min(wind.roughness_m, _ROUGHEST))


def one_shot_share(flight_time_s: float, time_scale_s: float = 15.0) -> float:
    """Share of the variance of gusts that is left in the mean wind of one flight.

    Parameters
    ----------
    flight_time_s : float
        Time in the air, 0 to 60. [s]
    time_scale_s : float, default 15
        How long a gust lasts, 1 to 100. [s]

    Returns
    -------
    share : float
        Variance of the mean over the flight, over that of the wind; its root is the share of the
        standard deviation. [1]

    Raises
    ------
    OutOfRangeError
        A time outside its range.

    Notes
    -----
    2 (TL/T)^2 (T/TL - 1 + exp(-T/TL)), exact for gusts that are forgotten exponentially. The time
    scale is ours: gusts of 60 to 100 m carried past by 5 m/s last 10 to 20 s.
    """
    require_range("time in the air", flight_time_s, 0.0, 60.0, "s")
    require_range("time scale of gusts", time_scale_s, 1.0, 100.0, "s")
    x = flight_time_s / time_scale_s
    if x < _SMALL:
        return 1.0 - x / 3.0
    return 2.0 * (x + expm1(-x)) / (x * x)
