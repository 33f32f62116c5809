"""The air a ball flies through, as a frozen value in SI."""

from dataclasses import dataclass

from carrybook.base.constants import CELSIUS_ZERO
from carrybook.base.errors import require_range

__all__ = ["REFERENCE_DAY", "Air"]


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
