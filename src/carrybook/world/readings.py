"""Reads readings of a green: heights of spots, slopes, or both, as CSV (RFC 4180).

The header says what each column is, in any order; other columns are ignored:

- where: `lon`, `lat` in degrees, or `on` (or `x`) from the front edge with `right`, `left` (or
  `y`, to the left), in paces unless the name goes on `_m`, `_ft`, `_yd` or `_paces`;
- `height_m`, `height_cm`, `height_ft` or `height_in`, above any one level;
- `slope_pct` with `falls_to`: a side as the player sees it (front-left), or degrees clockwise:
  from straight on with `on`, from north with `lon`.

A row needs a height or a slope; the other may be empty.
"""

import csv
import math
import re
from dataclasses import dataclass, replace
from math import atan2
from pathlib import Path

import numpy as np

from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Flags, Floats
from carrybook.world.description_words import SIDE_WORDS, towards

__all__ = ["Readings", "read_readings"]

_PLACE_UNITS = {"": YARD, "paces": YARD, "yd": YARD, "m": 1.0, "ft": FOOT}
_HEIGHT_UNITS = {"m": 1.0, "cm": 0.01, "ft": FOOT, "in": FOOT / 12.0}
_SLOPE_UNITS = {"pct": 0.01, "percent": 0.01, "%": 0.01}
_FALLS = ("falls_to", "falls_to_deg")
_HIGHEST = 9000.0  # m, either side of zero
_FARTHEST = 300.0  # m from the front edge, ours
_STEEPEST = 0.6  # ours
_NEED = "the first row needs the columns lon, lat (or on, right) and height_m or height_ft"
_SIDE = re.compile(SIDE_WORDS, re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Readings:
    """Readings of a green; each row has a height, a slope or both.

    Parameters
    ----------
    xy : ndarray, shape (n, 2)
        In the axes of the hole [m], or longitude and latitude [deg] where `on_earth`.
    height : ndarray, shape (n,)
        NaN where none was taken. [m]
    slope : ndarray, shape (n,)
        Steepness along the fall line; NaN where none was taken. [1]
    falls_rad : ndarray, shape (n,)
        Where it falls, clockwise from straight on; NaN where none was taken. [rad]
    by_compass : ndarray of bool, shape (n,)
        Its direction counts from north instead.
    on_earth : bool
        Positions are longitude and latitude.
    """

    xy: Floats
    height: Floats
    slope: Floats
    falls_rad: Floats
    by_compass: Flags
    on_earth: bool

    def of(self, chosen: Flags) -> "Readings":
        """Only the readings that are chosen."""
        return replace(
            self,
            xy=self.xy[chosen],
            height=self.height[chosen],
            slope=self.slope[chosen],
            falls_rad=self.falls_rad[chosen],
            by_compass=self.by_compass[chosen],
        )


@dataclass(frozen=True, slots=True)
class _Column:
    """One thing that a row says: where it stands, its unit and what is believable."""

    name: str
    index: int
    scale: float
    limit: float

    def cell(self, row: list[str]) -> str:
        """What stands there."""
        return row[self.index].strip() if self.index < len(row) else ""

    def of(self, row: list[str], where: str) -> float:
        """Value of the cell; NaN where it is empty."""
        cell = self.cell(row)
        if not cell and self.name in ("height", "slope"):
            return math.nan
        value = _number(cell) * self.scale
        if not abs(value) <= self.limit:
            shown = self.limit / abs(self.scale)
            raise BadInputError(
                f"{where}: {self.name} = {cell[:24]!r} is not a number within"
                f" {-shown:.0f} to {shown:.0f}"
            )
        return value


@dataclass(frozen=True, slots=True)
class _Columns:
    where: tuple[_Column, _Column]
    height: _Column | None
    slope: _Column | None
    falls: int


def read_readings(path: Path) -> Readings:
    """Read a file of readings.

    Parameters
    ----------
    path : Path
        The CSV file, UTF-8 with or without byte-order mark.

    Returns
    -------
    readings : Readings
        As they stand in the file.

    Raises
    ------
    BadInputError
        The file cannot be read, lacks a column, holds no readings, or a row does not hold what
        its header says.
    """
    rows = _rows(path)
    header = [_plain(name) for name in rows[0]] if rows else []
    where, height = _place_columns(header), _first(header, "height", _HEIGHT_UNITS, _HIGHEST)
    slope = _first(header, "slope", _SLOPE_UNITS, _STEEPEST)
    falls = next((n for n, name in enumerate(header) if name in _FALLS), None)
    if where is None or (height is None and (slope is None or falls is None)):
        shown = ", ".join(" ".join(name.split()).lower() for name in (rows or [[]])[0])[:80]
        raise BadInputError(f"{path.name}: {_NEED}; it has {shown or 'nothing'}")
    columns = _Columns(where, height, slope if falls is not None else None, falls or 0)
    numbered = ((n, row) for n, row in enumerate(rows[1:], start=2) if any(row))
    read = [_reading(row, columns, f"{path.name}, row {n}") for n, row in numbered]
    if not read:
        raise BadInputError(f"{path.name} holds no spots")
    x, y, heights, slopes, turns, compass = np.array(read, dtype=np.float64).T
    xy = np.column_stack([x, y])
    return Readings(xy, heights, slopes, turns, compass > 0.5, where[0].name == "lon")


def _rows(path: Path) -> list[list[str]]:
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            return list(csv.reader(file))
    except OSError as error:
        raise BadInputError(f"cannot read {path}: {error.strerror}") from None
    except UnicodeDecodeError:
        raise BadInputError(f"{path.name} is not a text file in UTF-8") from None
    except csv.Error as error:
        raise BadInputError(f"{path.name} is not a CSV file of heights: {error}") from None


def _plain(name: str) -> str:
    """A column name as one word: "On (paces)" is on_paces."""
    return re.sub("[^a-z%]+", "_", name.lower()).strip("_")


def _first(header: list[str], name: str, units: dict[str, float], limit: float) -> _Column | None:
    """The first column of that name, in whichever unit."""
    for unit, scale in units.items():
        full = f"{name}_{unit}" if unit else name
        if full in header:
            return _Column(name.lstrip("_"), header.index(full), scale, limit)
    return None


def _place_columns(header: list[str]) -> tuple[_Column, _Column] | None:
    """Columns that say where, on the earth or in the axes of the hole; to the left is plus."""
    if {"lon", "lat"} <= set(header):
        lon, lat = header.index("lon"), header.index("lat")
        return _Column("lon", lon, 1.0, 180.0), _Column("lat", lat, 1.0, 90.0)
    to_right = {unit: -scale for unit, scale in _PLACE_UNITS.items()}
    on = [_first(header, name, _PLACE_UNITS, _FARTHEST) for name in ("on", "x")]
    sides = [_first(header, name, _PLACE_UNITS, _FARTHEST) for name in ("left", "y")]
    sides.append(_first(header, "right", to_right, _FARTHEST))
    found = [next(filter(None, columns), None) for columns in (on, sides)]
    return (found[0], found[1]) if found[0] and found[1] else None


def _reading(row: list[str], columns: _Columns, where: str) -> tuple[float, ...]:
    x, y = (column.of(row, where) for column in columns.where)
    height = columns.height.of(row, where) if columns.height else math.nan
    slope = columns.slope.of(row, where) if columns.slope else math.nan
    if math.isnan(height) and math.isnan(slope):
        what = f"height = {columns.height.cell(row)!r}" if columns.height else "slope = ''"
        raise BadInputError(f"{where}: {what} is not a number, and there is no slope either")
    if slope < 0.0:
        raise BadInputError(f"{where}: a slope is not negative; falls_to says where it goes")
    turn, compass = math.nan, False
    if slope > 0.0:
        cell = row[columns.falls].strip() if columns.falls < len(row) else ""
        turn, compass = _direction(cell, columns.where[0].name == "lon", where)
    return x, y, height, slope, turn if slope > 0.0 else 0.0, float(compass)


def _direction(cell: str, on_earth: bool, where: str) -> tuple[float, bool]:
    """Where a slope falls, clockwise, and whether that counts from north."""
    degrees = _number(cell)
    if -360.0 <= degrees <= 360.0:
        return math.radians(degrees), on_earth
    if not _SIDE.fullmatch(cell):
        raise BadInputError(
            f"{where}: falls_to = {cell[:24]!r} is not a side like front-left, nor degrees"
        )
    x, y = towards(cell)
    return atan2(-y, x), False


def _number(cell: str) -> float:
    """Value of a cell; NaN where it is no number."""
    try:
        return float(cell)
    except ValueError:
        return math.nan
