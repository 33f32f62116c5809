"""A delimited text file as a header and numbered rows of cells, whatever the cells mean."""

import codecs
import csv
import hashlib
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import StringIO
from pathlib import Path

from carrybook.base.errors import BadInputError

__all__ = ["DelimitedFile", "Row", "read_delimited"]

# In the order in which a draw is decided: commas also stand in numbers and in text.
_DELIMITERS = "\t;|,"
_LINES_LOOKED_AT = 30


@dataclass(frozen=True, slots=True)
class Row:
    """One row below the header.

    Parameters
    ----------
    number : int
        Line of the file on which it starts; the first is 1.
    cells : tuple of str
        Its cells without surrounding blanks.
    line : str
        The row as it stands in the file.
    """

    number: int
    cells: tuple[str, ...]
    line: str


@dataclass(frozen=True, slots=True)
class DelimitedFile:
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
    rows : tuple of Row
        All rows that are not blank, at least one.
    """

    path: Path
    digest: str
    header: tuple[str, ...]
    rows: tuple[Row, ...]


def read_delimited(path: Path) -> DelimitedFile:
    """Read a file of cells divided by commas, semicolons, tabs or bars.

    Parameters
    ----------
    path : Path
        UTF-8 or UTF-16 with or without a byte order mark (UTF-16 only with), else Windows-1252.

    Raises
    ------
    BadInputError
        No such file, a folder, not text, nothing in it, or nothing below the header.
    """
    content = _bytes(path)
    text = _text(content, path)
    try:
        rows = [row for row in _rows(text, _delimiter(text)) if any(row.cells)]
    except csv.Error as error:
        raise BadInputError(f"{path} cannot be read as a table: {error}") from None
    if not rows:
        raise BadInputError(f"{path} is empty")
    if len(rows) == 1:
        raise BadInputError(f"{path} has a header but no balls below it")
    digest = hashlib.sha256(content).hexdigest()
    return DelimitedFile(path, digest, _unique(rows[0].cells), tuple(rows[1:]))


def _bytes(path: Path) -> bytes:
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


def _delimiter(text: str) -> str:
    """Choose the delimiter that cuts most of the first rows into as many cells as the header."""

    def rows_like_the_header(delimiter: str) -> int:
        counts = [len(row.cells) for row in _rows(beginning, delimiter) if any(row.cells)]
        return counts.count(counts[0]) if counts and counts[0] > 1 else 0

    beginning = "".join(_lines(text)[:_LINES_LOOKED_AT])
    return max(_DELIMITERS, key=rows_like_the_header)  # the first of equals


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


def _unique(names: Sequence[str]) -> tuple[str, ...]:
    seen: Counter[str] = Counter()
    unique = []
    for number, given in enumerate(names, start=1):
        name = " ".join(given.split()) or f"column {number}"
        seen[name] += 1
        unique.append(f"{name} ({seen[name]})" if seen[name] > 1 else name)
    return tuple(unique)
