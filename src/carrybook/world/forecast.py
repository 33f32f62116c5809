"""The forecast of one day by the hour, from a CSV file (RFC 4180).

The header names the columns `time`, `temperature`, `humidity` or `dew point`, `station pressure` or
`sea-level pressure`, `wind`, `wind from` (degrees from true north) and, if there are any, `gust`
and `rain`; others are ignored. A unit stands in the header, `wind (mph)`, or in the cell, `12mph`.
"""

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from io import StringIO
from itertools import pairwise
from math import pi
from pathlib import Path

from carrybook.base import units as u
from carrybook.base.errors import BadInputError, require_range
from carrybook.world.air import Air, air_from_dew_point, station_pressure
from carrybook.world.wind import Wind, wind_on_line

__all__ = ["Hour", "hour_at", "hours_in", "read_forecast", "rows_in", "text_of"]

_NAMES = {  # as in a header, lower case -> what it holds
    "time": "time",
    "temperature": "temperature",
    "temp": "temperature",
    "air temperature": "temperature",
    "humidity": "humidity",
    "relative humidity": "humidity",
    "dew point": "dew point",
    "dewpoint": "dew point",
    "station pressure": "station pressure",
    "sea level pressure": "sea-level pressure",
    "qnh": "sea-level pressure",
    "wind": "wind",
    "wind speed": "wind",
    "wind from": "wind from",
    "wind direction": "wind from",
    "gust": "gust",
    "gusts": "gust",
    "wind gust": "gust",
    "rain": "rain",
    "rainfall": "rain",
    "precipitation": "rain",
}
_KINDS = {
    "temperature": u.TEMPERATURE,
    "humidity": u.FRACTION,
    "dew point": u.DEW_POINT,
    "station pressure": u.PRESSURE,
    "sea-level pressure": u.SEA_LEVEL_PRESSURE,
    "wind": u.WIND_SPEED,
    "wind from": u.ANGLE,
    "gust": u.SPEED,
    "rain": u.RAIN,
}
_WITH_UNIT = re.compile(r"(.+?)\s*[\[(]\s*([^\])]*?)\s*[\])]")
_TRUE = re.compile(r"\s*\btrue$", re.IGNORECASE)
_MISSING = ("", "-", "--", "n/a", "na")
_VARIABLE = ("variable", "vrb")
_MOST_ROWS = 24 * 60  # ours: one a minute, or 60 days by the hour
_CELL_SHOWN = 24
_MOST_LISTED = 24  # times in a message


@dataclass(frozen=True, slots=True)
class Hour:
    """What is forecast for one time of the day.

    Parameters
    ----------
    at : datetime.time
        As written; with an offset where the file has one.
    air : Air
        At the elevation of the course.
    wind_speed_mps : float
        Mean at 10 m, 0 to 30. [m/s]
    wind_from_true_rad : float, optional
        Where it comes from, clockwise from true north, 0 to 2 pi. None: calm or variable. [rad]
    gust_mps : float, optional
        0 to 100. None: the file says nothing. [m/s]
    rain_m : float, optional
        What falls in that hour, as a depth of water, 0 to 0.305. None: the file says nothing. [m]

    Raises
    ------
    OutOfRangeError
        A quantity is outside its range.
    """

    at: time
    air: Air
    wind_speed_mps: float
    wind_from_true_rad: float | None = None
    gust_mps: float | None = None
    rain_m: float | None = None

    def __post_init__(self) -> None:
        require_range("wind", self.wind_speed_mps, 0.0, 30.0, "m/s")
        if self.wind_from_true_rad is not None:
            require_range("wind direction", self.wind_from_true_rad, 0.0, 2.0 * pi, "rad")
        if self.gust_mps is not None:
            require_range("gust", self.gust_mps, 0.0, 100.0, "m/s")
        if self.rain_m is not None:
            require_range("rain", 1000.0 * self.rain_m, 0.0, 305.0, "mm")

    def wind(self, line_bearing_rad: float, roughness_m: float) -> Wind:
        """Wind as seen along a line of play, gusts included.

        Parameters are those of :func:`carrybook.world.wind.wind_on_line`.

        Raises
        ------
        BadInputError
            A wind that is variable, or a quantity outside its range.
        """
        return wind_on_line(
            self.wind_speed_mps,
            self.wind_from_true_rad,
            line_bearing_rad,
            roughness_m,
            gust_mps=self.gust_mps,
        )


@dataclass(frozen=True, slots=True)
class _Columns:
    """Where each thing stands, and the unit that its header names."""

    place: dict[str, int]
    unit: dict[str, str | None]


