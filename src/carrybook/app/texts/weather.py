"""Air, and one ball in it, in words."""

from math import degrees
from typing import TYPE_CHECKING

from carrybook.artefacts import words as w
from carrybook.base import constants as c

if TYPE_CHECKING:
    from carrybook.app.services.weather import AirReport
    from carrybook.physics.band import FlownBand
    from carrybook.world.forecast import Hour
    from carrybook.world.weather import WeatherReport

__all__ = ["air_text", "flown_text", "told_text"]


def air_text(report: "AirReport") -> str:
    """Say how dense the air is, against the reference day."""
    known = f"the equation is good to {100.0 * report.density_error:.1g} % here"
    change = f"{100.0 * (report.ratio - 1.0):+.1f} % against the reference day"
    return "\n".join(
        (
            f"{w.air_words(report.air)} (station pressure, at the ball)",
            f"density    {report.density:.4f} kg/m3, {change}; {known}",
            f"viscosity  {1e6 * report.viscosity:.2f} uPa s",
        )
    )


def told_text(told: "WeatherReport | Hour", *, its_wind: bool) -> str:
    """Say whose air an answer is for, why it may not be yours, and whether its wind was used.

    Parameters
    ----------
    told : WeatherReport or Hour
        What an airport reported, or what a file forecasts.
    its_wind : bool
        Whether the answer is for its wind.
    """
    return "\n".join((*_told_air(told), _told_wind(told, its_wind=its_wind)))


def _told_air(told: "WeatherReport | Hour") -> tuple[str, ...]:
    from carrybook.world.weather import WeatherReport

    if isinstance(told, WeatherReport):
        return (
            f"air of {told.station} at {told.at_text} (UTC), its pressure brought to your"
            " elevation",
            "an airport is not the course: temperature and damp there can differ from yours",
        )
    return (f"air as forecast for {told.at:%H:%M}, local time of the file",)


def _told_wind(told: "WeatherReport | Hour", *, its_wind: bool) -> str:
    if told.wind_speed_mps is None:
        return "it reported no wind"
    if told.wind_speed_mps == 0.0:
        return "its wind is calm"
    direction = told.wind_from_true_rad
    where = (
        "a direction that varies" if direction is None else f"{degrees(direction):.0f} degrees true"
    )
    gusts = "" if told.gust_mps is None else f", gusts to {_both(told.gust_mps)}"
    used = "is turned to your line and used" if its_wind else "is not used"
    return f"its wind, {_both(told.wind_speed_mps)} from {where}{gusts}, {used}"


def _both(mps: float) -> str:
    return f"{mps / c.MILE_PER_HOUR:.0f} mph ({mps:.1f} m/s)"


def flown_text(flown: "FlownBand", units: str) -> str:
    """Say where a ball lands and how it comes down."""
    u = w.units_named(units)
    landing = flown.middle
    low, high = (x / u.far_m for x in (flown.carry_low_m, flown.carry_high_m))
    return "\n".join(
        (
            f"carry    {landing.carry_m / u.far_m:.1f} {u.far}"
            f" ({low:.1f} to {high:.1f}: what nobody knows of drag)",
            f"side     {w.sideways(landing.side_m, u)}",
            f"apex     {w.short_distance(landing.apex_m, u)}, {landing.time_s:.1f} s in the air",
            f"landing  {degrees(landing.descent_rad):.0f} degrees down,"
            f" {w.speed(landing.speed_mps, u)}, {landing.spin_rad_s / c.RPM:.0f} rpm",
            *(f"warning: {warning}" for warning in flown.warnings),
        )
    )
