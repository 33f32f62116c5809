"""A green as JSON."""

from math import degrees
from typing import TYPE_CHECKING

import numpy as np

from carrybook.app.json_views.base import RULES_NOTE, Json, location_part

if TYPE_CHECKING:
    from carrybook.base.numerics import Floats
    from carrybook.world.ground_report import GroundReport, Judged

__all__ = ["ground_view"]

_NET_M = 1.0  # between the places of the JSON


def ground_view(r: "GroundReport") -> Json:
    """Give what `ground show` answers."""
    hole, places = r.hole, r.places
    return {
        "venue": hole.venue,
        "hole": hole.ref,
        "par": hole.par,
        "map_attribution": hole.attribution,
        "notes": list(hole.notes),
        "heights_known": hole.heights_known,
        "bearing_deg": None if hole.bearing_rad is None else degrees(hole.bearing_rad),
        "front_number_m": hole.front_number_m,
        "green": {"deep_m": r.deep_m, "wide_m": r.wide_m, "area_m2": r.area_m2},
        "slope_50": r.slope_50,
        "slope_90": r.slope_90,
        "rise_m": r.rise_m,
        "height_se_m": r.height_se_m,
        "slope_se": r.slope_se,
        "green_speed_m": places.stimp_m,
        "marginal_slope": places.marginal,
        "critical_slope": places.critical,
        "usable": {
            "green": float(places.allowed.mean()) if places.reason.size else 0.0,
            "front_third": r.thirds.front,
            "middle_third": r.thirds.middle,
            "back_third": r.thirds.back,
        },
        "reasons": {str(reason): share for reason, share in places.shares().items()},
        "hole_location": None if r.judged is None else _judged(r.judged),
        "outline": [{"x_m": float(x), "right_m": float(-y)} for x, y in hole.green],
        "places": _places(r),
        "rules_note": RULES_NOTE,
    }


def _judged(j: "Judged") -> Json:
    return {
        **location_part(j.location),
        "allowed": j.reason == type(j.reason).NONE,
        "reason": str(j.reason),
        "slope": j.slope,
        "slope_se": j.slope_se,
        "falls_to_deg": degrees(j.falls_rad),
        "edge_m": j.edge_m,
    }


def _places(r: "GroundReport") -> Json:
    """The green on a net of one metre, as columns."""
    from carrybook.world.hole_locations import Reason
    from carrybook.world.shape import shape_at

    p = r.places
    chosen = (p.x % _NET_M == 0.0) & (p.y % _NET_M == 0.0)
    x, y = p.x[chosen], p.y[chosen]
    shape = shape_at(r.hole.ground, x, y)
    names = tuple(Reason)

    def column(values: "Floats") -> list[float]:
        return [float(v) for v in np.round(values, 4)]

    return {
        "x_m": column(x),
        "right_m": column(-y),
        "height_m": column(shape.height),
        "slope_x": column(shape.slope_x),
        "slope_right": column(-shape.slope_y),
        "reason": [str(names[n]) for n in p.reason[chosen]],
    }
