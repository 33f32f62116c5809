"""What all views share."""

from collections.abc import Mapping
from math import radians
from typing import TYPE_CHECKING

from carrybook.world.air import Air

if TYPE_CHECKING:
    from carrybook.world.hole import HoleLocation

__all__ = ["DEGREE", "RULES_NOTE", "Json", "air_part", "location_part"]

Json = Mapping[str, object]
DEGREE = radians(1.0)
RULES_NOTE = (
    "Prepared before the round. During a round Rule 4.3a limits what may be used, and local rules"
    " such as G-5 and G-11 may limit it further: check before you carry this."
)


def location_part(at: "HoleLocation") -> Json:
    """Give where a hole is cut; in the axes of the hole, the side right positive."""
    return {
        "x_m": at.x,
        "right_m": -at.y,
        "on_m": at.on_m,
        "from_left_m": at.from_left_m,
        "from_right_m": at.from_right_m,
        "behind_m": at.behind_m,
    }


def air_part(air: Air) -> Json:
    """Give the parts of the air."""
    return {
        "temperature_k": air.temperature_k,
        "station_pressure_pa": air.pressure_pa,
        "humidity": air.humidity,
    }
