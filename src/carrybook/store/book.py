"""The book: one SQLite file, made by the first command that needs it, kept at the newest version.

Whatever is wrong with the file is said in one line that names it, and the file stays as it was.
"""

import os
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from typing import Any, Self, TypeVar

import sqlalchemy as sa
from platformdirs import user_data_path

from carrybook.base.errors import BadInputError
from carrybook.store.failures import MEND, UNWRITABLE, BookFileError, file_failures_named
from carrybook.store.versions import (
    APPLICATION_ID,
    HEAD,
    bring_to_head,
    require_tables,
    version_of,
)

__all__ = [
    "Book",
    "Session",
    "default_book_path",
    "new_book",
    "open_book",
    "read_rows",
    "require_book",
]

_WAIT_S = 5.0  # how long to wait for another program that is writing

# Header of every SQLite file (sqlite.org/fileformat2.html, 1.3): magic, application id at byte 68.
_MAGIC = b"SQLite format 3\x00"
_ID_AT = slice(68, 72)


Session = sa.Connection  # what a book gives to read and write with, within one transaction
T = TypeVar("T")


class Book:
    """An open book; as a context manager it is closed at the end. Use :func:`open_book`.

    Parameters
    ----------
    path : Path
        The file.
    only_read : bool, default False
        Whether it is opened without ever writing to its folder.
    """

    def __init__(self, path: Path, *, only_read: bool = False) -> None:
        self.path = path
        self._engine = _engine(path, only_read)

    @contextmanager
    def session(self) -> Iterator[Session]:
        """One transaction: kept at the end of the block, undone if the block raises.

        Raises
        ------
        BadInputError
            The file cannot be read or written, or another program is writing to it.
        """
        with file_failures_named(self.path), self._engine.begin() as connection:
            yield connection

    def close(self) -> None:
        """Let go of the file."""
        self._engine.dispose()

    def __enter__(self) -> Self:
        """Give the book itself."""
        return self

    def __exit__(self, *_: object) -> None:
        """Close it."""
        self.close()


def default_book_path() -> Path:
    """Where this system keeps a person's data."""
    return user_data_path("carrybook") / "book.sqlite"


def open_book(path: Path | None = None, *, create: bool = True, reading: bool = False) -> Book:
    """Open the book, make it if there is none yet, and bring an older one to the newest version.

    Parameters
    ----------
    path : Path, optional
        The file; by default :func:`default_book_path`.
    create : bool, default True
        Whether to make a book, and its folder, where there is none.
    reading : bool, default False
        Whether it will only be read from: then one that may not be written serves too.

    Raises
    ------
    BadInputError
        No book there and none to be made; not a book, or a damaged one; a file or folder that
        cannot be written, or that another program holds. Nothing was changed.
    NewerBookError
        One from a newer version.
    """
    path = (path or default_book_path()).absolute()
    only_read = reading and path.is_file() and not _may_be_written(path)
    if not _is_book(path, "rb" if only_read else "r+b") and not create:
        raise BadInputError(f"there is no book at {path}; add a shot first: carrybook shots add")
    if only_read:
        return _opened_to_read(path)
    existed = path.exists()
    _make_folder(path.parent)
    book = Book(path)
    try:
        bring_to_head(book.session, path)
        _keep_readers_and_a_writer_apart(path)
    except BaseException:
        if not existed:
            _remove_if_empty(path)
        raise
    return book


def require_book(path: Path) -> None:
    """Refuse a file that is no book, or one that another program is writing to.

    Raises
    ------
    BadInputError
        Nothing there, no book, or one in use.
    """
    if not _is_book(path, "r+b"):
        raise BadInputError(f"there is no book at {path}")
    with Book(path) as book, book.session():
        pass


@contextmanager
def new_book(path: Path) -> Iterator[Book]:
    """Give a book without tables, where there is nothing yet; gone again if the block raises.

    Raises
    ------
    BadInputError
        Its folder cannot be made.
    """
    _make_folder(path.parent)
    book = Book(path)
    try:
        yield book
    except BaseException:
        book.close()
        path.unlink(missing_ok=True)
        raise
    book.close()


