"""A file of logged balls, read into values. A bad row stops no good one.

Everything is done a column at a time; a text that many cells share is read once.
"""

import json
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from pathlib import Path
from typing import Any

import polars as pl

from carrybook.player.bag import Flight, Shape
from carrybook.player.balls import Ball
from carrybook.store.any_file import read_sheet
from carrybook.store.column_cells import CellReader, has_commas
from carrybook.store.columns import Column, find_columns, rows_of_balls
from carrybook.store.fields import AIR, FIELDS, MEASURED
from carrybook.store.row_hashes import raw_rows, row_hashes
from carrybook.store.sheet import Sheet
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie, Moisture

__all__ = ["BallFile", "BallRow", "EffortCarry", "Reject", "balls_in", "read_ball_file"]

EffortCarry = Callable[[str, str], float | None]  # shot, swing in words -> felt carry [m]

_PARTS = ("club", "flight", "shape")
_UNSAID = frozenset({"", Flight.STOCK, Shape.STRAIGHT})  # not part of a shot's name
_SUMMARIES: tuple[str, ...] = (
    "average",
    "averages",
    "avg",
    "mean",
    "median",
    "std",
    "sd",
    "deviation",
)
_SUMMARIES += ("total", "totals", "sum", "min", "max", "count")
# Columns of a ball's row that are numbers, and that are words and what they are if not said.
_NUMBERS = tuple(f.attribute for f in FIELDS.values() if f.kind is not None)
_WORDS = {
    "at": None,
    "lie": str(Lie.FAIRWAY),
    "moisture": str(Moisture.DRY),
    "setting": "",
    "ball_model": "",
    "note": "",
    "effort": "",
}


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


@dataclass(frozen=True)
class BallFile:
    """What a file of balls holds.

    Parameters
    ----------
    frame : DataFrame
        The balls that are not known yet: "row_number", "row_hash", "raw" (JSON, header to cell as
        read), "shot" (name in the book), "at" (ISO 8601) and the other columns of the ball table.
    known : int
        Rows that were known before, by their hashes.
    rejects : tuple of Reject
        What is wrong with all other rows.
    mapping : mapping of str to str
        Field, such as "carry", to the header of its column.
    units : mapping of str to str
        Field to the unit of its bare numbers, where they have one.
    unused_columns : tuple of str
        Headers of columns that hold something, but not known what.
    """

    frame: pl.DataFrame
    known: int
    rejects: tuple[Reject, ...]
    mapping: Mapping[str, str]
    units: Mapping[str, str]
    unused_columns: tuple[str, ...]

    @cached_property
    def rows(self) -> tuple[BallRow, ...]:
        """All balls as values; for the few that a person looks at."""
        return self.first(self.frame.height)

    def first(self, count: int) -> tuple[BallRow, ...]:
        """The first balls as values."""
        return tuple(map(_ball_row, self.frame.head(count).iter_rows(named=True)))


