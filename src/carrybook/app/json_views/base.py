"""What all views share."""

from collections.abc import Mapping
from math import radians

from carrybook.world.air import Air

__all__ = ["DEGREE", "RULES_NOTE", "Json", "air_part"]

Json = Mapping[str, object]
DEGREE = radians(1.0)
RULES_NOTE = (
    "Prepared before the round. During a round Rule 4.3a limits what may be used, and local rules"
    " such as G-5 and G-11 may limit it further: check before you carry this."
)


def air_part(air: Air) -> Json:
    """Give the parts of the air."""
    return {
        "temperature_k": air.temperature_k,
        "station_pressure_pa": air.pressure_pa,
        "humidity": air.humidity,
    }
