"""Which shots somebody faces, also from a CSV file (RFC 4180): distances, lies, how often each.

The header of a file names the column `distance`, and, if there are any, `lie`, `moisture`,
`firmness` and `weight`; others are ignored. A unit stands in the header, `distance (yd)`, or in the
cell, `77yd`.
"""

import re
from dataclasses import dataclass
from pathlib import Path

from carrybook.base import units as u
from carrybook.base.errors import BadInputError
from carrybook.base.words import named
from carrybook.world.firmness import firmness_named
from carrybook.world.forecast import rows_in, text_of
from carrybook.world.lie import Lie, Moisture

__all__ = ["FacedShot", "read_faced"]

_NAMES = {
    "distance": "distance",
    "number": "distance",
    "lie": "lie",
    "moisture": "moisture",
    "firmness": "firmness",
    "weight": "weight",
    "times": "weight",
}
_WITH_UNIT = re.compile(r"(.+?)\s*[\[(]\s*([^\])]*?)\s*[\])]")
_MOST_ROWS = 5000  # ours


@dataclass(frozen=True, slots=True)
class FacedShot:
    """One kind of shot that somebody faces.

    Parameters
    ----------
    distance_m : float
        To the hole. [m]
    lie, moisture : Lie, Moisture
        What the ball lies on, and how wet it is.
    firmness_g : float, optional
        Of the green; none where that is not said. [Clegg gravities]
    times : float
        How often: in a round where rounds were counted, else only ratios count. [1]
    green : int
        Of a course, which of its greens it goes to.
    """

    distance_m: float
    lie: Lie = Lie.FAIRWAY
    moisture: Moisture = Moisture.DRY
    firmness_g: float | None = None
    times: float = 1.0
    green: int = 0


def read_faced(path: Path) -> tuple[FacedShot, ...]:
    """Read a file of shots that are faced.

    Parameters
    ----------
    path : Path
        The CSV file, UTF-8 with or without byte-order mark; cells divided by commas, semicolons or
        tabs.

    Returns
    -------
    shots : tuple of FacedShot
        In the order of the file. Either every row is read, or nothing.

    Raises
    ------
    BadInputError
        The file cannot be read, lacks the column of distances, has two for one thing, holds no
        rows, or a cell does not hold what it should; the message names the row.
    """
    rows = rows_in(text_of(path), path.name, "a CSV file")
    place, unit = _columns(rows[0] if rows else [], path.name)
    numbered = [(n, row) for n, row in enumerate(rows[1:], start=2) if any(map(str.strip, row))]
    if not 0 < len(numbered) <= _MOST_ROWS:
        raise BadInputError(
            f"{path.name} holds {len(numbered)} rows; 1 to {_MOST_ROWS} can be used"
        )
    return tuple(_shot(row, place, unit, f"{path.name}, row {n}") for n, row in numbered)


def _columns(header: list[str], name: str) -> tuple[dict[str, int], str | None]:
    """Where each thing stands, and the unit of the distances where the header says one."""
    place: dict[str, int] = {}
    unit = None
    for index, cell in enumerate(header):
        typed = _WITH_UNIT.fullmatch(cell.strip())
        what = _NAMES.get((typed[1] if typed else cell).strip().lower())
        if what in place:
            raise BadInputError(f"{name} has two columns for {what}; leave one out")
        if what is not None:
            place[what] = index
        if what == "distance" and typed:
            unit = typed[2]
    if "distance" not in place:
        raise BadInputError(f"{name}: the first row needs a column distance")
    return place, unit


def _shot(row: list[str], place: dict[str, int], unit: str | None, where: str) -> FacedShot:
    cells = {what: row[index].strip() for what, index in place.items() if index < len(row)}
    given = {what: cell for what, cell in cells.items() if cell}
    try:
        if "distance" not in given:
            raise BadInputError("distance is missing")
        firmness = firmness_named(given["firmness"])[0] if "firmness" in given else None
        lie = named(Lie, given.get("lie", Lie.FAIRWAY), "lie")
        if lie is Lie.SAND:
            raise BadInputError("lie = 'sand' is not modelled: the club does not touch the ball")
        return FacedShot(
            u.parse(given["distance"], u.LENGTH, "distance", unit=unit),
            lie,
            named(Moisture, given.get("moisture", Moisture.DRY), "moisture"),
            firmness,
            _weight(given.get("weight", "1")),
        )
    except BadInputError as error:
        raise type(error)(f"{where}: {error}") from None


def _weight(cell: str) -> float:
    try:
        weight = float(cell.replace(",", "."))
    except ValueError:
        weight = float("nan")
    if not 0.0 < weight < 1e6:
        raise BadInputError(f"weight = {cell!r} is not a number above 0; write it like 3")
    return weight
