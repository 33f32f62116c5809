"""The whole book as files that anything can read, and back, to the last bit; and its removal."""

import hashlib
import json
import shutil
import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import polars as pl

from carrybook.base.errors import BadInputError
from carrybook.store.archive_files import FORMATS, TableColumn, read_table, write_table
from carrybook.store.book import Book, Session, new_book, open_book, require_book
from carrybook.store.failures import NewerBookError
from carrybook.store.imports import rejects_folder
from carrybook.store.versions import HEAD, migrate

__all__ = ["Archive", "delete_book", "export_book", "restore_book"]

_MANIFEST = "book.json"
_REJECTS = "rejects"
_WHAT = "a carrybook export"
# How a column is declared, to how its values are written.
_KINDS = (("INT", "integer"), ("BOOL", "integer"), ("FLOAT", "number"), ("BLOB", "binary"))


@dataclass(frozen=True, slots=True)
class Archive:
    """What was written or read: the folder, the version of the tables, and rows by table."""

    folder: Path
    version: str
    rows: dict[str, int]


def export_book(book: Book, folder: Path, formats: Sequence[str] = tuple(FORMATS)) -> Archive:
    """Write every table of the book into a folder.

    Parameters
    ----------
    book : Book
        The book.
    folder : Path
        An empty folder, or one that is not there yet.
    formats : sequence of str
        Of "parquet", "csv" and "jsonl".

    Raises
    ------
    BadInputError
        A folder that holds something or cannot be written.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if any(folder.iterdir()):
            raise BadInputError(f"the folder {folder} is not empty; name another for the export")
        with book.session() as session:
            manifest = _write_tables(session, folder, formats)
        if (rejects := rejects_folder(book.path)).is_dir():
            shutil.copytree(rejects, folder / _REJECTS)
        manifest["digests"] = {
            str(path.relative_to(folder).as_posix()): _digest(path)
            for path in sorted(folder.rglob("*"))
            if path.is_file()
        }
        text = json.dumps(manifest, indent=2, sort_keys=True) + "\n"
        (folder / _MANIFEST).write_text(text, "utf-8")
    except OSError as error:
        raise BadInputError(f"{folder} cannot be written: {error.strerror}") from None
    return Archive(folder, HEAD, dict(manifest["rows"]))


def restore_book(path: Path, folder: Path, how: str | None = None) -> Archive:
    """Make a book of an export.

    Parameters
    ----------
    path : Path
        Where the book is to be; nothing, or an empty book.
    folder : Path
        The export.
    how : str, optional
        Of which of its formats; any where none is named.

    Raises
    ------
    BadInputError
        No export, one that was changed, or a book there that holds something.
    NewerBookError
        An export of a newer version.
    """
    manifest = _manifest(folder)
    version = str(manifest["version"])
    if version > HEAD:
        raise NewerBookError(
            f"{folder} is version {version} and this carrybook knows {HEAD}; update carrybook"
        )
    _require_unchanged(folder, manifest)
    used = how or manifest["formats"][0]
    if used not in manifest["formats"]:
        had = ", ".join(manifest["formats"])
        raise BadInputError(f"{folder} has no {used} files; it has: {had}")
    _require_nothing_there(path)
    with new_book(path) as book, book.session() as session:
        migrate(session, version)
        _read_tables(session, folder, manifest, used)
        migrate(session)
    if (folder / _REJECTS).is_dir():
        shutil.copytree(folder / _REJECTS, rejects_folder(path), dirs_exist_ok=True)
    open_book(path).close()
    return Archive(folder, version, dict(manifest["rows"]))


def delete_book(path: Path) -> tuple[Path, ...]:
    """Remove a book and everything that was kept beside it; nothing of the player is left there.

    Parameters
    ----------
    path : Path
        The book.

    Returns
    -------
    removed : tuple of Path
        Files and folders that are gone.

    Raises
    ------
    BadInputError
        No book there, one in use, or files that cannot be removed.
    """
    require_book(path)
    things = _belongings(path)
    try:
        for thing in things:
            if thing.is_dir():
                shutil.rmtree(thing)
            else:
                thing.unlink(missing_ok=True)
    except OSError as error:
        raise BadInputError(f"{error.filename} cannot be removed: {error.strerror}") from None
    return things


def _belongings(path: Path) -> tuple[Path, ...]:
    """The book, its journals, copies of its older versions, and the rows it rejected."""
    beside = [path.with_name(f"{path.name}-{end}") for end in ("wal", "shm", "journal")]
    copies = sorted(path.parent.glob(f"{path.name}.version-*"))
    return tuple(p for p in (path, *beside, *copies, rejects_folder(path)) if p.exists())


def _write_tables(session: Session, folder: Path, formats: Sequence[str]) -> dict[str, Any]:
    tables = _tables(session)
    rows = {}
    for how in formats:
        (folder / how).mkdir()
        for name, columns in tables.items():
            values = _rows(session, name, columns)
            rows[name] = write_table(folder / how / f"{name}{FORMATS[how]}", columns, values)
    described = {
        name: [{"name": c.name, "kind": c.kind} | ({"unit": c.unit} if c.unit else {}) for c in cs]
        for name, cs in tables.items()
    }
    sequences = session.exec_driver_sql("SELECT name, seq FROM sqlite_sequence ORDER BY name")
    return {
        "what": _WHAT,
        "version": HEAD,
        "formats": list(formats),
        "tables": described,
        "rows": rows,
        "sequences": {name: number for name, number in sequences},
    }


def _tables(session: Session) -> dict[str, list[TableColumn]]:
    """All tables of the book and their columns, whoever made them."""
    query = (
        "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"
        " AND name <> 'alembic_version' ORDER BY name"
    )
    names = session.exec_driver_sql(query).scalars().all()
    return {name: _columns(session, name) for name in names}


def _columns(session: Session, table: str) -> list[TableColumn]:
    found = session.exec_driver_sql("SELECT name, type FROM pragma_table_info(?)", (table,))
    return [
        TableColumn(name, next((kind for part, kind in _KINDS if part in declared), "text"))
        for name, declared in found
    ]


def _rows(session: Session, table: str, columns: Sequence[TableColumn]) -> Iterator[Sequence[Any]]:
    names = ", ".join(f'"{column.name}"' for column in columns)
    query = f'SELECT {names} FROM "{table}" ORDER BY rowid'  # noqa: S608 - names of our own tables
    yield from session.exec_driver_sql(query)


def _manifest(folder: Path) -> dict[str, Any]:
    path = folder / _MANIFEST
    try:
        found = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError):
        found = None
    if not isinstance(found, dict) or found.get("what") != _WHAT:
        raise BadInputError(f"{folder} is no export of a book: it has no {_MANIFEST} of one")
    return found


def _require_unchanged(folder: Path, manifest: dict[str, Any]) -> None:
    for name, digest in manifest["digests"].items():
        if not (folder / name).is_file():
            raise BadInputError(f"the export {folder} is not whole: {name} is missing")
        if _digest(folder / name) != digest:
            raise BadInputError(f"{folder / name} was changed since the export")


def _require_nothing_there(path: Path) -> None:
    if not path.exists():
        return
    require_book(path)
    with open_book(path) as book, book.session() as session:
        held = [
            name
            for name in _tables(session)
            if session.exec_driver_sql(f'SELECT 1 FROM "{name}" LIMIT 1').first()  # noqa: S608
        ]
    if held:
        raise BadInputError(
            f"the book {path} is not empty; restore into another with --book FILE, or delete it"
            " first: carrybook book delete"
        )
    delete_book(path)


def _read_tables(session: Session, folder: Path, manifest: dict[str, Any], how: str) -> None:
    session.exec_driver_sql("PRAGMA defer_foreign_keys = ON")
    for name, described in manifest["tables"].items():
        columns = [TableColumn(column["name"], column["kind"]) for column in described]
        names = ", ".join(f'"{column.name}"' for column in columns)
        marks = ", ".join("?" * len(columns))
        insert = f'INSERT INTO "{name}" ({names}) VALUES ({marks})'  # noqa: S608
        try:
            part: list[tuple[Any, ...]] = []
            for row in read_table(folder / how / f"{name}{FORMATS[how]}", columns):
                part.append(tuple(row))
                if len(part) == 50_000:
                    session.exec_driver_sql(insert, part)
                    part = []
            if part:
                session.exec_driver_sql(insert, part)
        except (ValueError, KeyError, pl.exceptions.PolarsError, sqlite3.Error) as error:
            raise BadInputError(f"{name} of the export {folder} cannot be read: {error}") from error
    for name, number in manifest["sequences"].items():
        session.exec_driver_sql("DELETE FROM sqlite_sequence WHERE name = ?", (name,))
        session.exec_driver_sql("INSERT INTO sqlite_sequence VALUES (?, ?)", (name, number))


def _digest(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