def read_ball_file(
    path: Path,
    *,
    shots: Collection[str],
    columns: Mapping[str, str] = {},
    units: Mapping[str, str] = {},
) -> BallFile:
    """Read a file of balls.

    Parameters
    ----------
    path : Path
        The file; see :func:`~carrybook.store.any_file.read_sheet`.
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
    sheet = read_sheet(path)
    return balls_in(sheet, find_columns(sheet, columns=columns, units=units), shots=shots)


def balls_in(
    sheet: Sheet,
    columns: Sequence[Column],
    *,
    shots: Collection[str],
    known: Collection[str] = frozenset(),
    effort_carry: EffortCarry = lambda _shot, _words: None,
) -> BallFile:
    """Read the balls of a file that is already taken apart and whose columns are known.

    Parameters
    ----------
    sheet : Sheet
        The file.
    columns : sequence of Column
        What its columns hold.
    shots : collection of str
        Names of the shots that the player owns.
    known : collection of str
        Hashes of rows that need not be read again.
    effort_carry : callable
        Gives the felt carry of a swing in words, where no carry was meant in numbers.

    Raises
    ------
    BadInputError
        There is nothing but units below the header.
    """
    rows = rows_of_balls(sheet)
    frame = rows.frame.with_columns(row_hashes(rows), raw_rows(rows))
    if known:
        new = ~frame["row_hash"].is_in(pl.Series(list(known), dtype=pl.String).implode())
        frame = frame.filter(new)
    reading = _Reading(frame, sheet, columns, shots, effort_carry)
    balls, rejects = reading.balls_and_rejects()
    return BallFile(
        frame=balls,
        known=rows.frame.height - frame.height,
        rejects=rejects,
        mapping={column.field.name: column.header for column in columns},
        units={c.field.name: c.unit for c in columns if c.unit is not None},
        unused_columns=_unused(sheet, columns),
    )


class _Reading:
    """The rows of a file on their way to becoming balls."""

    def __init__(
        self,
        frame: pl.DataFrame,
        sheet: Sheet,
        columns: Sequence[Column],
        shots: Collection[str],
        effort_carry: EffortCarry,
    ) -> None:
        self._frame = frame
        self._header = sheet.header
        self._columns = columns
        self._shots = {_folded(shot): shot for shot in shots}
        self._effort_carry = effort_carry
        self._reasons: dict[int, list[tuple[str, str, str]]] = {}  # place of row -> its reasons
        comma = not sheet.typed and has_commas(
            frame[str(c.index)] for c in columns if c.field.kind is not None
        )
        self._reader = CellReader(comma)

    def balls_and_rejects(self) -> tuple[pl.DataFrame, tuple[Reject, ...]]:
        """Read everything."""
        self._whole_rows()
        values = {c.field.attribute: self._values(c) for c in self._columns}
        labels = self._labels(values)
        table = self._table(values, labels)
        self._require_a_shot(labels)
        self._require_a_number(table)
        good = pl.Series([True] * self._frame.height, dtype=pl.Boolean)
        if self._reasons:
            good = good.scatter(list(self._reasons), False)
        return table.filter(good), self._rejects()

    def _whole_rows(self) -> None:
        """Say which rows are no balls whatever their columns hold."""
        for place in self._frame["overfull"].arg_true():
            count = f"{self._frame['width'][place]} cells under {len(self._header)} headers"
            self._whole(place, f"{count}; a cell that holds the delimiter must be in quotes")
        shot = self._columns_of_the_shot()[0]
        labels = self._frame[str(shot.index)]
        for cells in (self._frame["0"], labels):
            words = cells.str.to_lowercase().str.extract(r"^([a-z]+)\.?(?:\s|$)", 1)
            for place in words.is_in(_SUMMARIES).fill_null(False).arg_true():
                if _folded(labels[place]) not in self._shots:
                    self._whole(place, "a row that sums up others, not a ball")
        for place in (labels == shot.header).arg_true():
            self._whole(place, "the header again, not a ball")

    def _columns_of_the_shot(self) -> list[Column]:
        return [c for c in self._columns if c.field.name in {"shot", *_PARTS}]

    def _values(self, column: Column) -> pl.Series:
        """Read a column, and keep the reasons of the cells that cannot be read."""
        cells = self._frame[str(column.index)]
        read = self._reader.read(cells, column)
        for place, reason in read.reasons.items():
            if not self._is_whole(place):
                told = (column.header, cells[place], reason)
                self._reasons.setdefault(place, []).append(told)
        return read.values

    def _labels(self, values: Mapping[str, pl.Series]) -> pl.Series:
        """Name of each row's shot as written, or from club, flight and shape; null for none."""
        if "club" not in values:
            return values["shot"]
        parts = pl.DataFrame({name: values[name] for name in _PARTS if name in values})
        said = [
            pl.when(pl.col(name).is_in(list(_UNSAID))).then(None).otherwise(pl.col(name))
            for name in parts.columns
        ]
        label = pl.concat_str(said, separator=" ", ignore_nulls=True)
        named = pl.when(pl.col("club").is_not_null()).then(label).alias("label")
        return parts.select(named)["label"]

    def _table(self, values: Mapping[str, pl.Series], labels: pl.Series) -> pl.DataFrame:
        """Lay everything out as the table of balls has it."""
        height = self._frame.height
        known = {text: self._shots.get(_folded(text)) for text in labels.unique().drop_nulls()}
        shots = labels.replace_strict(known, return_dtype=pl.String) if known else labels
        columns = [
            self._frame["number"].alias("row_number"),
            self._frame["row_hash"],
            self._frame["raw"],
            shots.cast(pl.String).alias("shot"),
        ]
        for name in _NUMBERS:
            empty = pl.Series([None], dtype=pl.Float64).new_from_index(0, height)
            columns.append(values.get(name, empty).alias(name))
        for name, unsaid in _WORDS.items():
            empty = pl.Series([None], dtype=pl.String).new_from_index(0, height)
            column = values.get(name, empty)
            columns.append((column if unsaid is None else column.fill_null(unsaid)).alias(name))
        return self._with_efforts(_with_air(pl.DataFrame(columns)))

    def _with_efforts(self, table: pl.DataFrame) -> pl.DataFrame:
        """Where a swing was meant in words and no carry in numbers, what it is meant to carry."""
        bare = table.filter((pl.col("effort") != "") & pl.col("intended_m").is_null())
        said = bare.select("shot", "effort").drop_nulls().unique(maintain_order=True)
        if not said.height:
            return table
        meant = [self._effort_carry(shot, words) for shot, words in said.rows()]
        carries = said.with_columns(pl.Series("felt_m", meant, dtype=pl.Float64))
        joined = table.join(carries, on=["shot", "effort"], how="left", maintain_order="left")
        both = pl.coalesce("intended_m", "felt_m").alias("intended_m")
        return joined.with_columns(both).drop("felt_m")

    def _require_a_shot(self, labels: pl.Series) -> None:
        header = next(c.header for c in self._columns_of_the_shot())
        for place in labels.is_null().arg_true():
            self._whole(place, "nothing says which shot it was", only_reason=False)
        texts = labels.unique().drop_nulls()
        strange = [text for text in texts if _folded(text) not in self._shots]
        for place in labels.is_in(strange).arg_true() if strange else ():
            label = labels[place]
            reason = f"shot {label!r} is not in the book; add it with: carrybook shots add"
            self._reasons.setdefault(place, [(header, label, reason)])

    def _require_a_number(self, table: pl.DataFrame) -> None:
        measured = table.select(pl.all_horizontal(pl.col(n).is_null() for n in sorted(MEASURED)))
        for place in measured.to_series().arg_true():
            self._whole(place, "no carry and no other measured number", only_reason=False)

    def _whole(self, place: int, reason: str, *, only_reason: bool = True) -> None:
        """Say what is wrong with a row as a whole, unless a cell of it is told already."""
        if only_reason:
            self._reasons[place] = [("", "", reason)]
        else:
            self._reasons.setdefault(place, [("", "", reason)])

    def _is_whole(self, place: int) -> bool:
        return place in self._reasons and self._reasons[place][0][0] == ""

    def _rejects(self) -> tuple[Reject, ...]:
        places = sorted(self._reasons)
        numbers = self._frame["number"].gather(places).to_list()
        lines = self._frame["line"].gather(places).to_list()
        return tuple(
            Reject(number, column, value, reason, line)
            for place, number, line in zip(places, numbers, lines, strict=True)
            for column, value, reason in self._reasons[place]
        )


