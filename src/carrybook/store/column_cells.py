"""A whole column of cells read into SI: plain numbers and times at once, each other text once."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
import polars as pl
from numpy.typing import NDArray

from carrybook.base.errors import BadInputError
from carrybook.base.numerics import Floats
from carrybook.base.units import Kind, many_to_si
from carrybook.player.balls import BELIEVABLE, Ball
from carrybook.store.cells import has_decimal_comma, is_missing, read_cell
from carrybook.store.columns import Column
from carrybook.store.fields import AIR, MISSING
from carrybook.world.air import REFERENCE_DAY, Air

__all__ = ["CellReader", "ReadColumn", "has_commas"]

_PLAIN = r"^[-+]?[0-9]+(?:\.[0-9]+)?$"
_PLAIN_COMMA = r"^[-+]?[0-9]+(?:,[0-9]+)?$"
# The forms of a time that are plain; all others are read one by one.
_TIME = r"^(\d{4}-\d\d-\d\d)[T ](\d\d:\d\d)(:\d\d)?(Z|[-+][01]\d:[0-5]\d)?$"
_LIMITS = {name: (low, high, si) for name, _, low, high, _, si in BELIEVABLE}


@dataclass(frozen=True, slots=True)
class ReadColumn:
    """Values of a column, null where there is none, and by place why a cell cannot be read."""

    values: pl.Series
    reasons: dict[int, str]


def has_commas(columns: Iterable[pl.Series]) -> bool:
    """Whether some number has a comma that can only be a decimal one."""
    texts = (cells.filter(cells.str.contains(",", literal=True)).unique() for cells in columns)
    return any(has_decimal_comma(some) for some in texts)


class CellReader:
    """Reads the columns of one file.

    Parameters
    ----------
    decimal_comma : bool
        Whether the file is known to write decimals with a comma.
    """

    def __init__(self, decimal_comma: bool) -> None:
        self._decimal_comma = decimal_comma

    def read(self, cells: pl.Series, column: Column) -> ReadColumn:
        """Read a column, in SI; times as ISO 8601 and choices as their words."""
        missing = cells.str.to_lowercase().is_in(sorted(MISSING))
        if column.field.kind is not None:
            return self._quantities(cells, missing, column, column.field.kind)
        if column.field.attribute == "at":
            return self._rest(cells, missing, column, _plain_times(cells))
        if column.field.attribute in {"flight", "shape", "lie", "moisture", "setting"}:
            nothing = pl.Series([None], dtype=pl.String).new_from_index(0, len(cells))
            return self._rest(cells, missing, column, nothing)
        kept = pl.select(pl.when(~missing).then(cells)).to_series()
        return ReadColumn(kept, {})

    def _quantities(
        self, cells: pl.Series, missing: pl.Series, column: Column, kind: Kind
    ) -> ReadColumn:
        comma = self._decimal_comma
        if column.unit is None:
            nothing = pl.Series([None], dtype=pl.Float64).new_from_index(0, len(cells))
            return self._rest(cells, missing, column, nothing)
        plain = cells.str.contains(_PLAIN_COMMA if comma else _PLAIN)
        points = cells.str.replace(",", ".", literal=True) if comma else cells
        bare = pl.select(pl.when(plain).then(points)).to_series().cast(pl.Float64)
        numbers = bare.to_numpy().astype(np.float64)
        si = many_to_si(numbers, kind, column.unit)
        believable = _believable(si, kind, column.field.attribute)
        values = pl.Series(np.where(believable, si, np.nan)).fill_nan(None)
        return self._rest(cells, missing, column, values)

    def _rest(
        self, cells: pl.Series, missing: pl.Series, column: Column, read: pl.Series
    ) -> ReadColumn:
        """Read each text that is not read yet, once."""
        left = read.is_null() & ~missing
        if not left.any():
            return ReadColumn(read, {})
        values, reasons = _read_texts(
            cells.filter(left).unique(maintain_order=True), lambda t: self._value(t, column)
        )
        texts = cells.to_frame("text").with_columns(left=left, read=read)
        found = pl.col("text").replace_strict(values, default=None, return_dtype=read.dtype)
        both = texts.select(pl.when("left").then(found).otherwise("read").alias("read"))["read"]
        bad = cells.is_in(list(reasons)) & left if reasons else pl.Series([], dtype=pl.Boolean)
        return ReadColumn(both, {place: reasons[cells[place]] for place in bad.arg_true()})

    def _value(self, text: str, column: Column) -> Any:  # noqa: ANN401 - a field's own type
        """Read a cell, and see that its number is believable."""
        name = column.field.attribute
        value: Any = read_cell(text, column.field, column.unit, decimal_comma=self._decimal_comma)
        if name in AIR:
            Air(**({"temperature_k": REFERENCE_DAY.temperature_k} | {name: value}))
        elif column.field.kind is not None:
            Ball(shot="", **{name: value})
        elif name == "at":
            return value.isoformat()
        else:
            return str(value)
        return value


def _read_texts(
    texts: Iterable[str], read: Callable[[str], object]
) -> tuple[dict[str, object], dict[str, str]]:
    values: dict[str, object] = {}
    reasons: dict[str, str] = {}
    for text in texts:
        if is_missing(text):
            continue
        try:
            values[text] = read(text)
        except BadInputError as error:
            reasons[text] = str(error)
    return values, reasons


def _believable(si: Floats, kind: Kind, attribute: str) -> NDArray[np.bool_]:
    """Which numbers are surely believable; the others are looked at one by one, and named."""
    good = (si >= kind.low) & (si <= kind.high)
    if attribute in _LIMITS:
        low, high, unit = _LIMITS[attribute]
        good &= (si / unit >= low) & (si / unit <= high)
    return good  # the limits of the kinds of air are those of the air itself


def _plain_times(cells: pl.Series) -> pl.Series:
    """Times that are written plainly, as ISO 8601; null for all others."""
    parts = cells.to_frame("text").select(
        day=pl.col("text").str.extract(_TIME, 1),
        minute=pl.col("text").str.extract(_TIME, 2),
        second=pl.col("text").str.extract(_TIME, 3).fill_null(":00"),
        zone=pl.col("text").str.extract(_TIME, 4).fill_null(""),
    )
    naive = pl.concat_str("day", pl.lit("T"), "minute", "second")
    real = naive.str.to_datetime("%Y-%m-%dT%H:%M:%S", strict=False).is_not_null()
    zone = pl.col("zone").replace({"Z": "+00:00"})
    written = pl.when(real).then(pl.concat_str(naive, zone))
    return parts.select(written.alias("at"))["at"]
