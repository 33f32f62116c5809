"""The forecast of several days in one file, day by day; each day keeps its rows as they were read.

Columns and units are those of :mod:`carrybook.world.forecast`; the times carry their date.
"""

import csv
from dataclasses import dataclass
from datetime import date, datetime, time
from io import StringIO
from itertools import pairwise
from pathlib import Path

from carrybook.base.errors import BadInputError
from carrybook.world.forecast import Hour, hours_in, rows_in, text_of

__all__ = ["DayForecast", "day_of_text", "read_days"]


@dataclass(frozen=True, slots=True)
class DayForecast:
    """The forecast of one day, and the rows it was read from.

    Parameters
    ----------
    day : datetime.date
        Which day.
    hours : tuple of Hour
        In order of time; at least one.
    file : str
        Name of the file.
    text : str
        Header and rows of that day, as read.
    elevation_m : float, optional
        What brought a pressure at sea level to the course. [m]
    read_on : datetime.date, optional
        When it was read; a forecast that was read earlier is less sure. None: not told.
    """

    day: date
    hours: tuple[Hour, ...]
    file: str
    text: str
    elevation_m: float | None = None
    read_on: date | None = None


def read_days(
    path: Path,
    *,
    day: date | None = None,
    elevation_m: float | None = None,
    read_on: date | None = None,
) -> tuple[DayForecast, ...]:
    """Read a forecast of one or more days.

    Parameters
    ----------
    path : Path
        The CSV file.
    day : datetime.date, optional
        Which day it is for, where its times have no date.
    elevation_m : float, optional
        Of the course above sea level; needed where the pressure is at sea level. [m]
    read_on : datetime.date, optional
        Today.

    Returns
    -------
    days : tuple of DayForecast
        In order. Either every row is read, or nothing.

    Raises
    ------
    BadInputError
        Whatever :func:`carrybook.world.forecast.hours_in` refuses, times that go back, or times
        without a date and no day to go with them.
    """
    text = text_of(path)
    read = hours_in(text, path.name, elevation_m=elevation_m)
    rows = [row for row in rows_in(text, path.name) if any(map(str.strip, row))]
    found: dict[date, list[tuple[Hour, list[str]]]] = {}
    for (dated, hour), row in zip(read, rows[1:], strict=True):
        found.setdefault(_day(dated, day, hour.at, path.name), []).append((hour, row))
    for each, told in found.items():
        _require_rising([hour.at for hour, _ in told], each, path.name)
    return tuple(
        DayForecast(
            each,
            tuple(hour for hour, _ in found[each]),
            path.name,
            _written([rows[0], *(row for _, row in found[each])]),
            elevation_m,
            read_on,
        )
        for each in sorted(found)
    )


def day_of_text(
    text: str, day: date, file: str, elevation_m: float | None, read_on: date | None
) -> DayForecast:
    """Read one day back from the rows that :func:`read_days` kept.

    Parameters
    ----------
    text, day, file, elevation_m, read_on
        As :class:`DayForecast` has them. [elevation in m]

    Raises
    ------
    BadInputError
        They are not what they were.
    """
    hours = tuple(hour for _, hour in hours_in(text, file, elevation_m=elevation_m))
    return DayForecast(day, hours, file, text, elevation_m, read_on)


def _day(dated: date | None, day: date | None, at: time, name: str) -> date:
    """Which day a row is for."""
    if dated is None and day is None:
        raise BadInputError(
            f"{name} does not say which day it is for; write times like"
            f" {datetime(2026, 5, 31, at.hour, at.minute):%Y-%m-%dT%H:%M}, or add --date 2026-05-31"
        )
    if dated is not None and day is not None and dated != day:
        raise BadInputError(f"{name} has rows for {dated}, and --date says {day}; leave it out")
    return dated or day or date.min


def _require_rising(times: list[time], day: date, name: str) -> None:
    if any(at.utcoffset() != times[0].utcoffset() for at in times):
        raise BadInputError(f"{name}: times of {day} have different offsets")
    for before, after in pairwise(times):
        if after <= before:
            raise BadInputError(f"{name}: time = {after} on {day} does not come after {before}")


def _written(rows: list[list[str]]) -> str:
    kept = StringIO()
    csv.writer(kept, lineterminator="\n").writerows(rows)
    return kept.getvalue()
