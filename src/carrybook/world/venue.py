"""The page of a venue: where its holes are drawn, what was noted there, and what each day brings.

Plain values; firmness is noted as it was said or seen, and learnt only when a week is prepared.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, time
from pathlib import Path

from carrybook.base.errors import BadInputError
from carrybook.world.hole import Hole
from carrybook.world.hole_map import list_holes
from carrybook.world.ways import open_hole

__all__ = ["Venue", "VenueDay", "VenueNote", "course_refs", "read_course"]

_MAPS = (".geojson", ".json", ".osm", ".xml", ".pbf")
_HEIGHTS = ("heights.csv", "heights.tif", "heights.tiff")
_WORDS = ".txt"


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


def course_refs(venue: Venue) -> tuple[str, ...]:
    """Numbers of the holes of a venue, read without their heights.

    Raises
    ------
    BadInputError
        As :func:`read_course`.
    """
    return tuple(_sources(venue))


def read_course(
    venue: Venue,
    refs: tuple[str, ...] = (),
    *,
    level: bool = False,
    progress: Callable[[str, float], None] | None = None,
) -> tuple[Hole, ...]:
    """Read the holes of a venue.

    Parameters
    ----------
    venue : Venue
        The venue. A folder may hold one map, `heights.csv` or `heights.tif` beside it, and
        descriptions of greens (`.txt`), which stand in for the map's.
    refs : tuple of str
        Numbers of the holes that are wanted; none: all.
    level : bool, default False
        Whether to leave out the heights of a map, which take longest.
    progress : callable, optional
        Told which hole is being read and which share is done.

    Returns
    -------
    holes : tuple of Hole
        As they are wanted; else in the order of the map, then descriptions.

    Raises
    ------
    BadInputError
        Nothing is there any more, cannot be read, or has not that hole.
    """
    sources, holes = _sources(venue), []
    missing = [ref for ref in refs if ref not in sources]
    if missing:
        raise BadInputError(
            f"hole = {missing[0]!r} is not among the holes of {venue.name}: {', '.join(sources)}"
        )
    wanted = refs or tuple(sources)
    for k, ref in enumerate(wanted):
        if progress is not None:
            progress(f"reading hole {ref}", k / len(wanted))
        path, heights = sources[ref]
        words = path.suffix.lower() == _WORDS
        heights = None if level and not words else heights
        holes.append(open_hole(path, None if words else ref, heights_path=heights))
    return tuple(holes)


def _sources(venue: Venue) -> dict[str, tuple[Path, Path | None]]:
    """Where each hole is drawn, and its heights; later ones stand in for earlier ones."""
    course = venue.course
    if course is None or not course.exists():
        where = "no course" if course is None else f"its course at {course}, which is not there"
        raise BadInputError(
            f"{venue.name} has {where}; name it again: carrybook venue add '{venue.name}'"
            " --course FILE-OR-FOLDER"
        )
    if course.is_file():
        return dict.fromkeys(_refs(course), (course, venue.heights))
    inside = sorted(course.iterdir())
    maps = [path for path in inside if path.suffix.lower() in _MAPS]
    words = [path for path in inside if path.suffix.lower() == _WORDS]
    if len(maps) > 1:
        names = ", ".join(path.name for path in maps)
        raise BadInputError(f"{course} has {len(maps)} maps: {names}; name one of them")
    if not maps and not words:
        raise BadInputError(f"{course} has no map ({', '.join(_MAPS)}) and no green ({_WORDS})")
    beside = next((path for path in inside if path.name.lower() in _HEIGHTS), None)
    drawn = {ref: (path, venue.heights or beside) for path in maps for ref in _refs(path)}
    return drawn | {ref: (path, None) for path in words for ref in _refs(path)}


def _refs(path: Path) -> tuple[str, ...]:
    """Numbers of the holes of one file."""
    return (open_hole(path).ref,) if path.suffix.lower() == _WORDS else list_holes(path)