def read_rows(
    session: Session, query: sa.Select[Any], read: Callable[[sa.Row[Any]], T], what: str
) -> Iterator[T]:
    """Turn rows of the book into values.

    Parameters
    ----------
    session : Session
        From :meth:`Book.session`.
    query : Select
        What to look up; its rows have an id.
    read : callable
        Makes a value of a row.
    what : str
        What a row is called in a message.

    Raises
    ------
    BadInputError
        A row of which no value can be made, because somebody else wrote to the file.
    """
    for row in session.execute(query):
        try:
            value = read(row)
        except (TypeError, ValueError) as error:
            why = "a value of the wrong type" if isinstance(error, TypeError) else error
            raise BookFileError(
                f"the book {session.engine.url.database} is damaged:"
                f" {what} with id {row.id} cannot be read ({why}); {MEND}"
            ) from error
        yield value


def _may_be_written(path: Path) -> bool:
    """Whether the file may be written, and its journal be put beside it."""
    return os.access(path, os.W_OK) and os.access(path.parent, os.W_OK | os.X_OK)


def _opened_to_read(path: Path) -> Book:
    """Open a book that may not be written; one of an older version cannot be brought up."""
    book = Book(path, only_read=True)
    with book.session() as session:
        version = version_of(session, path)
        if version != HEAD:
            raise BookFileError(
                f"the book {path} is version {version}, not {HEAD}, and {UNWRITABLE}"
            )
        require_tables(session, path)
    return book


def _is_book(path: Path, mode: str) -> bool:
    """Look at the first bytes: a book, or nothing there yet; anything else is refused."""
    try:
        with path.open(mode) as file:  # a read-only file fails here, before SQLite sees it
            header = file.read(100)
    except FileNotFoundError:
        return False
    except IsADirectoryError:
        raise BadInputError(f"{path} is a folder; name a file in it, such as book.sqlite") from None
    except OSError as error:
        raise BookFileError(
            f"the book {path} cannot be read and written: {error.strerror};"
            " check its permissions, or name another"
        ) from None
    if not header:
        return False
    if not header.startswith(_MAGIC):
        raise BadInputError(f"{path} is not a carrybook book, nor any SQLite file; name another")
    if int.from_bytes(header[_ID_AT], "big") != APPLICATION_ID:
        raise BadInputError(f"{path} is an SQLite file but not a carrybook book; name another")
    return True


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise BookFileError(
            f"the folder {folder} cannot be made: {error.strerror}; name another place for the book"
        ) from None


def _remove_if_empty(path: Path) -> None:
    """Take away the file that an unsuccessful start left, unless another program filled it."""
    if path.exists() and path.stat().st_size == 0:
        path.unlink()


def _engine(path: Path, only_read: bool) -> sa.Engine:
    """Engine whose every connection is fresh, checks foreign keys and begins as the one writer."""

    def connect() -> sqlite3.Connection:
        place = path.as_uri() + (_how_to_read(path) if only_read else "")
        return sqlite3.connect(place, uri=True, timeout=_WAIT_S)

    engine = sa.create_engine(
        sa.URL.create("sqlite", database=str(path)), poolclass=sa.NullPool, creator=connect
    )

    @sa.event.listens_for(engine, "connect")
    def on_connect(connection: sqlite3.Connection, _: object) -> None:
        connection.isolation_level = None  # the driver begins nothing by itself
        connection.execute("PRAGMA foreign_keys = ON")

    @sa.event.listens_for(engine, "begin")
    def on_begin(connection: sa.Connection) -> None:
        connection.exec_driver_sql("BEGIN" if only_read else "BEGIN IMMEDIATE")

    return engine


def _how_to_read(path: Path) -> str:
    """Open a file that may not be written: as it stands, unless a journal beside it goes on."""
    journal = path.with_name(f"{path.name}-wal")
    return "?mode=ro" if journal.exists() else "?immutable=1"


def _keep_readers_and_a_writer_apart(path: Path) -> None:
    """Turn on the write-ahead journal, which the file remembers; impossible inside a transaction.

    Another program that has the book open just now can prevent it: then the next opening does it.
    """
    with (
        suppress(sqlite3.OperationalError),
        closing(sqlite3.connect(path, timeout=0.0)) as connection,
    ):
        connection.execute("PRAGMA journal_mode = WAL")
