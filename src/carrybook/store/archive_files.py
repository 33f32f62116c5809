"""One table of the book as one file, and back, to the last bit: Parquet, CSV or JSON Lines."""

import base64
import csv
import json
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import polars as pl

__all__ = ["FORMATS", "TableColumn", "read_table", "write_table"]

Rows = Iterator[Sequence[Any]]

FORMATS = {"parquet": ".parquet", "csv": ".csv", "jsonl": ".jsonl"}
_AT_ONCE = 100_000  # rows held as values at one time
_NULL = "\\N"  # in CSV: nothing there, as against an empty text
_KINDS = {"integer": pl.Int64, "number": pl.Float64, "text": pl.String, "binary": pl.Binary}
# Ends of names and the units they stand for, as UCUM writes them; the longer first.
_UNITS = {
    "_rad_s": "rad/s",
    "_mps": "m/s",
    "_rad": "rad",
    "_kg": "kg",
    "_pa": "Pa",
    "_k": "K",
    "_m": "m",
    "humidity": "1",
}


@dataclass(frozen=True, slots=True)
class TableColumn:
    """A column of a table: its name, and "integer", "number", "text" or "binary"."""

    name: str
    kind: str

    @property
    def unit(self) -> str | None:
        """Unit of a number, from the end of its name."""
        if self.kind != "number":
            return None
        return next((unit for end, unit in _UNITS.items() if self.name.endswith(end)), None)


def write_table(path: Path, columns: Sequence[TableColumn], rows: Rows) -> int:
    """Write a table as the ending of the file says; a CSV file gets its sidecar.

    Parameters
    ----------
    path : Path
        The file.
    columns : sequence of TableColumn
        The columns.
    rows : iterator of sequence
        The rows, values in the order of the columns.

    Returns
    -------
    count : int
        Rows written.
    """
    return _WRITERS[path.suffix](path, columns, rows)


def read_table(path: Path, columns: Sequence[TableColumn]) -> Rows:
    """Give the rows of a file that :func:`write_table` wrote.

    Parameters
    ----------
    path : Path
        The file.
    columns : sequence of TableColumn
        The columns.

    Raises
    ------
    ValueError, OSError, PolarsError
        The file is not what it was.
    """
    return _READERS[path.suffix](path, columns)


def _write_parquet(path: Path, columns: Sequence[TableColumn], rows: Rows) -> int:
    schema = {column.name: _KINDS[column.kind] for column in columns}
    parts = [pl.DataFrame(part, schema=schema, orient="row", strict=True) for part in _parts(rows)]
    table = pl.concat(parts, rechunk=True) if parts else pl.DataFrame(schema=schema)
    table.write_parquet(path, statistics=False, row_group_size=_AT_ONCE)
    return table.height


def _read_parquet(path: Path, columns: Sequence[TableColumn]) -> Rows:
    table = pl.read_parquet(path, columns=[column.name for column in columns])
    return (row for part in table.iter_slices(_AT_ONCE) for row in part.rows())


def _write_csv(path: Path, columns: Sequence[TableColumn], rows: Rows) -> int:
    path.with_name(f"{path.name}-metadata.json").write_text(_sidecar(path.name, columns), "utf-8")
    count = 0
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, quoting=csv.QUOTE_MINIMAL)
        writer.writerow([column.name for column in columns])
        for part in _parts(rows):
            writer.writerows([_cell(value) for value in row] for row in part)
            count += len(part)
    return count


def _read_csv(path: Path, columns: Sequence[TableColumn]) -> Rows:
    with _long_fields(), path.open(encoding="utf-8", newline="") as file:
        reader = csv.reader(file, strict=True)
        if next(reader, None) != [column.name for column in columns]:
            raise ValueError(f"{path.name} has other columns")
        kinds = [column.kind for column in columns]
        for row in reader:
            yield [_value(text, kind) for text, kind in zip(row, kinds, strict=True)]


def _write_jsonl(path: Path, columns: Sequence[TableColumn], rows: Rows) -> int:
    names = [column.name for column in columns]
    count = 0
    with path.open("w", encoding="utf-8", newline="\n") as file:
        for row in rows:
            values = (_as_text(v) if isinstance(v, bytes) else v for v in row)
            file.write(json.dumps(dict(zip(names, values, strict=True)), ensure_ascii=False) + "\n")
            count += 1
    return count


def _read_jsonl(path: Path, columns: Sequence[TableColumn]) -> Rows:
    with path.open(encoding="utf-8", newline="\n") as file:
        for line in file:
            found = json.loads(line)
            yield [
                base64.b64decode(found[c.name])
                if c.kind == "binary" and found[c.name] is not None
                else found[c.name]
                for c in columns
            ]


_WRITERS: dict[str, Callable[[Path, Sequence[TableColumn], Rows], int]] = {
    ".parquet": _write_parquet,
    ".csv": _write_csv,
    ".jsonl": _write_jsonl,
}
_READERS: dict[str, Callable[[Path, Sequence[TableColumn]], Rows]] = {
    ".parquet": _read_parquet,
    ".csv": _read_csv,
    ".jsonl": _read_jsonl,
}


def _parts(rows: Rows) -> Iterator[list[Sequence[Any]]]:
    part: list[Sequence[Any]] = []
    for row in rows:
        part.append(tuple(row))
        if len(part) == _AT_ONCE:
            yield part
            part = []
    if part:
        yield part


def _cell(value: object) -> str:
    """A value as text from which it comes back; a backslash at the start gets another."""
    if value is None:
        return _NULL
    if isinstance(value, bytes):
        return _as_text(value)
    text = value if isinstance(value, str) else repr(value)
    return f"\\{text}" if text.startswith("\\") else text


def _value(text: str, kind: str) -> object:
    if text == _NULL:
        return None
    match kind:
        case "integer":
            return int(text)
        case "number":
            return float(text)
        case "binary":
            return base64.b64decode(text)
        case _:
            return text[1:] if text.startswith("\\") else text


def _as_text(value: bytes) -> str:
    return base64.b64encode(value).decode("ascii")


@contextmanager
def _long_fields() -> Iterator[None]:
    """Let fields be as long as they are."""
    before = csv.field_size_limit(sys.maxsize)
    try:
        yield
    finally:
        csv.field_size_limit(before)


def _sidecar(url: str, columns: Sequence[TableColumn]) -> str:
    """What the columns of a CSV file are, as the W3C's metadata for tables (csvw-2015)."""
    types = {"integer": "integer", "number": "double", "text": "string", "binary": "base64Binary"}
    described = [
        {"name": column.name, "titles": column.name, "datatype": types[column.kind]}
        | ({} if column.unit is None else {"schema:unitText": column.unit})
        for column in columns
    ]
    metadata = {
        "@context": "http://www.w3.org/ns/csvw",
        "url": url,
        "dc:description": "SI units, as UCUM writes them. A text that starts with a backslash has"
        " another before it, so that it is not taken for the null.",
        "null": _NULL,
        "dialect": {"encoding": "utf-8", "lineTerminators": ["\r\n"], "header": True},
        "tableSchema": {"columns": described},
    }
    return json.dumps(metadata, indent=2) + "\n"