def _with_air(table: pl.DataFrame) -> pl.DataFrame:
    """Without a temperature the air is not known; with one, the rest is that of an ordinary day."""
    usual = {"pressure_pa": REFERENCE_DAY.pressure_pa, "humidity": REFERENCE_DAY.humidity}
    known = pl.col("temperature_k").is_not_null()
    return table.with_columns(
        pl.when(known).then(pl.col(name).fill_null(value)).alias(name)
        for name, value in usual.items()
    )


def _ball_row(row: Mapping[str, Any]) -> BallRow:
    """Give a row of the table as values."""
    air = {name: row[name] for name in sorted(AIR)}
    words = {name: row[name] for name in ("setting", "ball_model", "note", "effort")}
    ball = Ball(
        shot=row["shot"],
        at=datetime.fromisoformat(row["at"]) if row["at"] else None,
        air=Air(**air) if row["temperature_k"] is not None else None,
        lie=Lie(row["lie"]),
        moisture=Moisture(row["moisture"]),
        **{name: row[name] for name in _NUMBERS if name not in AIR},
        **words,
    )
    return BallRow(row["row_number"], ball, json.loads(row["raw"]), row["row_hash"])


def _folded(label: str) -> str:
    """Label without regard to capitals and blanks."""
    return " ".join(label.lower().split())


def _unused(sheet: Sheet, columns: Collection[Column]) -> tuple[str, ...]:
    used = {column.index for column in columns}
    return tuple(
        name
        for i, name in enumerate(sheet.header)
        if i not in used and (sheet.column(i) != "").any()
    )
