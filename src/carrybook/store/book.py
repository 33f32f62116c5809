"""The book: one SQLite file, made by the first command that needs it, kept at the newest version.

Whatever is wrong with the file is said in one line that names it, and the file stays as it was.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from typing import Self

import sqlalchemy as sa
from platformdirs import user_data_path

from carrybook.base.errors import BadInputError

__all__ = ["HEAD", "Book", "Session", "default_book_path", "open_book"]

HEAD = "0001"  # newest migration; a test asserts that it is alembic's head
_APPLICATION_ID = 0x43425F31  # "CB_1" in the file's header: this SQLite file is a carrybook book
_WAIT_S = 5.0  # how long to wait for another program that is writing
_MIGRATIONS = Path(__file__).with_name("migrations")

# Header of every SQLite file (sqlite.org/fileformat2.html, 1.3): magic, application id at byte 68.
_MAGIC = b"SQLite format 3\x00"
_ID_AT = slice(68, 72)

_UNWRITABLE = "cannot be written; check the permissions of the file and its folder, or name another"
_DAMAGED = "is damaged; put back a copy of it, or name another"
# What a person can do about each failure of the file itself; any other is a bug.
_REMEDIES = {
    sqlite3.SQLITE_BUSY: "is in use by another program; close that one and try again",
    sqlite3.SQLITE_LOCKED: "is in use by another program; close that one and try again",
    sqlite3.SQLITE_READONLY: _UNWRITABLE,
    sqlite3.SQLITE_CANTOPEN: _UNWRITABLE,
    sqlite3.SQLITE_PERM: _UNWRITABLE,
    sqlite3.SQLITE_IOERR: "cannot be read or written; check the disk it is on",
    sqlite3.SQLITE_FULL: "cannot grow: the disk is full; make room and try again",
    sqlite3.SQLITE_CORRUPT: _DAMAGED,
    sqlite3.SQLITE_NOTADB: _DAMAGED,
}


Session = sa.Connection  # what a book gives to read and write with, within one transaction


class Book:
    """An open book; as a context manager it is closed at the end. Use :func:`open_book`.

    Parameters
    ----------
    path : Path
        The file.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self._engine = _engine(path)

    @contextmanager
    def session(self) -> Iterator[Session]:
        """One transaction: kept at the end of the block, undone if the block raises.

        Raises
        ------
        BadInputError
            The file cannot be read or written, or another program is writing to it.
        """
        with _file_failures_named(self.path), self._engine.begin() as connection:
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


def open_book(path: Path | None = None, *, create: bool = True) -> Book:
    """Open the book, make it if there is none yet, and bring an older one to the newest version.

    Parameters
    ----------
    path : Path, optional
        The file; by default :func:`default_book_path`.
    create : bool, default True
        Whether to make a book, and its folder, where there is none.

    Raises
    ------
    BadInputError
        No book there and none to be made; not a book, or one from a newer version; a file or
        folder that cannot be written, or that another program holds. Nothing was changed.
    """
    path = (path or default_book_path()).absolute()
    if not _is_book(path) and not create:
        raise BadInputError(f"there is no book at {path}; add a shot first: carrybook shots add")
    existed = path.exists()
    _make_folder(path.parent)
    book = Book(path)
    try:
        _bring_to_head(book)
    except BaseException:
        if not existed:
            _remove_if_empty(path)
        raise
    return book


def _is_book(path: Path) -> bool:
    """Look at the first bytes: a book, or nothing there yet; anything else is refused."""
    try:
        with path.open("r+b") as file:  # a read-only file fails here, before SQLite sees it
            header = file.read(100)
    except FileNotFoundError:
        return False
    except IsADirectoryError:
        raise BadInputError(f"{path} is a folder; name a file in it, such as book.sqlite") from None
    except OSError as error:
        raise BadInputError(
            f"the book {path} cannot be read and written: {error.strerror};"
            " check its permissions, or name another"
        ) from None
    if not header:
        return False
    if not header.startswith(_MAGIC):
        raise BadInputError(f"{path} is not a carrybook book, nor any SQLite file; name another")
    if int.from_bytes(header[_ID_AT], "big") != _APPLICATION_ID:
        raise BadInputError(f"{path} is an SQLite file but not a carrybook book; name another")
    return True


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise BadInputError(
            f"the folder {folder} cannot be made: {error.strerror}; name another place for the book"
        ) from None


def _remove_if_empty(path: Path) -> None:
    """Take away the file that an unsuccessful start left, unless another program filled it."""
    if path.exists() and path.stat().st_size == 0:
        path.unlink()


def _engine(path: Path) -> sa.Engine:
    """Engine whose every connection is fresh, checks foreign keys and begins as the one writer."""
    engine = sa.create_engine(
        sa.URL.create("sqlite", database=str(path)),
        poolclass=sa.NullPool,
        connect_args={"timeout": _WAIT_S},
    )

    @sa.event.listens_for(engine, "connect")
    def on_connect(connection: sqlite3.Connection, _: object) -> None:
        connection.isolation_level = None  # the driver begins nothing by itself
        connection.execute("PRAGMA foreign_keys = ON")

    @sa.event.listens_for(engine, "begin")
    def on_begin(connection: sa.Connection) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE")

    return engine


@contextmanager
def _file_failures_named(path: Path) -> Iterator[None]:
    try:
        yield
    except sa.exc.DatabaseError as error:
        code = getattr(error.orig, "sqlite_errorcode", 0) & 0xFF  # SQLite's primary code
        if code not in _REMEDIES:
            raise
        raise BadInputError(f"the book {path} {_REMEDIES[code]}") from error


def _bring_to_head(book: Book) -> None:
    with book.session() as session:
        version = _version(session)
        if version is not None and version > HEAD:
            raise BadInputError(
                f"the book {book.path} is version {version} and this carrybook knows {HEAD};"
                " update carrybook, or name another book"
            )
        if version != HEAD:
            _migrate(session)
    _keep_readers_and_a_writer_apart(book.path)


def _version(session: Session) -> str | None:
    """Version written in the book by alembic; None in an empty one."""
    if session.exec_driver_sql("PRAGMA schema_version").scalar_one() == 0:
        return None
    version = session.exec_driver_sql("SELECT version_num FROM alembic_version").scalar_one()
    return str(version)


def _migrate(session: Session) -> None:
    """Run the migrations that are missing, within the session's transaction."""
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(_MIGRATIONS).replace("%", "%%"))
    config.attributes["connection"] = session
    command.upgrade(config, "head")
    session.exec_driver_sql(f"PRAGMA application_id = {_APPLICATION_ID}")


def _keep_readers_and_a_writer_apart(path: Path) -> None:
    """Turn on the write-ahead journal, which the file remembers; impossible inside a transaction.

    Another program that has the book open just now can prevent it: then the next opening does it.
    """
    with (
        suppress(sqlite3.OperationalError),
        closing(sqlite3.connect(path, timeout=0.0)) as connection,
    ):
        connection.execute("PRAGMA journal_mode = WAL")
