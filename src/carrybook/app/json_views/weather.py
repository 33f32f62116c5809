"""Air, and one ball in it, as JSON."""

from math import degrees
from typing import TYPE_CHECKING

from carrybook.app.json_views.base import Json
from carrybook.base import constants as c

if TYPE_CHECKING:
    from carrybook.app.services.weather import AirReport
    from carrybook.physics.band import FlownBand

__all__ = ["air_view", "flown_view"]


def air_view(report: "AirReport") -> Json:
    """Give what `air` answers."""
    return {
        "density_kg_m3": report.density,
        "viscosity_pa_s": report.viscosity,
        "station_pressure_hpa": report.air.pressure_pa / 100.0,
        "density_ratio_to_reference": report.ratio,
        "density_error": report.density_error,
    }


def flown_view(flown: "FlownBand") -> Json:
    """Give what `fly` answers."""
    landing = flown.middle
    return {
        "carry_m": landing.carry_m,
        "side_m": landing.side_m,
        "distance_m": landing.distance_m,
        "apex_m": landing.apex_m,
        "time_s": landing.time_s,
        "descent_deg": degrees(landing.descent_rad),
        "landing_speed_mps": landing.speed_mps,
        "landing_spin_rpm": landing.spin_rad_s / c.RPM,
        "band": {"carry_low_m": flown.carry_low_m, "carry_high_m": flown.carry_high_m},
        "warnings": list(flown.warnings),
    }
