"""What the log says of the ball's flight, as JSON."""

from typing import TYPE_CHECKING

from carrybook.app.json_views.base import Json

if TYPE_CHECKING:
    from carrybook.player.ball_fit import BallFit

__all__ = ["ball_part"]


def ball_part(fit: "BallFit") -> Json:
    """Give one model of ball: its drag, and the weight of each set of lift and drag."""
    from carrybook.player.ball_fit import SET_NAMES

    return {
        "model": fit.model,
        "measured_balls": fit.balls,
        "set": SET_NAMES[fit.likeliest],
        "drag_factor": fit.drag_factor,
        "drag_factor_se": fit.drag_se,
        "set_weights": dict(zip(SET_NAMES, fit.weights, strict=True)),
    }
