"""The day a number is for: air, wind, lie, how warm the ball is, and whether it counts."""

from dataclasses import dataclass

from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import CALM, Wind

__all__ = ["Day"]


@dataclass(frozen=True, slots=True)
class Day:
    """What a number is asked for.

    Parameters
    ----------
    air : Air
        The air.
    wind : Wind
        Along the line of the shot.
    lie, moisture : Lie, Moisture
        Where the ball lies and how wet it is.
    ball_k : float, optional
        Temperature of the ball; none: that of the air. [K]
    competition : bool
        Whether it is for a score.
    """

    air: Air = REFERENCE_DAY
    wind: Wind = CALM
    lie: Lie = Lie.FAIRWAY
    moisture: Moisture = Moisture.DRY
    ball_k: float | None = None
    competition: bool = False

    @property
    def ball_temperature_k(self) -> float:
        """How warm the ball is. [K]"""
        return self.air.temperature_k if self.ball_k is None else self.ball_k
