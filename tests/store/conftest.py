"""A fresh book for every test; the person's own data folder is never touched."""

from collections.abc import Callable, Iterator
from math import radians
from pathlib import Path

import pytest

from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.store import book as book_module
from carrybook.store.book import Book, open_book
from carrybook.store.shots import save_shot

MakeShot = Callable[..., Shot]
Write = Callable[..., Path]


@pytest.fixture(autouse=True)
def own_data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Stand in for the folder where the system keeps a person's data."""
    folder = tmp_path / "data of the person"
    monkeypatch.setattr(book_module, "user_data_path", lambda name: folder / name)
    return folder


@pytest.fixture
def make_shot() -> MakeShot:
    def make(
        club: str = "54", flight: Flight = Flight.STOCK, *, loft: float = 54.0, carry: float = 75.0
    ) -> Shot:
        return Shot(Club(club, radians(loft)), flight, Shape.STRAIGHT, carry, 0.6 * carry, carry)

    return make


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(tmp_path / "book.sqlite") as opened:
        yield opened


@pytest.fixture
def bag(book: Book, make_shot: MakeShot) -> Book:
    """Give a book with the shots "54", "54 low" and "60"."""
    with book.session() as session:
        save_shot(session, make_shot("54"))
        save_shot(session, make_shot("54", Flight.LOW, carry=68.0))
        save_shot(session, make_shot("60", loft=60.0, carry=60.0))
    return book


@pytest.fixture
def write(tmp_path: Path) -> Write:
    """Write a file of balls and give its path."""

    def to_file(content: str | bytes, name: str = "balls.csv") -> Path:
        path = tmp_path / name
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return path

    return to_file
