"""A book of one's own for every test; nobody's real book is ever touched."""

from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from carrybook.app.cli import app

Say = Callable[..., Result]


@pytest.fixture(autouse=True)
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Name a book that is not there yet."""
    path = tmp_path / "home" / "book.sqlite"
    monkeypatch.setenv("CARRYBOOK_BOOK", str(path))
    return path


@pytest.fixture
def say() -> Say:
    """Type a command; a bug in it comes out as itself."""

    def invoke(*words: str) -> Result:
        return CliRunner().invoke(app, list(words), prog_name="carrybook", catch_exceptions=False)

    return invoke


@pytest.fixture
def bag(say: Say) -> None:
    """Two shots in the book."""
    for words in ("54 --loft 54deg --carry 82yd", "60 --loft 60deg --carry 70m --flight low"):
        assert say("shots", "add", *words.split()).exit_code == 0


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """Write a file of three balls, one of which cannot be read."""
    path = tmp_path / "monday.csv"
    path.write_text(
        "shot,carry (yd),side (yd),barometer tap\n54,80,1.5,x\n54,84,-2,x\n60 low,nonsense,0,x\n"
    )
    return path
