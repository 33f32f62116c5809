"""The page of a venue as JSON."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from carrybook.app.json_views.base import Json, air_part

if TYPE_CHECKING:
    from carrybook.app.services.venues import VenuePage
    from carrybook.world.forecast import Hour
    from carrybook.world.venue import Venue, VenueDay, VenueNote

__all__ = ["hour_part", "note_part", "page_view", "venue_part", "venues_view"]


def page_view(page: "VenuePage") -> Json:
    """Give everything the book has of a venue."""
    return {
        "venue": venue_part(page.venue),
        "notes": [note_part(note) for note in page.notes],
        "days": [_known(day) for day in page.days.values()],
        "forecasts": [
            {
                "day": day.isoformat(),
                "file": told.file,
                "read_on": None if told.read_on is None else told.read_on.isoformat(),
                "hours": [hour_part(hour) for hour in told.hours],
            }
            for day, told in page.forecasts.items()
        ],
    }


def venues_view(venues: "Sequence[Venue]") -> Json:
    """Give all venues."""
    return {"venues": [venue_part(venue) for venue in venues]}


def venue_part(v: "Venue") -> Json:
    """Give a venue."""
    return {
        "name": v.name,
        "course": None if v.course is None else str(v.course),
        "heights": None if v.heights is None else str(v.heights),
        "elevation_m": v.elevation_m,
        "surroundings": v.surroundings,
        "numbers_m": list(v.numbers_m),
    }


def note_part(n: "VenueNote") -> Json:
    """Give a note."""
    return {
        "day": n.day.isoformat(),
        "hole": n.hole or None,
        "firmness_g": n.firmness_g,
        "firmness_sd_g": n.firmness_sd_g,
        "stimp_m": n.stimp_m,
        "saw": list(n.saw),
        "text": n.text,
    }


def hour_part(h: "Hour") -> Json:
    """Give one hour of a forecast."""
    return {
        "at": h.at.isoformat("minutes"),
        "air": air_part(h.air),
        "wind_mps": h.wind_speed_mps,
        "wind_from_true_rad": h.wind_from_true_rad,
        "gust_mps": h.gust_mps,
        "rain_m": h.rain_m,
    }


def _known(d: "VenueDay") -> Json:
    return {
        "day": d.day.isoformat(),
        "tee_off": None if d.tee_off is None else d.tee_off.isoformat("minutes"),
        "first_hole": d.first_hole,
        "locations": [{"hole": ref, "location": words} for ref, words in d.locations],
    }
