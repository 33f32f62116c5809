"""The book itself: where it is, what it holds, how it is opened."""

import shutil
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.player.bag import Shot

if TYPE_CHECKING:
    from carrybook.store.archive import Archive
    from carrybook.store.book import Book

__all__ = [
    "BookReport",
    "book_path",
    "delete_book",
    "export_book",
    "look_into",
    "open_book",
    "page_folder",
    "restore_book",
    "some_shots",
]

_ADD_A_SHOT = "carrybook shots add 54 --loft 54deg --carry 82yd"


@dataclass(frozen=True, slots=True)
class BookReport:
    """What a book holds: version of its tables, size of its file, shots and balls."""

    version: str
    size_bytes: int
    shots: int
    balls: int


def book_path(book: Path | None) -> Path:
    """Where the book is: as named, or where this system keeps a person's data."""
    from carrybook.store.book import default_book_path

    return (book or default_book_path()).absolute()


def page_folder(book: Path | None) -> Path:
    """Where the page keeps what was typed and sent to it: beside the book."""
    path = book_path(book)
    return path.with_name(f"{path.name}.page")


def look_into(book: Path | None) -> BookReport:
    """Say what the book holds.

    Raises
    ------
    BadInputError
        The file cannot be used as a book.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.balls import count_balls
    from carrybook.store.shots import load_shots
    from carrybook.store.versions import HEAD

    with open_book(book, reading=True) as opened, opened.session() as session:
        shots, balls = len(load_shots(session)), count_balls(session)
    return BookReport(HEAD, book_path(book).stat().st_size, shots, balls)


def open_book(book: Path | None, *, create: bool = False, reading: bool = False) -> "Book":
    """Open the book; only a first shot makes one where there is none."""
    from carrybook.store import book as store

    path = book_path(book)
    if not create and not path.exists():
        raise NoSolutionError(
            f"there is no book at {path} yet; a first shot starts it: {_ADD_A_SHOT}"
        )
    return store.open_book(path, create=create, reading=reading)


def export_book(book: Path | None, folder: Path, formats: Sequence[str]) -> "Archive":
    """Write everything in the book into a folder.

    Raises
    ------
    BadInputError
        A folder that holds something or cannot be written.
    NoSolutionError
        There is no book yet.
    """
    from carrybook.store.archive import export_book as export

    with open_book(book, reading=True) as opened:
        return export(opened, folder, formats)


def restore_book(book: Path | None, folder: Path, how: str | None) -> "Archive":
    """Make a book of an export.

    Raises
    ------
    BadInputError
        No export, one that was changed, or a book there that holds something.
    """
    from carrybook.store.archive import restore_book as restore

    return restore(book_path(book), folder, how)


def delete_book(book: Path | None) -> tuple[Path, ...]:
    """Remove the book and everything kept beside it, by the page too; give what is gone.

    Raises
    ------
    BadInputError
        No book there, one in use, or files that cannot be removed.
    """
    from carrybook.store.archive import delete_book as delete

    page = page_folder(book)
    nothing_but_page = page.is_dir() and not book_path(book).exists()
    gone = () if nothing_but_page else delete(book_path(book))
    if not page.is_dir():
        return gone
    try:
        shutil.rmtree(page)
    except OSError as error:
        raise BadInputError(f"{error.filename} cannot be removed: {error.strerror}") from None
    return (*gone, page)


def some_shots(shots: tuple[Shot, ...]) -> tuple[Shot, ...]:
    """Give the shots back, or say how to add a first one where there is none."""
    if not shots:
        raise NoSolutionError(f"the book holds no shots yet; add one: {_ADD_A_SHOT}")
    return shots