def read_forecast(path: Path, *, elevation_m: float | None = None) -> tuple[Hour, ...]:
    """Read the forecast of one day.

    Parameters
    ----------
    path : Path
        The CSV file, UTF-8 with or without byte-order mark; cells divided by commas, semicolons or
        tabs.
    elevation_m : float, optional
        Of the course above sea level; needed where the pressure is at sea level. [m]

    Returns
    -------
    hours : tuple of Hour
        In order of time. Either every row is read, or nothing.

    Raises
    ------
    BadInputError
        The file cannot be read, lacks a column, has two for one thing, covers more than one day,
        goes back in time, or a cell does not hold what it should; the message names the row.
    """
    read = hours_in(text_of(path), path.name, elevation_m=elevation_m)
    _require_one_day(read, path.name)
    return tuple(hour for _, hour in read)


def hours_in(
    text: str, name: str, *, elevation_m: float | None = None
) -> tuple[tuple[date | None, Hour], ...]:
    """Read a forecast that is a text already, of any number of days, row by row.

    Parameters
    ----------
    text : str
        What the file holds.
    name : str
        What the file is called in a message.
    elevation_m : float, optional
        Of the course above sea level; needed where the pressure is at sea level. [m]

    Returns
    -------
    hours : tuple of (date or None, Hour)
        In the order of the rows; the date where the time of the row has one.

    Raises
    ------
    BadInputError
        A column is missing or doubled, or a cell does not hold what it should.
    """
    rows = rows_in(text, name)
    columns = _columns(rows[0] if rows else [], name)
    if "sea-level pressure" in columns.place and elevation_m is None:
        raise BadInputError(
            f"{name} has its pressure at sea level; say how high the course lies, like 120m"
        )
    numbered = [(n, row) for n, row in enumerate(rows[1:], start=2) if any(map(str.strip, row))]
    if not numbered:
        raise BadInputError(f"{name} holds no hours")
    if len(numbered) > _MOST_ROWS:
        raise BadInputError(f"{name} has {len(numbered)} rows; a day has {_MOST_ROWS} at most")
    return tuple(_hour(row, columns, elevation_m, f"{name}, row {n}") for n, row in numbered)


def hour_at(hours: Sequence[Hour], at: time) -> Hour:
    """Find what is forecast for one time of the day.

    Parameters
    ----------
    hours : sequence of Hour
        At least one, in order of time.
    at : datetime.time
        Local time as in the file, without an offset.

    Returns
    -------
    hour : Hour
        The one with exactly that time; nothing is interpolated.

    Raises
    ------
    BadInputError
        There is none; the message lists the times that there are.
    """
    times = [hour.at.replace(tzinfo=None) for hour in hours]
    if at in times:
        return hours[times.index(at)]
    clock = [t.isoformat("auto" if t.second or t.microsecond else "minutes") for t in times]
    known = ", ".join(clock)
    if len(clock) > _MOST_LISTED:
        known = f"{len(clock)} times from {clock[0]} to {clock[-1]}"
    raise BadInputError(f"time = {at:%H:%M} is not in the forecast; it has {known}")


def text_of(path: Path) -> str:
    """Read a text file in UTF-8, with or without byte-order mark.

    Raises
    ------
    BadInputError
        It cannot be read.
    """
    try:
        return path.read_text("utf-8-sig")
    except OSError as error:
        raise BadInputError(f"cannot read {path}: {error.strerror}") from None
    except UnicodeDecodeError:
        raise BadInputError(f"{path.name} is not a text file in UTF-8") from None


def rows_in(text: str, name: str, what: str = "a CSV file of a forecast") -> list[list[str]]:
    """Take a text apart into rows of cells, the header first.

    Raises
    ------
    BadInputError
        It is no table.
    """
    header = text.partition("\n")[0]
    delimiter = max(",;\t", key=header.count)
    try:
        return list(csv.reader(StringIO(text, newline=""), delimiter=delimiter))
    except csv.Error as error:
        raise BadInputError(f"{name} is not {what}: {error}") from None


def _columns(header: list[str], name: str) -> _Columns:
    """Find every column that is needed, or say which is not there."""
    place: dict[str, int] = {}
    unit: dict[str, str | None] = {}
    for index, cell in enumerate(header):
        typed = _WITH_UNIT.fullmatch(cell.strip())
        words = " ".join((typed[1] if typed else cell).lower().replace("_", " ").split())
        words = words.replace("sea-level", "sea level")
        if words == "pressure":
            raise BadInputError(
                f"{name}: 'pressure' may be meant at the course or at sea level; call the column"
                " 'station pressure' or 'sea-level pressure'"
            )
        what = _NAMES.get(words)
        if what in place:
            raise BadInputError(f"{name} has two columns for {what}; leave one out")
        if what is not None:
            place[what] = index
            unit[what] = (_TRUE.sub("", typed[2]) or None) if typed else None
    _require_columns(place, name)
    return _Columns(place, unit)


