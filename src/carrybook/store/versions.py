"""Versions of the book: which one it is, and how an older one is brought to the newest."""

import sqlite3
from collections.abc import Callable
from contextlib import AbstractContextManager, closing
from pathlib import Path

import sqlalchemy as sa

from carrybook.store.failures import MEND, BookFileError, NewerBookError
from carrybook.store.tables import metadata

__all__ = ["APPLICATION_ID", "HEAD", "bring_to_head", "migrate", "require_tables", "version_of"]

HEAD = "0008"  # newest migration; a test asserts that it is alembic's head
APPLICATION_ID = 0x43425F31  # "CB_1" in the file's header: this SQLite file is a carrybook book
_MIGRATIONS = Path(__file__).with_name("migrations")


def bring_to_head(
    session_of: Callable[[], AbstractContextManager[sa.Connection]], path: Path
) -> None:
    """Bring a book to the newest version, a copy of an older one beside it; or leave it as it was.

    Parameters
    ----------
    session_of : callable
        Begins a transaction; :meth:`carrybook.store.book.Book.session`.
    path : Path
        The file.

    Raises
    ------
    BookFileError
        It is damaged, from a newer version, or no copy of it can be made.
    """
    backup = None
    try:
        with session_of() as session:
            version = version_of(session, path)
            if version is not None and version != HEAD:
                backup = _back_up(path, version)
            if version != HEAD:
                migrate(session)
            require_tables(session, path)
    except BaseException:
        if backup is not None:  # the book is as it was, so its copy is worth nothing
            backup.unlink(missing_ok=True)
        raise


def _back_up(path: Path, version: str) -> Path:
    """Copy a book of an older version beside it before it is brought up; give the copy."""
    backup = path.with_name(f"{path.name}.version-{version}")
    try:
        with closing(sqlite3.connect(path)) as old, closing(sqlite3.connect(backup)) as copy:
            old.backup(copy)
    except sqlite3.Error as error:
        backup.unlink(missing_ok=True)
        raise BookFileError(
            f"the book {path} is version {version} and must be brought to {HEAD}, but no copy of it"
            f" can be put at {backup} first: {error}"
        ) from None
    return backup


def version_of(session: sa.Connection, path: Path) -> str | None:
    """Version written in the book by alembic, none newer than ours; None in an empty one.

    Raises
    ------
    BookFileError
        It is damaged.
    NewerBookError
        From a newer version.
    """
    tables = _tables(session)
    if not tables:
        return None
    query = "SELECT version_num FROM alembic_version"
    found = session.exec_driver_sql(query).scalars().all() if "alembic_version" in tables else ()
    if len(found) != 1:
        raise BookFileError(f"the book {path} is damaged: its version is lost; {MEND}")
    version = str(found[0])
    if version > HEAD:
        raise NewerBookError(
            f"the book {path} is version {version} and this carrybook knows {HEAD};"
            " update carrybook, or name another book"
        )
    return version


def require_tables(session: sa.Connection, path: Path) -> None:
    """Refuse a book that lost a table.

    Raises
    ------
    BookFileError
        It did.
    """
    lost = sorted(metadata.tables.keys() - _tables(session))
    if lost:
        raise BookFileError(f"the book {path} is damaged: it lost {', '.join(lost)}; {MEND}")


def _tables(session: sa.Connection) -> set[str]:
    query = "SELECT name FROM sqlite_master WHERE type = 'table'"
    return set(session.exec_driver_sql(query).scalars())


def migrate(session: sa.Connection, revision: str = "head") -> None:
    """Run the migrations that are missing, within the session's transaction.

    Parameters
    ----------
    session : Connection
        From :meth:`carrybook.store.book.Book.session`.
    revision : str
        Version to bring the book to.
    """
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(_MIGRATIONS).replace("%", "%%"))
    config.attributes["connection"] = session
    command.upgrade(config, revision)
    session.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")
