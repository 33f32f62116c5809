"""Today's numbers as JSON."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from carrybook.app.json_views.ball import ball_part
from carrybook.app.json_views.base import Json, air_part
from carrybook.app.json_views.learn import state_view
from carrybook.world.air import REFERENCE_DAY

if TYPE_CHECKING:
    from carrybook.player.day import Day
    from carrybook.player.numbers import ForDistance, TodayNumber
    from carrybook.store.learnt import StoredLearnt

__all__ = ["for_view", "numbers_view"]


def numbers_view(
    numbers: "Sequence[TodayNumber]", day: "Day", state: "StoredLearnt | None"
) -> Json:
    """Give what `numbers` answers."""
    from carrybook.player.numbers import reaches

    stretches = reaches(numbers)
    return {
        **_day(day),
        "ball": ball_part(numbers[0].summary.ball),
        "learnt": state_view(state),
        "numbers": [_number(number) for number in numbers],
        "reach": [{"low_m": r.low_m, "high_m": r.high_m, "shots": r.shots} for r in stretches],
    }


def for_view(
    found: "Sequence[ForDistance]", carry_m: float, day: "Day", state: "StoredLearnt | None"
) -> Json:
    """Give what `numbers --for` answers."""
    return {
        **_day(day),
        "ball": ball_part(found[0].summary.ball),
        "learnt": state_view(state),
        "carry_m": carry_m,
        "options": [
            {
                "shot": f.summary.shot.label,
                "feel_m": f.feel_m,
                "feel_se_m": f.feel_se_m,
                "playing_m": f.playing_m,
                "spread_m": f.spread_m,
                "miss_m": f.miss_m,
                "aim_right_rad": f.aim_right_rad,
                "balls": f.summary.balls,
            }
            for f in found
        ],
    }


def _day(day: "Day") -> Json:
    return {
        "air": air_part(day.air),
        "wind_mps": day.wind.speed_mps,
        "wind_from_rad": day.wind.from_rad,
        "lie": day.lie,
        "moisture": day.moisture,
        "ball_temperature_k": day.ball_temperature_k,
        "reference_ball_k": REFERENCE_DAY.temperature_k,
        "competition": day.competition,
    }


def _number(n: "TodayNumber") -> Json:
    return {
        "shot": n.summary.shot.label,
        "stock_feel_m": n.summary.shot.stock_carry_m,
        "reference_m": n.reference_m,
        "reference_se_m": n.summary.stock_se_m,
        "today_m": n.today_m,
        "today_low_m": n.today_low_m,
        "today_high_m": n.today_high_m,
        "shortest_m": n.shortest_m,
        "longest_m": n.longest_m,
        "centre_se_m": n.centre_se_m,
        "spread_m": n.spread_m,
        "air_adds_m": n.split.air_m,
        "ball_adds_m": n.split.ball_m,
        "wind_adds_m": n.split.wind_m,
        "body_adds_m": n.split.body_m,
        "lie_adds_m": n.split.lie_m,
        "balls": n.summary.balls,
        "lift_may_reverse": n.guard.reverse,
        "warnings": list(n.guard.warnings),
    }
