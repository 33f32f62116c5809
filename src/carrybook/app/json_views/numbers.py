"""Today's numbers as JSON."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from carrybook.app.forms.base import LieForm
from carrybook.app.json_views.ball import ball_part
from carrybook.app.json_views.base import Json, air_part
from carrybook.world.air import Air

if TYPE_CHECKING:
    from carrybook.player.numbers import TodayNumber

__all__ = ["numbers_view"]


def numbers_view(numbers: "Sequence[TodayNumber]", air: Air, ball: LieForm) -> Json:
    """Give what `numbers` answers."""
    return {
        "air": air_part(air),
        "lie": ball.lie,
        "moisture": ball.moisture,
        "ball": ball_part(numbers[0].summary.ball),
        "numbers": [_number(number) for number in numbers],
    }


def _number(n: "TodayNumber") -> Json:
    return {
        "shot": n.summary.shot.label,
        "stock_feel_m": n.summary.shot.stock_carry_m,
        "reference_m": n.reference_m,
        "today_m": n.today_m,
        "today_low_m": n.today_low_m,
        "today_high_m": n.today_high_m,
        "centre_se_m": n.centre_se_m,
        "spread_m": n.spread_m,
        "balls": n.summary.balls,
        "lift_may_reverse": n.guard.reverse,
        "warnings": list(n.guard.warnings),
    }
