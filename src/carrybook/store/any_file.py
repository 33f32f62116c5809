"""Any file of balls as a sheet of text cells: which kind it is, its first bytes say."""

import hashlib
import json
from collections.abc import Iterable, Sequence
from datetime import date, datetime, time
from io import BytesIO
from pathlib import Path
from typing import Any

import polars as pl

from carrybook.base.errors import BadInputError
from carrybook.store.delimited import file_bytes, read_delimited
from carrybook.store.sheet import Sheet, find_header, unique_names

__all__ = ["read_sheet"]

_SPREADSHEETS = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")  # zipped XLSX and ODS; the older XLS
_PARQUET = b"PAR1"


def read_sheet(path: Path, *, sheet: str | None = None) -> Sheet:
    """Read a file of balls: delimited text, a spreadsheet, JSON Lines or Parquet.

    Parameters
    ----------
    path : Path
        The file.
    sheet : str, optional
        Which sheet of a spreadsheet; needed where several hold something.

    Raises
    ------
    BadInputError
        It cannot be read; the message says why and what to do.
    """
    content = file_bytes(path)
    if content.startswith(_SPREADSHEETS):
        return _spreadsheet(path, content, sheet)
    if sheet is not None:
        raise BadInputError(f"sheet = {sheet!r}, but {path} is not a spreadsheet")
    if content.startswith(_PARQUET):
        return _parquet(path, content)
    start = content[:100].removeprefix(b"\xef\xbb\xbf").lstrip()
    if start.startswith((b"{", b"[{")) or path.suffix.lower() in {".jsonl", ".ndjson"}:
        return _json_lines(path, content)
    return read_delimited(path, content)


def _spreadsheet(path: Path, content: bytes, wanted: str | None) -> Sheet:
    from python_calamine import CalamineError, CalamineWorkbook

    try:
        book = CalamineWorkbook.from_filelike(BytesIO(content))
        tables = {
            name: book.get_sheet_by_name(name).to_python(skip_empty_area=False)
            for name in book.sheet_names
        }
    except (CalamineError, OSError, ValueError) as error:
        raise BadInputError(f"{path} is not a spreadsheet that can be read: {error}") from None
    rows = _chosen(path, {n: rows for n, rows in tables.items() if any(map(any, rows))}, wanted)
    return _from_rows(path, content, [[_text(cell) for cell in row] for row in rows])


def _chosen(path: Path, tables: dict[str, list[list[Any]]], wanted: str | None) -> list[list[Any]]:
    """The one sheet that holds something, or that was named."""
    if not tables:
        raise BadInputError(f"{path} is empty")
    names = ", ".join(f'"{name}"' for name in tables)
    if wanted is not None:
        found = [rows for name, rows in tables.items() if name.lower() == wanted.lower()]
        if not found:
            raise BadInputError(
                f'{path} has no sheet "{wanted}" that holds something; it has: {names}'
            )
        return found[0]
    if len(tables) > 1:
        raise BadInputError(f"{path} has several sheets; choose one of them with --sheet: {names}")
    return next(iter(tables.values()))


def _from_rows(path: Path, content: bytes, rows: Sequence[Sequence[str]]) -> Sheet:
    """Lay the rows of a spreadsheet into columns."""
    filled = [(k, list(row)) for k, row in enumerate(rows, start=1) if any(row)]
    above = find_header([row for _, row in filled])
    names = filled[above][1]
    while names and not names[-1]:
        names.pop()
    below = filled[above + 1 :]
    width = max((len(row) for _, row in below), default=0)
    columns = [[row[i] if i < len(row) else "" for _, row in below] for i in range(width)]
    while len(names) < width and any(columns[len(names)]):  # a column without a name
        names.append("")
    cells = columns[: len(names)] + [[""] * len(below)] * (len(names) - width)
    return Sheet(
        path,
        hashlib.sha256(content).hexdigest(),
        unique_names(names),
        _frame([k for k, _ in below], cells),
        above=above,
        typed=True,
    )


