"""The ball as a body: mass, size, and how its drag differs from the ball of the sets."""

from dataclasses import dataclass

from carrybook.base import constants as c
from carrybook.base.errors import require_range

__all__ = ["STANDARD_BALL", "BallModel"]


@dataclass(frozen=True, slots=True)
class BallModel:
    """One model of ball.

    Parameters
    ----------
    mass_kg : float
        Mass, 0.040 to 0.050; the rules allow at most 0.04593. [kg]
    diameter_m : float
        Diameter, 0.040 to 0.045; the rules ask for at least 0.04267. [m]
    drag_factor : float
        Its drag over that of the sets, 0.5 to 2. [1]

    Raises
    ------
    OutOfRangeError
        A quantity is outside its range.
    """

    mass_kg: float = c.BALL_MASS
    diameter_m: float = c.BALL_DIAMETER
    drag_factor: float = 1.0

    def __post_init__(self) -> None:
        # Limits are ours: what is outside is no golf ball, but a slip of the pen.
        require_range("ball mass", 1e3 * self.mass_kg, 40.0, 50.0, "g")
        require_range("ball diameter", 1e3 * self.diameter_m, 40.0, 45.0, "mm")
        require_range("drag factor", self.drag_factor, 0.5, 2.0, "times")


STANDARD_BALL = BallModel()
