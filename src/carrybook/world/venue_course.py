"""The holes of a venue: from a map, from described greens, or from a folder of them."""

from collections.abc import Callable
from pathlib import Path

from carrybook.base.errors import BadInputError
from carrybook.world.hole import Hole
from carrybook.world.hole_map import list_holes
from carrybook.world.venue import Venue
from carrybook.world.ways import open_hole

__all__ = ["course_refs", "read_course"]

_MAPS = (".geojson", ".json", ".osm", ".xml", ".pbf")
_HEIGHTS = ("heights.csv", "heights.tif", "heights.tiff")
_WORDS = ".txt"


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
