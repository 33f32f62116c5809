"""What to leave, as JSON."""

from math import degrees, isfinite
from typing import TYPE_CHECKING

from carrybook.app.json_views.base import RULES_NOTE, Json, air_part

if TYPE_CHECKING:
    from carrybook.decision.leave import Against, Distance, LeaveTable

__all__ = ["leave_view"]


def leave_view(t: "LeaveTable") -> Json:
    """Give what `leave` answers; null where nobody lays up."""
    s, low_high = t.situation, t.flat_m
    return {
        "venue": s.hole.venue,
        "hole": s.hole.ref,
        "hole_location": {"on_m": s.location.on_m, "from_left_m": s.location.from_left_m},
        "air": air_part(s.air),
        "lie": t.asked.lie or "as the map has it",
        "off_line_deg": degrees(t.asked.off_line_rad),
        "scatter": {
            "depth_m": t.asked.scatter.depth_m,
            "side_m": t.asked.scatter.side_m,
            "source": t.asked.scatter.source,
        },
        "distances": [_distance(d) for d in t.distances],
        "best_m": t.distances[t.best].left_m,
        "flat": {"low_m": low_high[0], "high_m": low_high[1]},
        "favourite_m": t.asked.favourite_m,
        "closer": _against(t.closer),
        "closest": _against(t.closest),
        "draws": t.draws,
        "seed": t.seed,
        "doubts": list(t.doubts),
        "rules_note": RULES_NOTE,
    }


def _distance(d: "Distance") -> Json:
    known = isfinite(d.strokes)
    return {
        "left_m": d.left_m,
        "surface": d.surface.name.lower().replace("_", " "),
        "shot": d.shot or None,
        "cue": d.cue or None,
        "feel_m": d.feel_m or None,
        "strokes": d.strokes if known else None,
        "strokes_se": d.strokes_se if known else None,
        "behind": d.behind if known else None,
        "behind_unsure": d.behind_unsure if known else None,
        "flat": d.flat,
        "lay_up_ends_in": {str(kind): share for kind, share in d.troubles.items()},
    }


def _against(a: "Against | None") -> Json | None:
    if a is None:
        return None
    return {
        "left_m": a.left_m,
        "saves": a.saves,
        "saves_unsure": a.unsure,
        "matters": a.matters,
    }
