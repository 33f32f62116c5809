"""A green: read, whichever way it is given; looked at; drawn."""

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from carrybook.app.files import save_figure
from carrybook.app.forms.ground import GroundForm
from carrybook.app.forms.sketch import sketch_of
from carrybook.app.services.rounds import require_planning
from carrybook.base.errors import BadInputError

if TYPE_CHECKING:
    from carrybook.world.ground_report import GroundReport
    from carrybook.world.hole import Hole, HoleLocation

__all__ = [
    "draw_ground",
    "location_on",
    "look_at",
    "number_to",
    "open_ground",
    "open_sketch",
    "sketched_files",
]


def open_ground(asked: GroundForm) -> "Hole":
    """Read the green.

    Raises
    ------
    BadInputError
        Neither or both of map and description, a file or words that cannot be used.
    """
    from carrybook.world.ways import open_hole

    return open_hole(
        asked.map,
        asked.hole,
        green=asked.green,
        heights_path=asked.heights,
        heights_unit=asked.heights_unit,
    )


def open_sketch(text: str) -> "tuple[Hole, float]":
    """Read a green as it is sketched, and how far on its front edge is in the sketch. [m]

    Raises
    ------
    BadInputError
        A line that is not understood, no size or outline, or too few heights.
    """
    words, heights, front_m = sketched_files(text)
    if heights is None:
        return open_ground(GroundForm.of(green=words)), front_m
    with TemporaryDirectory() as folder:
        path = Path(folder) / "heights.csv"
        path.write_bytes(heights)
        try:
            return open_ground(GroundForm.of(green=words, heights=path)), front_m
        except BadInputError as error:
            raise BadInputError(str(error).replace(f"{path.name}: ", "")) from None


def sketched_files(text: str) -> tuple[str, bytes | None, float]:
    """Give a sketch as a description and a file of readings, and where its front edge is. [m]

    Raises
    ------
    BadInputError
        A line that is not understood, or no size or outline.
    """
    from carrybook.world.described import read_description

    sketch = sketch_of(text)
    described = read_description(sketch.words, "green")
    front_m = min((on for on, _ in described.outline), default=0.0)
    heights = sketch.readings(front_m) if sketch.heights else None
    return sketch.words, heights, front_m


def location_on(hole: "Hole", words: str | None) -> "HoleLocation":
    """Find where the hole is cut: as typed, else as the description says.

    Raises
    ------
    BadInputError
        Nobody said, or a place that is off the green.
    """
    from carrybook.world.locate import locate

    said = words or hole.location_words
    if not said:
        raise BadInputError("where is the hole cut? add --hole-location '24 on, 5 from the right'")
    return locate(hole, said)


def number_to(hole: "Hole", location: "HoleLocation", number_m: float | None) -> float:
    """Give the number: as typed, else from the front edge number of the description. [m]

    Raises
    ------
    BadInputError
        Nobody said.
    """
    if number_m is not None:
        return number_m
    if hole.front_number_m is None:
        raise BadInputError("how far is it to the hole? add --number 88yd")
    return hole.front_number_m + location.on_m


def look_at(asked: GroundForm, book: Path | None = None) -> "GroundReport":
    """Look at a green, and judge a hole location where one was given.

    Raises
    ------
    BadInputError
        As :func:`open_ground` and :func:`location_on`.
    NoSolutionError
        A round is on.
    """
    from carrybook.world.ground_report import report_ground

    require_planning(book)
    hole = open_ground(asked)
    said = asked.hole_location or hole.location_words
    return report_ground(hole, asked.green_speed, location_on(hole, said) if said else None)


def draw_ground(path: Path, report: "GroundReport", units: str) -> None:
    """Draw a green into a file.

    Raises
    ------
    BadInputError
        The file cannot be written.
    """
    from carrybook.artefacts.ground import ground_figure

    save_figure(path, ground_figure(report, units=units))
