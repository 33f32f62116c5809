"""Plans of a venue as JSON."""

from typing import TYPE_CHECKING

from carrybook.app.json_views.base import RULES_NOTE, Json, air_part

if TYPE_CHECKING:
    from carrybook.app.services.plan import VenuePlan
    from carrybook.decision.plan import LeftOut, PlanCell
    from carrybook.decision.prepared import LayUp

__all__ = ["plan_view"]


def plan_view(p: "VenuePlan") -> Json:
    """Give what `plan` answers."""
    return {
        "venue": p.venue,
        "holes": list(p.holes),
        "air": air_part(p.air),
        "cells": [_cell(c) for c in p.cells],
        "lay_ups": [_lay_up(t) for t in p.lay_ups],
        "left_out": [_left_out(one) for one in p.left_out],
        "pieces_done": p.done,
        "pieces": p.pieces,
        "seed": p.seed,
        "rules_note": RULES_NOTE,
    }


def _cell(c: "PlanCell") -> Json:
    return {
        "hole": c.hole,
        "zone": c.zone,
        "on_m": c.location.on_m,
        "from_left_m": c.location.from_left_m,
        "number_m": c.number_m,
        "lie": c.lie,
        "shot": c.shot,
        "cue": c.cue,
        "playing_m": c.playing_m,
        "feel_m": c.feel_m,
        "landing_short_of_hole_m": c.landing_to_hole_m,
        "landing_right_m": c.landing_right_m,
        "aim_right_of_hole_m": c.aim_right_m,
        "miss_to_avoid": c.miss,
        "miss_share": c.miss_share,
        "strokes": c.strokes,
        "strokes_se": c.strokes_se,
        "does_as_well": c.other or None,
    }


def _left_out(one: "LeftOut") -> Json:
    return {"hole": one.hole, "zone": one.zone, "number_m": one.number_m, "why": one.why}


def _lay_up(t: "LayUp") -> Json:
    return {
        "hole": t.hole,
        "left_m": list(t.left_m),
        "strokes": list(t.strokes),
        "strokes_se": list(t.strokes_se),
        "flat_low_m": t.flat_low_m,
        "flat_high_m": t.flat_high_m,
        "note": t.note,
    }
