"""Plans of a venue as JSON."""

from typing import TYPE_CHECKING

from carrybook.app.json_views.base import RULES_NOTE, Json, air_part
from carrybook.artefacts.cautions import LIGHTNING, caution_lines
from carrybook.world.exposure import exposure_of

if TYPE_CHECKING:
    from carrybook.app.services.plan import VenuePlan
    from carrybook.decision.plan import LeftOut, PlanCell
    from carrybook.decision.prepared import LayUp

__all__ = ["cell_part", "lay_up_part", "left_out_part", "plan_view"]


def plan_view(p: "VenuePlan") -> Json:
    """Give what `plan` answers."""
    return {
        "venue": p.venue,
        "holes": list(p.holes),
        "air": air_part(p.air),
        "cells": [cell_part(c) for c in p.cells],
        "lay_ups": [lay_up_part(t) for t in p.lay_ups],
        "left_out": [left_out_part(one) for one in p.left_out],
        "pieces_done": p.done,
        "pieces": p.pieces,
        "seed": p.seed,
        "cautions": [*caution_lines(exposure_of([(p.air, 0.0)])), LIGHTNING],
        "rules_note": RULES_NOTE,
    }


def cell_part(c: "PlanCell") -> Json:
    """Give what to play from one distance."""
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


def left_out_part(one: "LeftOut") -> Json:
    """Give what is not planned, and why."""
    return {"hole": one.hole, "zone": one.zone, "number_m": one.number_m, "why": one.why}


def lay_up_part(t: "LayUp") -> Json:
    """Give what each distance costs that could be left."""
    return {
        "hole": t.hole,
        "left_m": list(t.left_m),
        "strokes": list(t.strokes),
        "strokes_se": list(t.strokes_se),
        "flat_low_m": t.flat_low_m,
        "flat_high_m": t.flat_high_m,
        "note": t.note,
    }
