"""Results as JSON: stable keys that carry their units, SI unless the key says otherwise.

Sides are right positive. Numbers are given as computed; nothing is rounded.
"""

from collections.abc import Iterable, Mapping, Sequence
from math import degrees, radians
from typing import TYPE_CHECKING

from carrybook.app.forms import LieForm
from carrybook.base import constants as c
from carrybook.player.bag import Shot
from carrybook.player.balls import Ball
from carrybook.world.air import Air

if TYPE_CHECKING:
    from carrybook.app.doctor import Finding
    from carrybook.app.services import AirReport, CheckReport
    from carrybook.decision.advice import Advice, Option, Situation
    from carrybook.physics.band import FlownBand
    from carrybook.player.numbers import TodayNumber
    from carrybook.player.whatif import Effect, Explained, WhatIf
    from carrybook.store.balls import UndoneImport
    from carrybook.store.imports import ImportReport

__all__ = [
    "Json",
    "advice_view",
    "air_view",
    "balls_view",
    "check_view",
    "doctor_view",
    "explained_view",
    "flown_view",
    "import_view",
    "numbers_view",
    "shot_view",
    "shots_view",
    "undone_view",
]

Json = Mapping[str, object]

_MEASURES = tuple(n for n in Ball.__dataclass_fields__ if n.endswith(("_m", "_mps", "_rad", "_s")))

_DEGREE = radians(1.0)

_RULES_NOTE = (
    "Prepared before the round. During a round Rule 4.3a limits what may be used, and local rules"
    " such as G-5 and G-11 may limit it further: check before you carry this."
)


def air_view(report: "AirReport") -> Json:
    """Give what `air` answers."""
    return {
        "density_kg_m3": report.density,
        "viscosity_pa_s": report.viscosity,
        "station_pressure_hpa": report.air.pressure_pa / 100.0,
        "density_ratio_to_reference": report.ratio,
    }


def flown_view(flown: "FlownBand") -> Json:
    """Give what `fly` answers."""
    landing = flown.middle
    return {
        "carry_m": landing.carry_m,
        "side_m": landing.side_m,
        "distance_m": landing.distance_m,
        "apex_m": landing.apex_m,
        "time_s": landing.time_s,
        "descent_deg": degrees(landing.descent_rad),
        "landing_speed_mps": landing.speed_mps,
        "landing_spin_rpm": landing.spin_rad_s / c.RPM,
        "band": {"carry_low_m": flown.carry_low_m, "carry_high_m": flown.carry_high_m},
        "warnings": list(flown.warnings),
    }


def shot_view(shot: Shot) -> Json:
    """One owned shot."""
    return {
        "label": shot.label,
        "club": shot.club.label,
        "loft_deg": degrees(shot.club.loft_rad),
        "flight": shot.flight,
        "shape": shot.shape,
        "stock_carry_m": shot.stock_carry_m,
        "shortest_m": shot.shortest_m,
        "longest_m": shot.longest_m,
        "cue": shot.cue,
        "trusted": shot.trusted,
    }


def shots_view(shots: Iterable[Shot]) -> Json:
    """Give what `shots list` answers."""
    return {"shots": [shot_view(shot) for shot in shots]}


def balls_view(balls: Iterable[Ball]) -> Json:
    """Give what `balls list` answers: every ball; null where nothing was measured."""
    return {"balls": [_ball(ball) for ball in balls]}


def check_view(report: "CheckReport") -> Json:
    """Give what `balls check` answers."""
    return {
        "checked": report.balls,
        "odd": [{"ball": _ball(o.ball), "reasons": list(o.reasons)} for o in report.odd],
        "files": [{"file": file, "reason": line} for file, line in report.slips],
        "dropped": 0,
    }


def import_view(report: "ImportReport", odd: int = 0) -> Json:
    """Give what `balls import` answers; `odd`: added balls that look odd."""
    return {
        "file": report.file,
        "read": report.read,
        "added": report.added,
        "already_there": report.already_there,
        "rejected": report.rejected,
        "odd": odd,
        "rejects_file": report.rejects_path and str(report.rejects_path),
        "rejects": [
            {"row": r.row, "column": r.column, "value": r.value, "reason": r.reason}
            for r in report.rejects
        ],
        "columns": dict(report.mapping),
        "unused_columns": list(report.unused_columns),
    }


