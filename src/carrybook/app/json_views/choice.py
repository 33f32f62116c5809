"""The choice as JSON."""

from math import degrees, tan
from typing import TYPE_CHECKING

from carrybook.app.json_views.ball import ball_part
from carrybook.app.json_views.base import RULES_NOTE, Json, air_part, location_part
from carrybook.base import constants as c

if TYPE_CHECKING:
    from carrybook.decision.advice import Advice, Option, Situation

__all__ = ["advice_view"]


def advice_view(advice: "Advice") -> Json:
    """Give what `choose` answers."""
    return {
        "situation": _situation(advice.situation),
        "too_close_to_call": advice.too_close_to_call,
        "options": [_option(option) for option in advice.options],
        "at_flag": _option(advice.at_flag) if advice.at_flag is not None else None,
        "ball": ball_part(advice.options[0].summary.ball),
        "candidates": advice.candidates,
        "draws": advice.draws,
        "at_most_strokes": advice.at_most,
        "flips": [
            {"fact": f.fact, "deviation": f.deviation, "value": f.value, "instead": f.instead}
            for f in advice.flips
        ],
        "worth_knowing": [
            {"fact": w.fact, "saves": w.strokes, "saves_se": w.error} for w in advice.worths
        ],
        "seed": advice.seed,
        "doubts": list(advice.doubts),
        "left_out": list(advice.left_out),
        "rules_note": RULES_NOTE,
    }


def _situation(s: "Situation") -> Json:
    return {
        "venue": s.hole.venue,
        "hole": s.hole.ref,
        "par": s.hole.par,
        "map_attribution": s.hole.attribution,
        "heights_known": s.hole.heights_known,
        "number_m": s.number_m,
        "hole_location": location_part(s.location),
        "ball": {"x_m": s.ball_x, "right_m": -s.ball_y},
        "lie": s.lie,
        "moisture": s.moisture,
        "air": air_part(s.air),
        "wind": {
            "speed_mps": s.wind.speed_mps,
            "from_deg": degrees(s.wind.from_rad),
            "roughness_m": s.wind.roughness_m,
            "height_m": s.wind.height_m,
            "gust_mps": s.wind.gust_mps,
        },
        "firmness_g": s.firmness_g,
        "firmness_sd_g": s.firmness_sd_g,
        "green_speed_m": s.stimp_m,
        "kind_of_green": s.kind,
    }


def _option(o: "Option") -> Json:
    from carrybook.artefacts.words import SPOT_AHEAD_M
    from carrybook.decision.advice import Trouble

    return {
        "shot": o.summary.shot.label,
        "cue": o.summary.shot.cue,
        "balls": o.summary.balls,
        "strokes": o.strokes,
        "chance": o.chance,
        "strokes_se": o.strokes_se,
        "behind": o.behind,
        "behind_se": o.behind_se,
        "too_close_to_call": o.close_call,
        "proximity_50_m": o.near_m,
        "proximity_90_m": o.far_m,
        "chances": {
            "green": o.green,
            "holed": o.holed,
            **{kind.replace(" ", "_"): o.troubles.get(kind, 0.0) for kind in Trouble},
        },
        "miss_to_avoid": o.miss,
        "landing_spot": {
            "distance_m": o.landing_m,
            "x_m": o.landing_x,
            "right_of_approach_m": -o.landing_y,
            "short_of_hole_m": o.landing_to_hole_m,
            "right_of_line_m": o.landing_right_m,
        },
        "aim": {
            "start_right_deg": degrees(o.start_right_rad),
            "right_of_hole_m": o.aim_right_m,
            "spot_ahead_m": SPOT_AHEAD_M,
            "spot_right_m": SPOT_AHEAD_M * tan(o.start_right_rad),
        },
        "curve": {
            "right_m": o.curve_right_m,
            "se_m": o.curve_se_m,
            "axis_deg": degrees(o.summary.curve.axis_rad),
            "axis_se_deg": degrees(o.summary.curve.axis_se_rad),
            "measured_balls": o.summary.curve.balls,
        },
        "warnings": list(o.warnings),
        "playing_m": o.playing_m,
        "feel_m": o.feel_m,
        "flight": {
            "apex_m": o.apex_m,
            "time_s": o.time_s,
            "descent_deg": degrees(o.descent_rad),
            "landing_spin_rpm": o.landing_spin_rad_s / c.RPM,
        },
        "after_landing": {
            "run_m": o.run_m,
            "run_10_m": o.run_low_m,
            "run_90_m": o.run_high_m,
        },
        "leave": {
            "length_m": o.leave.length_m,
            "rise_m": o.leave.rise_m,
            "above": o.leave.above,
            "below": o.leave.below,
            "left": o.leave.left,
            "right": o.leave.right,
        },
        "why": [{"name": w.name, "metres": w.metres, "note": w.note} for w in o.why],
    }
