"""A delimited file of logged balls, read into values. A bad row stops no good one."""

import hashlib
import json
from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from carrybook.base.errors import BadInputError
from carrybook.player.bag import Flight, Shape
from carrybook.player.balls import Ball
from carrybook.store.cells import has_decimal_comma, is_missing, read_cell
from carrybook.store.columns import Column, find_columns, rows_of_balls
from carrybook.store.delimited import DelimitedFile, Row, read_delimited
from carrybook.store.fields import AIR, MEASURED, plain
from carrybook.world.air import REFERENCE_DAY, Air

__all__ = ["BallFile", "BallRow", "Reject", "balls_in", "read_ball_file"]

_SHOT = frozenset({"shot", "club", "flight", "shape"})
_UNSAID = frozenset({"", Flight.STOCK, Shape.STRAIGHT})  # not part of a shot's name


@dataclass(frozen=True, slots=True)
class BallRow:
    """A row that is a ball.

    Parameters
    ----------
    number : int
        Line of the file on which it starts; the first is 1.
    ball : Ball
        The ball.
    raw : mapping of str to str
        Header to cell, as read.
    row_hash : str
        The same for the same cells under the same headers; the second of two equal rows of a file
        has another.
    """

    number: int
    ball: Ball
    raw: Mapping[str, str]
    row_hash: str


@dataclass(frozen=True, slots=True)
class Reject:
    """Why a row is no ball. A row has one for every cell that cannot be read.

    Parameters
    ----------
    row : int
        Line of the file on which it starts; the first is 1.
    column, value : str
        The header and the cell; empty where the row as a whole is the reason.
    reason : str
        What is wrong, and what to do about it.
    line : str
        The row as it stands in the file.
    """

    row: int
    column: str
    value: str
    reason: str
    line: str


@dataclass(frozen=True, slots=True)
class BallFile:
    """What a file of balls holds.

    Parameters
    ----------
    rows : tuple of BallRow
        The balls.
    rejects : tuple of Reject
        What is wrong with all other rows.
    mapping : mapping of str to str
        Field, such as "carry", to the header of its column.
    unused_columns : tuple of str
        Headers of columns that hold something, but not known what.
    """

    rows: tuple[BallRow, ...]
    rejects: tuple[Reject, ...]
    mapping: Mapping[str, str]
    unused_columns: tuple[str, ...]


def read_ball_file(
    path: Path,
    *,
    shots: Collection[str],
    columns: Mapping[str, str] = {},
    units: Mapping[str, str] = {},
) -> BallFile:
    """Read a delimited file of balls.

    Parameters
    ----------
    path : Path
        The file; see :func:`~carrybook.store.delimited.read_delimited`.
    shots : collection of str
        Names of the shots that the player owns.
    columns, units : mapping of str to str
        Headers and units that the person gave for fields, as {"carry": "Carry flat"} and
        {"carry": "yd"}.

    Raises
    ------
    BadInputError
        The file as a whole cannot be used; the message says why and what to do.
    """
    return balls_in(read_delimited(path), shots=shots, columns=columns, units=units)


def balls_in(
    file: DelimitedFile,
    *,
    shots: Collection[str],
    columns: Mapping[str, str],
    units: Mapping[str, str],
) -> BallFile:
    """Read the balls of a file that is already taken apart; otherwise as :func:`read_ball_file`."""
    found = find_columns(file, columns=columns, units=units)
    mapping = {column.field.name: column.header for column in found}
    reading = _Reading(
        width=len(file.header),
        columns=found,
        shot_header=mapping.get("shot") or mapping["club"],
        shots={_folded(shot): shot for shot in shots},
        decimal_comma=_has_decimal_comma(file, found),
    )
    rows: list[BallRow] = []
    rejects: list[Reject] = []
    seen: Counter[str] = Counter()
    for row in rows_of_balls(file):
        raw = dict(zip(file.header, row.cells, strict=False))
        content = _content(raw)
        seen[content] += 1
        outcome = _ball_or_rejects(row, reading)
        if isinstance(outcome, Ball):
            rows.append(BallRow(row.number, outcome, raw, _hash(content, seen[content])))
        else:
            rejects.extend(outcome)
    return BallFile(tuple(rows), tuple(rejects), mapping, _unused(file, found))