def _require_columns(place: dict[str, int], name: str) -> None:
    needed = (
        ("time",),
        ("temperature",),
        ("humidity", "dew point"),
        ("station pressure", "sea-level pressure"),
        ("wind",),
        ("wind from",),
    )
    for either in needed:
        found = [what for what in either if what in place]
        if not found:
            raise BadInputError(f"{name}: the first row needs a column {' or '.join(either)}")
        if len(found) > 1:
            raise BadInputError(f"{name} has both {' and '.join(either)}; leave one out")


def _hour(
    row: list[str], columns: _Columns, elevation_m: float | None, where: str
) -> tuple[date | None, Hour]:
    """One row; the date where its time has one."""
    cells = {
        what: row[index].strip() if index < len(row) else ""
        for what, index in columns.place.items()
    }
    try:
        day, at = _time(cells["time"])
        air = _air(cells, columns.unit, elevation_m)
        speed = _quantity("wind", cells, columns.unit)
        direction = _direction(cells, columns.unit, calm=speed == 0.0)
        gust, rain = (_if_there(what, cells, columns.unit) for what in ("gust", "rain"))
        return day, Hour(at, air, speed, direction, gust, rain)
    except BadInputError as error:
        raise type(error)(f"{where}: {error}") from None


def _air(cells: dict[str, str], unit: dict[str, str | None], elevation_m: float | None) -> Air:
    temperature = _quantity("temperature", cells, unit)
    if elevation_m is not None and "sea-level pressure" in cells:
        pressure = station_pressure(_quantity("sea-level pressure", cells, unit), elevation_m)
    else:
        pressure = _quantity("station pressure", cells, unit)
    if "dew point" in cells:
        return air_from_dew_point(temperature, _quantity("dew point", cells, unit), pressure)
    return Air(temperature, pressure, _quantity("humidity", cells, unit))


def _quantity(what: str, cells: dict[str, str], unit: dict[str, str | None]) -> float:
    if cells[what].lower() in _MISSING:
        raise BadInputError(f"{what} is missing")
    return u.parse(_shown(cells[what]), _KINDS[what], what, unit=unit[what])


def _if_there(what: str, cells: dict[str, str], unit: dict[str, str | None]) -> float | None:
    there = cells.get(what, "").lower() not in _MISSING
    return _quantity(what, cells, unit) if there else None


def _direction(cells: dict[str, str], unit: dict[str, str | None], *, calm: bool) -> float | None:
    cell = _TRUE.sub("", cells["wind from"])
    if cell.lower() in _VARIABLE or (calm and cell.lower() in _MISSING):
        return None
    direction = _quantity("wind from", cells | {"wind from": cell}, unit)
    if direction < 0.0:
        raise BadInputError(f"wind from = {cell} is outside 0 to 360 deg")
    return None if calm else direction


def _time(cell: str) -> tuple[date | None, time]:
    """Time of day, and the date where there is one (ISO 8601)."""
    try:
        if cell[4:5] == "-":
            moment = datetime.fromisoformat(cell)
            return moment.date(), moment.timetz()
        return None, time.fromisoformat(cell.zfill(5) if cell[1:2] == ":" else cell)
    except ValueError:
        raise BadInputError(
            f"time = {_shown(cell)!r} is not a time of day; write it like 07:00 or 2026-05-31T07:00"
        ) from None


def _shown(cell: str) -> str:
    """Only so much of a cell as a message can hold; no quantity is longer."""
    return cell if len(cell) <= _CELL_SHOWN else cell[:_CELL_SHOWN] + "..."


def _require_one_day(read: Sequence[tuple[date | None, Hour]], name: str) -> None:
    days = [day for day, _ in read]
    if any(day != days[0] for day in days):
        raise BadInputError(f"{name} covers more than one day; give one day at a time")
    times = [hour.at for _, hour in read]
    if any(at.utcoffset() != times[0].utcoffset() for at in times):
        raise BadInputError(f"{name}: some times have another offset than the first, {times[0]}")
    for before, after in pairwise(times):
        if after <= before:
            raise BadInputError(f"{name}: time = {after} does not come after {before}")
