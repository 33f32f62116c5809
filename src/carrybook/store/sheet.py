"""A table of text cells with a header, whatever file it came from and whatever the cells mean.

Cells are kept by column, so that a million rows are read in seconds.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import polars as pl

from carrybook.base.errors import BadInputError
from carrybook.store.fields import known_fields

__all__ = ["Row", "Sheet", "find_header", "unique_names"]

_ROWS_LOOKED_AT = 30
_COMMENT = "#"


@dataclass(frozen=True, slots=True)
class Row:
    """One row below the header.

    Parameters
    ----------
    number : int
        Line of the file on which it starts, or row of the spreadsheet; the first is 1.
    cells : tuple of str
        Its cells without surrounding blanks.
    line : str
        The row as it stands in the file.
    """

    number: int
    cells: tuple[str, ...]
    line: str


@dataclass(frozen=True)
class Sheet:
    """A file taken apart.

    Parameters
    ----------
    path : Path
        Where it came from.
    digest : str
        SHA-256 of its bytes, in hexadecimal.
    header : tuple of str
        Names of the columns, made unique: a second "Carry" is called "Carry (2)", and the third
        column, if it has no name, "column 3".
    frame : DataFrame
        All rows that are not blank, at least one: "number" and "line" as in :class:`Row`, "width"
        (cells in the row), "overfull" (whether something stands beyond the header), and the cells
        in columns "0", "1" and so on, empty text where there is none.
    above : int
        Rows that stand above the header and are no part of the table.
    typed : bool
        Whether numbers came as numbers, so that no comma can be meant as a point.
    """

    path: Path
    digest: str
    header: tuple[str, ...]
    frame: pl.DataFrame
    above: int = 0
    typed: bool = False

    def __post_init__(self) -> None:
        if self.frame.height == 0:
            raise BadInputError(f"{self.path} has a header but no balls below it")

    def column(self, index: int) -> pl.Series:
        """Cells of a column, from 0."""
        return self.frame[str(index)]

    @cached_property
    def rows(self) -> tuple[Row, ...]:
        """All rows as values; for the few rows that a person looks at."""
        names = [str(i) for i in range(len(self.header))]
        return tuple(
            Row(row["number"], tuple(row[n] for n in names[: row["width"]]), row["line"])
            for row in self.frame.iter_rows(named=True)
        )

    def from_row(self, first: int) -> "Sheet":
        """The sheet without its first rows."""
        return Sheet(
            self.path, self.digest, self.header, self.frame[first:], self.above, self.typed
        )


def find_header(rows: Sequence[Sequence[str]]) -> int:
    """Place of the row of names: the first that names two fields, else the first that is one.

    Parameters
    ----------
    rows : sequence of sequence of str
        Cells of the first rows that are not blank.
    """
    looked_at = rows[:_ROWS_LOOKED_AT]
    named = (k for k, cells in enumerate(looked_at) if len(known_fields(cells)) > 1)
    plain = (k for k, cells in enumerate(looked_at) if not "".join(cells).startswith(_COMMENT))
    return next(named, next(plain, 0))


def unique_names(names: Sequence[str]) -> tuple[str, ...]:
    """Names of columns, each with its own."""
    seen: Counter[str] = Counter()
    unique = []
    for number, given in enumerate(names, start=1):
        name = " ".join(given.split()) or f"column {number}"
        seen[name] += 1
        unique.append(f"{name} ({seen[name]})" if seen[name] > 1 else name)
    return tuple(unique)