def _parquet(path: Path, content: bytes) -> Sheet:
    try:
        table = pl.read_parquet(BytesIO(content))
    except (pl.exceptions.PolarsError, OSError) as error:
        first = str(error).splitlines()[0]
        raise BadInputError(f"{path} is not a Parquet file that can be read: {first}") from None
    cells = [_texts(column) for column in table]
    digest = hashlib.sha256(content).hexdigest()
    frame = _frame(list(range(1, table.height + 1)), cells)
    some = pl.any_horizontal(pl.col(str(i)) != "" for i in range(len(cells)))
    return Sheet(path, digest, unique_names(table.columns), frame.filter(some), typed=True)


def _texts(column: pl.Series) -> pl.Series:
    """Cells of a typed column as text."""
    kind = column.dtype
    if kind.is_float():
        texts = column.fill_nan(None).cast(pl.String).str.replace(r"\.0$", "")
    elif kind == pl.Datetime or kind.is_integer() or kind in {pl.String, pl.Date, pl.Boolean}:
        texts = column.dt.to_string("iso:strict") if kind == pl.Datetime else column.cast(pl.String)
    elif kind == pl.Categorical or kind == pl.Enum:
        texts = column.cast(pl.String)
    else:
        texts = pl.Series([_text(value) for value in column.to_list()], dtype=pl.String)
    return texts.str.strip_chars().fill_null("")


def _json_lines(path: Path, content: bytes) -> Sheet:
    """One object a line, or a list of objects; keys are the headers."""
    numbers, objects = [], []
    for number, found in _objects(path, content):
        numbers.append(number)
        objects.append(found)
    if not objects:
        raise BadInputError(f"{path} is empty")
    names = list(dict.fromkeys(key for found in objects for key in found))
    cells = [[_text(found.get(name)) for found in objects] for name in names]
    frame = _frame(numbers, cells)
    some = pl.any_horizontal(pl.col(str(i)) != "" for i in range(len(cells)))
    digest = hashlib.sha256(content).hexdigest()
    return Sheet(
        path, digest, unique_names(names), frame.filter(some) if cells else frame, typed=True
    )


def _objects(path: Path, content: bytes) -> Iterable[tuple[int, dict[str, Any]]]:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadInputError(f"{path} is not UTF-8, as JSON must be") from None
    whole = text.lstrip().startswith("[")
    lines = enumerate([text] if whole else text.split("\n"), start=1)
    for number, line in lines:
        if not line.strip():
            continue
        try:
            found = json.loads(line)
        except (ValueError, RecursionError) as error:
            raise BadInputError(f"{path}, line {number}, is not JSON: {error}") from None
        for place, each in enumerate(found if whole else [found], start=number):
            if not isinstance(each, dict):
                raise BadInputError(f"{path}, line {number}: every line must be an object")
            yield place, each


def _text(value: object) -> str:
    """A typed cell as text that is read as if somebody had typed it."""
    match value:
        case None:
            return ""
        case bool():
            return str(value).lower()
        case float():
            return "" if value != value else repr(value).removesuffix(".0")
        case datetime():
            return value.isoformat()
        case date() | time():
            return value.isoformat()
        case {"value": number, "unit": str(unit), **rest} if not rest:
            return f"{_text(number)} {unit}"
        case dict() | list():
            return json.dumps(value)
        case _:
            return str(value).strip()


def _frame(numbers: Sequence[int], cells: Sequence[Sequence[str] | pl.Series]) -> pl.DataFrame:
    columns = {str(i): pl.Series(column, dtype=pl.String) for i, column in enumerate(cells)}
    line = (
        pl.concat_str([pl.col(name) for name in columns], separator=" | ")
        if columns
        else pl.lit("")
    )
    return (
        pl.DataFrame({"number": pl.Series(numbers, dtype=pl.UInt32), **columns})
        .with_columns(
            line=line,
            width=pl.lit(len(cells), dtype=pl.UInt32),
            overfull=pl.lit(False),
        )
        .select("number", "line", "width", "overfull", *columns)
    )
