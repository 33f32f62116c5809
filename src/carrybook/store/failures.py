"""What can be wrong with the file of a book, in one line that names it and says what to do."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import sqlalchemy as sa

from carrybook.base.errors import BadInputError

__all__ = ["MEND", "UNWRITABLE", "BookFileError", "NewerBookError", "file_failures_named"]

UNWRITABLE = "cannot be written; check the permissions of the file and its folder, or name another"
MEND = "put back a copy of it, or name another"
_DAMAGED = f"is damaged; {MEND}"
# What a person can do about each failure of the file itself; any other is a bug.
_REMEDIES = {
    sqlite3.SQLITE_BUSY: "is in use by another program; close that one and try again",
    sqlite3.SQLITE_LOCKED: "is in use by another program; close that one and try again",
    sqlite3.SQLITE_READONLY: UNWRITABLE,
    sqlite3.SQLITE_CANTOPEN: UNWRITABLE,
    sqlite3.SQLITE_PERM: UNWRITABLE,
    sqlite3.SQLITE_IOERR: "cannot be read or written; check the disk it is on",
    sqlite3.SQLITE_FULL: "cannot grow: the disk is full; make room and try again",
    sqlite3.SQLITE_CORRUPT: _DAMAGED,
    sqlite3.SQLITE_NOTADB: _DAMAGED,
}


class BookFileError(BadInputError):
    """The file itself cannot be used now; nothing is wrong with what was asked."""


class NewerBookError(BookFileError):
    """A book from a newer version of this program."""


@contextmanager
def file_failures_named(path: Path) -> Iterator[None]:
    """Say of a failure of the file itself which file it is, and what a person can do.

    Parameters
    ----------
    path : Path
        The file.

    Raises
    ------
    BookFileError
        It failed; any other failure goes on as it is.
    """
    try:
        yield
    except sa.exc.DatabaseError as error:
        code = getattr(error.orig, "sqlite_errorcode", 0) & 0xFF  # SQLite's primary code
        if code not in _REMEDIES:
            raise
        raise BookFileError(f"the book {path} {_REMEDIES[code]}") from error
