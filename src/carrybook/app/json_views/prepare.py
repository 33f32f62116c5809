"""A week at a venue as JSON."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.app.json_views.base import RULES_NOTE, Json
from carrybook.app.json_views.plan import cell_part, lay_up_part, left_out_part
from carrybook.app.json_views.venue import hour_part, note_part, venue_part
from carrybook.artefacts.cautions import LIGHTNING, NOT_MEDICAL, caution_lines

if TYPE_CHECKING:
    from carrybook.app.services.prepare import PreparedWeek
    from carrybook.decision.changes import Changes
    from carrybook.decision.half_days import HalfDay
    from carrybook.decision.noted import GreenBelief
    from carrybook.decision.prepare import HoleDay, PreparedDay

__all__ = ["week_view"]


def week_view(week: "PreparedWeek", cards: Sequence[Path] = ()) -> Json:
    """Give what `prepare` answers."""
    return {
        "venue": venue_part(week.page.venue),
        "holes": [hole.ref for hole in week.holes],
        "numbers_m": list(week.numbers_m),
        "notes": [note_part(note) for note in week.page.notes],
        "days": [_prepared(week, day) for day in week.days],
        "remarks": list(week.remarks),
        "pieces_done": week.done,
        "pieces": week.pieces,
        "pieces_kept": week.kept,
        "cards": [str(path) for path in cards],
        "seed": week.seed,
        "rules_note": RULES_NOTE,
    }


def _prepared(week: "PreparedWeek", d: "PreparedDay") -> Json:
    moved = week.changes.get(d.day)
    exposure = d.exposure
    worst = [] if exposure is None else list(caution_lines(exposure))
    return {
        "day": d.day.isoformat(),
        "tee_off": None if d.tee_off is None else d.tee_off.isoformat("minutes"),
        "forecast_sd_k": d.doubt_k,
        "halves": [_half_day(half) for half in d.halves],
        "course": _belief(d.course),
        "greens": [_hole_day(hole) for hole in d.holes],
        "rain_m": d.rain_m,
        "heat_index_k": None if exposure is None else exposure.heat_index_k,
        "heat_tier": None if exposure is None else exposure.heat,
        "heat_tier_in_sun": None if exposure is None else exposure.heat_in_sun,
        "wind_chill_k": None if exposure is None else exposure.wind_chill_k,
        "cold_tier": None if exposure is None else exposure.cold,
        "cautions": [*worst, LIGHTNING, NOT_MEDICAL],
        "changes": None if moved is None else _moved(moved),
        "cells": [cell_part(cell) for cell in d.cells],
        "lay_ups": [lay_up_part(table) for table in d.lay_ups],
        "left_out": [left_out_part(one) for one in d.left_out],
    }


def _half_day(h: "HalfDay") -> Json:
    return {
        "half": h.half,
        "hours": [hour_part(hour) for hour in h.hours],
        "middle": hour_part(h.middle),
        "numbers": [
            {
                "shot": row.number.summary.shot.label,
                "today_m": row.number.today_m,
                "centre_se_m": row.number.centre_se_m,
                "spread_m": row.number.spread_m,
                "low_m": row.low_m,
                "high_m": row.high_m,
                "into_m": row.into_m,
                "helping_m": row.helping_m,
            }
            for row in h.numbers
        ],
    }


def _belief(g: "GreenBelief") -> Json:
    return {
        "firmness_g": g.firmness_g,
        "firmness_sd_g": g.sd_g,
        "stimp_m": g.stimp_m,
        "noted": None if g.noted is None else g.noted.isoformat(),
    }


def _hole_day(h: "HoleDay") -> Json:
    return {
        "hole": h.hole,
        "at": h.hour.at.isoformat("minutes"),
        "location": h.location or None,
        "zone": h.zone,
        **_belief(h.green),
    }


def _moved(c: "Changes") -> Json:
    return {
        "since": c.since.isoformat(),
        "numbers": [
            {
                "half": m.half,
                "half_before": m.half_before,
                "shot": m.shot,
                "before_m": m.before_m,
                "now_m": m.now_m,
            }
            for m in c.numbers
        ],
        "winds": [
            {
                "half": m.half,
                "half_before": m.half_before,
                "before": hour_part(m.before),
                "now": hour_part(m.now),
            }
            for m in c.winds
        ],
        "firmness": [
            {"hole": m.hole or None, "before_g": m.before_g, "now_g": m.now_g} for m in c.firmness
        ],
        "stimps": [
            {"hole": m.hole or None, "before_m": m.before_m, "now_m": m.now_m} for m in c.stimps
        ],
        "holes": [{"hole": m.hole, "before": m.before or None, "now": m.now} for m in c.holes],
        "shots": [
            {
                "hole": m.hole,
                "zone": m.zone,
                "number_m": m.number_m,
                "before": m.before,
                "now": m.now,
            }
            for m in c.shots
        ],
    }
