"""A delimited text file as a sheet of text cells."""

import codecs
import csv
import hashlib
from collections import Counter
from collections.abc import Iterator, Sequence
from io import StringIO
from pathlib import Path

import polars as pl

from carrybook.base.errors import BadInputError
from carrybook.store.fields import known_fields
from carrybook.store.sheet import Row, Sheet, find_header, unique_names

__all__ = ["file_bytes", "read_delimited"]

# In the order in which a draw is decided: commas also stand in numbers and in text.
_DELIMITERS = "\t;|,"
_LINES_LOOKED_AT = 40
_LONGEST_LINE = 100_000  # beyond, the csv module looks at it and refuses long fields


def read_delimited(path: Path, content: bytes | None = None) -> Sheet:
    """Read a file of cells divided by commas, semicolons, tabs or bars.

    Parameters
    ----------
    path : Path
        UTF-8 or UTF-16 with or without a byte order mark (UTF-16 only with), else Windows-1252.
    content : bytes, optional
        What is in it, where that was read already.

    Raises
    ------
    BadInputError
        No such file, a folder, not text, nothing in it, or nothing below the header.
    """
    content = file_bytes(path) if content is None else content
    text = _text(content, path)
    try:
        delimiter = _delimiter(text)
        beginning = [row for row in _rows(_beginning(text), delimiter) if any(row.cells)]
        if not beginning:
            raise BadInputError(f"{path} is empty")
        above = find_header([row.cells for row in beginning])
        named = beginning[above]
        header = unique_names(named.cells)
        frame = _frame(text, delimiter, len(header)).filter(pl.col("number") > named.number)
    except csv.Error as error:
        raise BadInputError(f"{path} cannot be read as a table: {error}") from None
    digest = hashlib.sha256(content).hexdigest()
    return Sheet(path, digest, header, frame, above=above)


def file_bytes(path: Path) -> bytes:
    """Everything in a file.

    Raises
    ------
    BadInputError
        It cannot be read; the message says why.
    """
    try:
        return path.read_bytes()
    except FileNotFoundError:
        raise BadInputError(f"there is no file {path}") from None
    except IsADirectoryError:
        raise BadInputError(f"{path} is a folder; name a file of balls in it") from None
    except OSError as error:
        raise BadInputError(f"{path} cannot be read: {error.strerror}") from None


def _text(content: bytes, path: Path) -> str:
    utf16 = content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    for encoding in ["utf-16"] if utf16 else ["utf-8-sig", "cp1252"]:
        try:
            text = content.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\x00" not in text:
            return text
    raise BadInputError(f"{path} is not a text file; save the table as CSV and give that file")


def _beginning(text: str) -> str:
    """The first lines that are not blank, and the blank ones between them."""
    lines, some = [], 0
    for line in StringIO(text, newline=None):
        lines.append(line)
        some += not line.isspace()
        if some >= _LINES_LOOKED_AT:
            break
    return "".join(lines)


def _delimiter(text: str) -> str:
    """Choose the delimiter that cuts most of the first rows into as many cells as the header.

    The header is the row that names fields; where none does, the first row, or, if that is one
    cell whatever cuts it, as remarks above a table are, the commonest number of cells.
    """
    beginning = _beginning(text)

    def rows_like_the_header(delimiter: str) -> tuple[bool, int, int]:
        rows = [row.cells for row in _rows(beginning, delimiter) if any(row.cells)]
        if not rows:
            return (False, 0, 0)
        head = find_header(rows)
        counts = [len(cells) for cells in rows[head:]]
        alike = counts.count(counts[0]) if counts[0] > 1 else 0
        commonest = max(((n, k) for k, n in Counter(counts).items() if k > 1), default=(0, 0))[0]
        return (len(known_fields(rows[head])) > 1, alike, commonest if not alike else 0)

    return max(_DELIMITERS, key=rows_like_the_header)  # the first of equals


def _frame(text: str, delimiter: str, width: int) -> pl.DataFrame:
    """All rows that are not blank, by column."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if '"' not in text and max(map(len, lines)) < _LONGEST_LINE:
        frame = pl.DataFrame({"line": lines}).with_row_index("number", offset=1)
        cut = frame.with_columns(cells=pl.col("line").str.split(delimiter))
    else:
        rows = list(_rows(text, delimiter))
        cut = pl.DataFrame(
            {
                "number": [row.number for row in rows],
                "line": [row.line for row in rows],
                "cells": [list(row.cells) for row in rows],
            },
            schema={"number": pl.UInt32, "line": pl.String, "cells": pl.List(pl.String)},
        )
    return _by_column(cut, width)


def _by_column(cut: pl.DataFrame, width: int) -> pl.DataFrame:
    """Lay lists of cells into columns."""
    cells = {
        str(i): pl.col("cells").list.get(i, null_on_oob=True).str.strip_chars().fill_null("")
        for i in range(width)
    }
    beyond = pl.col("cells").list.slice(width).list.join("").str.strip_chars() != ""
    wide = cut.select(
        "number",
        "line",
        width=pl.col("cells").list.len(),
        overfull=beyond.fill_null(False),
        **cells,
    )
    some = pl.any_horizontal(pl.col("overfull"), *(pl.col(name) != "" for name in cells))
    return wide.filter(some)


def _rows(text: str, delimiter: str) -> Iterator[Row]:
    """All rows; where quotes do not pair up, every line is a row, so that one cannot eat others."""
    lines = _lines(text)
    try:
        yield from list(_parsed(lines, delimiter, strict=True))
    except csv.Error:
        for number, line in enumerate(lines, start=1):
            for row in _parsed([line], delimiter, strict=False):
                yield Row(number, row.cells, row.line)


def _lines(text: str) -> list[str]:
    return list(StringIO(text, newline=None))  # any line end becomes \n


def _parsed(lines: Sequence[str], delimiter: str, *, strict: bool) -> Iterator[Row]:
    reader = csv.reader(lines, delimiter=delimiter, strict=strict)
    start = 0
    for cells in reader:
        line = "".join(lines[start : reader.line_num]).rstrip("\n")
        yield Row(start + 1, tuple(cell.strip() for cell in cells), line)
        start = reader.line_num