@dataclass(frozen=True, slots=True)
class _Reading:
    """What is needed to read one row."""

    width: int
    columns: tuple[Column, ...]
    shot_header: str  # of the column that says which shot or which club
    shots: Mapping[str, str]  # folded name -> name in the book
    decimal_comma: bool


def _ball_or_rejects(row: Row, reading: _Reading) -> Ball | list[Reject]:
    """Read one row, or say everything that is wrong with it."""
    if any(row.cells[reading.width :]):
        count = f"{len(row.cells)} cells under {reading.width} headers"
        return [_whole(row, f"{count}; a cell that holds the delimiter must be in quotes")]
    values: dict[str, Any] = {}
    rejects = []
    for column in reading.columns:
        text = _cell(row, column)
        try:
            if not is_missing(text):
                values[column.field.attribute] = _value(text, column, reading.decimal_comma)
        except BadInputError as error:
            rejects.append(Reject(row.number, column.header, text, str(error), row.line))
    if rejects:
        return rejects
    label = _label(values)
    if label is None:
        return [_whole(row, "nothing says which shot it was")]
    shot = reading.shots.get(_folded(label))
    if shot is None:
        reason = f"shot {label!r} is not in the book; add it with: carrybook shots add"
        return [Reject(row.number, reading.shot_header, label, reason, row.line)]
    ball = _ball(shot, values)
    if not MEASURED & ball.measured().keys():
        return [_whole(row, "no carry and no other measured number")]
    return ball


def _cell(row: Row, column: Column) -> str:
    """Cell of a row; rows may end early."""
    return row.cells[column.index] if column.index < len(row.cells) else ""


def _value(text: str, column: Column, decimal_comma: bool) -> Any:  # noqa: ANN401 - a field's own type
    """Read a cell, and see that its number is believable."""
    name = column.field.attribute
    value: Any = read_cell(text, column.field, column.unit, decimal_comma=decimal_comma)
    if name in AIR:
        Air(**({"temperature_k": REFERENCE_DAY.temperature_k} | {name: value}))
    elif column.field.kind is not None:
        Ball(shot="", **{name: value})
    return value


def _label(values: Mapping[str, Any]) -> str | None:
    """Name of the shot, as written or from club, flight and shape."""
    if "club" not in values:
        return values.get("shot")
    words = (values["club"], values.get("flight", ""), values.get("shape", ""))
    return " ".join(word for word in words if word not in _UNSAID)


def _ball(shot: str, values: Mapping[str, Any]) -> Ball:
    """Put a ball together from what its row says; without a temperature its air is not known."""
    air = {name: value for name, value in values.items() if name in AIR}
    rest = {name: value for name, value in values.items() if name not in AIR | _SHOT}
    return Ball(shot=shot, air=Air(**air) if "temperature_k" in air else None, **rest)


def _folded(label: str) -> str:
    """Label without regard to capitals and blanks."""
    return " ".join(label.lower().split())


def _whole(row: Row, reason: str) -> Reject:
    return Reject(row.number, "", "", reason, row.line)


def _has_decimal_comma(file: DelimitedFile, columns: Collection[Column]) -> bool:
    numbers = [column for column in columns if column.field.kind is not None]
    return has_decimal_comma(_cell(row, column) for row in file.rows for column in numbers)


def _content(raw: Mapping[str, str]) -> str:
    """Write out what a row says, the same for any order of columns, capitals and blanks."""
    pairs = ((plain(header), _folded(cell)) for header, cell in raw.items() if cell)
    return json.dumps(sorted(pairs))


def _hash(content: str, occurrence: int) -> str:
    return hashlib.sha256(f"{occurrence} {content}".encode()).hexdigest()


def _unused(file: DelimitedFile, columns: Collection[Column]) -> tuple[str, ...]:
    used = {column.index for column in columns}
    holding = {i for row in file.rows for i, cell in enumerate(row.cells) if cell}
    rest = sorted(holding - used)
    return tuple(file.header[i] for i in rest if i < len(file.header))
