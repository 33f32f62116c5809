"""A putt as JSON."""

from math import degrees
from typing import TYPE_CHECKING

from carrybook.app.json_views.base import RULES_NOTE, Json

if TYPE_CHECKING:
    from carrybook.outcomes.putt_answer import PuttAnswer

__all__ = ["putt_view"]


def putt_view(a: "PuttAnswer") -> Json:
    """Give what `putt` answers."""
    return {
        "make_probability": a.make,
        "make_low": a.make_low,
        "make_high": a.make_high,
        "expected_putts": a.putts,
        "three_putt_probability": a.three,
        "aim_m": a.aim_right_m,
        "aim_low_m": a.aim_low_m,
        "aim_high_m": a.aim_high_m,
        "start_right_deg": degrees(a.start_right_rad),
        "pace_m": a.past_m,
        "plays_as_m": a.reach_m,
        "distance_m": a.distance_m,
        "rise_m": a.rise_m,
        "ball": {"x_m": a.x, "right_m": -a.y},
        "misses": {
            "within_50_m": a.leave_50_m,
            "within_90_m": a.leave_90_m,
            "short": a.short,
            "low_side": a.low,
        },
        "green_speed_m": a.chart.stimp_m,
        "errors": {
            "direction_deg": degrees(a.chart.putter.direction_rad),
            "pace": a.chart.putter.pace,
            "reading": a.chart.putter.reading,
        },
        "rules_note": RULES_NOTE,
    }
