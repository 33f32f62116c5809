"""One ball as people type it."""

from typing import TYPE_CHECKING, Annotated

from carrybook.app.forms.base import Form, quantity
from carrybook.base import units as u
from carrybook.base.constants import BALL_DIAMETER, BALL_MASS

if TYPE_CHECKING:
    from carrybook.physics.ball_model import BallModel
    from carrybook.physics.flight import Launch

__all__ = ["FlightForm"]


class FlightForm(Form):
    """How a ball leaves the face, how far above or below it lands, and which ball it is."""

    ball_speed: Annotated[float, quantity(u.SPEED, "ball speed")]
    launch: Annotated[float, quantity(u.ANGLE, "launch angle")]
    spin: Annotated[float, quantity(u.SPIN, "spin")]
    spin_axis: Annotated[float, quantity(u.ANGLE, "spin axis")] = 0.0
    start_line: Annotated[float, quantity(u.ANGLE, "start line")] = 0.0
    height_change: Annotated[float, quantity(u.HEIGHT, "height change")] = 0.0
    ball_mass: Annotated[float, quantity(u.BALL_MASS, "ball mass")] = BALL_MASS
    ball_diameter: Annotated[float, quantity(u.BALL_DIAMETER, "ball diameter")] = BALL_DIAMETER
    drag_factor: Annotated[float, quantity(u.DRAG_FACTOR, "drag factor", "times")] = 1.0

    def value(self) -> "Launch":
        """Give the launch to the core."""
        from carrybook.physics.flight import Launch

        return Launch(self.ball_speed, self.launch, self.spin, self.spin_axis, self.start_line)

    def ball(self) -> "BallModel":
        """Give the ball itself to the core."""
        from carrybook.physics.ball_model import BallModel

        return BallModel(self.ball_mass, self.ball_diameter, self.drag_factor)