def undone_view(undone: "UndoneImport") -> Json:
    """Give what `balls undo` answers."""
    return {"file": undone.file, "removed": undone.balls}


def numbers_view(numbers: "Sequence[TodayNumber]", air: Air, ball: LieForm) -> Json:
    """Give what `numbers` answers."""
    return {
        "air": _air(air),
        "lie": ball.lie,
        "moisture": ball.moisture,
        "numbers": [_number(number) for number in numbers],
    }


def advice_view(advice: "Advice") -> Json:
    """Give what `choose` answers."""
    return {
        "situation": _situation(advice.situation),
        "too_close_to_call": advice.too_close_to_call,
        "options": [_option(option) for option in advice.options],
        "at_flag": _option(advice.at_flag) if advice.at_flag is not None else None,
        "candidates": advice.candidates,
        "draws": advice.draws,
        "seed": advice.seed,
        "doubts": list(advice.doubts),
        "left_out": list(advice.left_out),
        "rules_note": _RULES_NOTE,
    }


def explained_view(explained: "Explained") -> Json:
    """Give what `shots explain` answers."""
    return {
        "shot": explained.summary.shot.label,
        "balls": explained.summary.balls,
        "launch_measured": explained.summary.launch_measured,
        "air": _air(explained.air),
        "firmness_g": explained.firmness_g,
        "green_speed_m": explained.stimp_m,
        "left_handed": explained.left_handed,
        "stock": _whatif(explained.stock),
        "changes": [_whatif(row) for row in explained.rows],
        "left_out": list(explained.left_out),
    }


def doctor_view(findings: "Sequence[Finding]") -> Json:
    """Give what `doctor` answers."""
    return {
        "findings": [
            {"what": f.what, "state": f.state, "found": f.found, "mend": f.mend} for f in findings
        ]
    }


def _air(air: Air) -> Json:
    return {
        "temperature_k": air.temperature_k,
        "station_pressure_pa": air.pressure_pa,
        "humidity": air.humidity,
    }


def _ball(ball: Ball) -> Json:
    return {
        "shot": ball.shot,
        "at": ball.at and ball.at.isoformat(),
        **{name: getattr(ball, name) for name in _MEASURES},
        "air": ball.air and _air(ball.air),
        "lie": ball.lie,
        "moisture": ball.moisture,
        "setting": ball.setting,
        "ball_model": ball.ball_model,
        "note": ball.note,
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
    }


def _whatif(row: "WhatIf") -> Json:
    return {
        "name": row.name,
        "question": row.question,
        "start_right_deg": _effect(row.start_right_rad, _DEGREE),
        "launch_deg": _effect(row.launch_rad, _DEGREE),
        "spin_rpm": _effect(row.spin_rad_s, c.RPM),
        "carry_m": _effect(row.carry_m),
        "apex_m": _effect(row.apex_m),
        "descent_deg": _effect(row.descent_rad, _DEGREE),
        "curve_right_m": _effect(row.curve_right_m),
        "release_m": _effect(row.release_m),
    }


def _effect(effect: "Effect", unit: float = 1.0) -> Json:
    return {
        "value": effect.value / unit,
        "change": effect.change / unit,
        "change_low": effect.low / unit,
        "change_high": effect.high / unit,
    }


def _situation(s: "Situation") -> Json:
    at = s.location
    return {
        "venue": s.hole.venue,
        "hole": s.hole.ref,
        "par": s.hole.par,
        "map_attribution": s.hole.attribution,
        "heights_known": s.hole.heights_known,
        "number_m": s.number_m,
        "hole_location": {
            "x_m": at.x,
            "right_m": -at.y,
            "on_m": at.on_m,
            "from_left_m": at.from_left_m,
            "from_right_m": at.from_right_m,
            "behind_m": at.behind_m,
        },
        "ball": {"x_m": s.ball_x, "right_m": -s.ball_y},
        "lie": s.lie,
        "moisture": s.moisture,
        "air": _air(s.air),
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
    }


def _option(o: "Option") -> Json:
    from carrybook.decision.advice import Trouble

    return {
        "shot": o.summary.shot.label,
        "cue": o.summary.shot.cue,
        "balls": o.summary.balls,
        "strokes": o.strokes,
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
        },
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
