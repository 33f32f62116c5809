"""Shots, and what would change them, as JSON."""

from collections.abc import Iterable
from math import degrees
from typing import TYPE_CHECKING

from carrybook.app.json_views.base import DEGREE, Json, air_part
from carrybook.base import constants as c
from carrybook.player.bag import Shot

if TYPE_CHECKING:
    from carrybook.player.whatif import Effect, Explained, WhatIf

__all__ = ["explained_view", "shot_view", "shots_view"]


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
        "loft_source": shot.club.loft_source,
        "stock_carry_source": shot.carry_source,
        "partials_source": shot.partials_source,
        "bounce_rad": shot.club.bounce_rad,
        "length_m": shot.club.length_m,
        "head_mass_kg": shot.club.head_mass_kg,
        "stock_effort": shot.stock_effort,
        "efforts": [
            {"name": e.name, "carry_m": e.carry_m, "source": e.source} for e in shot.efforts
        ],
    }


def shots_view(shots: Iterable[Shot]) -> Json:
    """Give what `shots list` answers."""
    return {"shots": [shot_view(shot) for shot in shots]}


def explained_view(explained: "Explained") -> Json:
    """Give what `shots explain` answers."""
    return {
        "shot": explained.summary.shot.label,
        "balls": explained.summary.balls,
        "launch_measured": explained.summary.launch_measured,
        "air": air_part(explained.air),
        "firmness_g": explained.firmness_g,
        "green_speed_m": explained.stimp_m,
        "left_handed": explained.left_handed,
        "stock": _whatif(explained.stock),
        "changes": [_whatif(row) for row in explained.rows],
        "left_out": list(explained.left_out),
    }


def _whatif(row: "WhatIf") -> Json:
    return {
        "name": row.name,
        "question": row.question,
        "start_right_deg": _effect(row.start_right_rad, DEGREE),
        "launch_deg": _effect(row.launch_rad, DEGREE),
        "spin_rpm": _effect(row.spin_rad_s, c.RPM),
        "carry_m": _effect(row.carry_m),
        "apex_m": _effect(row.apex_m),
        "descent_deg": _effect(row.descent_rad, DEGREE),
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
