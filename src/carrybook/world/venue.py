"""The page of a venue: where its holes are drawn, what was noted there, and what each day brings.

Plain values; firmness is noted as it was said or seen, and learnt only when a week is prepared.
"""

from dataclasses import dataclass
from datetime import date, time
from pathlib import Path

__all__ = ["Venue", "VenueDay", "VenueNote"]


@dataclass(frozen=True, slots=True)
class Venue:
    """A venue as the book knows it.

    Parameters
    ----------
    name : str
        As the player calls it.
    course : Path, optional
        A map, a description of one green, or a folder of them; none: nobody said yet.
    heights : Path, optional
        Readings or a raster, where they do not lie in the folder.
    elevation_m : float, optional
        Of the course above sea level. [m]
    surroundings : str
        What slows the wind there, in the words of `--surroundings`.
    numbers_m : tuple of float
        Distances from which its greens are likely to be approached. [m]
    """

    name: str
    course: Path | None = None
    heights: Path | None = None
    elevation_m: float | None = None
    surroundings: str = "open links"
    numbers_m: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class VenueNote:
    """One thing noted at a venue.

    Parameters
    ----------
    day : datetime.date
        Of which day it holds.
    hole : str
        Number of the hole; empty: the whole course.
    firmness_g, firmness_sd_g : float, optional
        As it was called or measured, and how unsure that is. [Clegg gravities]
    stimp_m : float, optional
        Green speed. [m]
    saw : tuple of str
        What balls did that were seen to land, in the words of `firmness --saw`.
    text : str
        In the player's own words.
    """

    day: date
    hole: str = ""
    firmness_g: float | None = None
    firmness_sd_g: float | None = None
    stimp_m: float | None = None
    saw: tuple[str, ...] = ()
    text: str = ""


@dataclass(frozen=True, slots=True)
class VenueDay:
    """What is known of one day at a venue, beside its forecast.

    Parameters
    ----------
    day : datetime.date
        The day.
    tee_off : datetime.time, optional
        Local time of the first tee shot; none: not known, or no round.
    first_hole : int
        On which hole the round starts, 1 to 18.
    locations : tuple of (str, str)
        Hole, and where it is cut, in the words of a pin sheet.
    """

    day: date
    tee_off: time | None = None
    first_hole: int = 1
    locations: tuple[tuple[str, str], ...] = ()
