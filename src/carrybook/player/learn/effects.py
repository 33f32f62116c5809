"""What a day does to a player beyond physics: which effects are learnt, how they are counted."""

import numpy as np

from carrybook.base.numerics import Floats
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.lie import Lie, Moisture

__all__ = ["LIES", "cold"]

# Own response to moisture and lie beyond the middle of the working factors of physics.strike, each
# about as wide as what those factors leave open in carry.
LIES: tuple[tuple[str, float], ...] = (
    (Moisture.DEW.value, 0.02),
    (Moisture.WET.value, 0.05),
    (Lie.LIGHT_ROUGH.value, 0.05),
    (Lie.DEEP_ROUGH.value, 0.10),
)


def cold(temperature_k: Floats | float) -> Floats:
    """How far below 20 C, in tens of kelvin; 0 above."""
    return np.maximum(0.0, (REFERENCE_DAY.temperature_k - np.asarray(temperature_k)) / 10.0)
