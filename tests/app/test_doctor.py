"""The doctor looks, says what mends what is missing, and changes nothing."""

import json
import os
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from importlib import metadata
from pathlib import Path

import pytest
from typer.testing import Result

from carrybook.app.doctor import State, all_well, examine
from carrybook.store.versions import HEAD

Say = Callable[..., Result]


def test_an_empty_machine_is_well_and_stays_empty(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    places = {"HOME": str(home), "XDG_CACHE_HOME": f"{home}/cache", "XDG_DATA_HOME": f"{home}/data"}
    done = subprocess.run(
        [sys.executable, "-m", "carrybook", "doctor", "--json"],
        env={k: v for k, v in os.environ.items() if k != "CARRYBOOK_BOOK"} | places,
        capture_output=True,
        text=True,
        check=True,
    )
    found = {f["what"]: f for f in json.loads(done.stdout)["findings"]}
    assert found["book"]["found"] == f"none yet at {home}/data/carrybook/book.sqlite"
    assert found["book"]["mend"].startswith("carrybook shots add")
    assert found["compiled kernels"]["state"] == "later"
    assert found["compiled kernels"]["mend"] == "carrybook doctor --warm"
    assert found["numba"]["found"] == metadata.version("numba")
    assert list(home.iterdir()) == []


def test_a_book_is_counted(say: Say, bag: None, log: Path, book: Path) -> None:
    say("balls", "import", str(log))
    before = book.read_bytes()
    result = say("doctor")
    assert result.exit_code == 0
    assert f"{book}: version {HEAD}, " in result.stdout
    assert "2 shots, 2 balls" in result.stdout
    assert book.read_bytes() == before


def test_a_damaged_book_is_missing(say: Say, book: Path) -> None:
    book.parent.mkdir()
    book.write_bytes(b"not a book at all")
    result = say("doctor")
    assert result.exit_code == 1
    assert "missing  book" in result.stdout
    assert "is not a carrybook book" in result.stdout
    assert "next: carrybook --book FILE doctor" in result.stdout


def test_a_book_from_a_newer_version_is_mended_by_upgrading(
    say: Say, bag: None, book: Path
) -> None:
    with closing(sqlite3.connect(book)) as connection, connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
    result = say("doctor")
    assert result.exit_code == 1
    assert f"is version 9999 and this carrybook knows {HEAD}; update carrybook" in result.stdout
    assert "next: python -m pip install --upgrade carrybook" in result.stdout


def test_a_folder_that_cannot_be_made(say: Say, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    result = say("--book", str(tmp_path / "file" / "book.sqlite"), "doctor")
    assert result.exit_code == 1
    assert f"{tmp_path}/file may not be written" in result.stdout


def test_a_package_that_is_gone(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = metadata.version

    def version(name: str) -> str:
        if name == "reportlab":
            raise metadata.PackageNotFoundError(name)
        return real(name)

    monkeypatch.setattr(metadata, "version", version)
    findings = examine(book)
    gone = next(f for f in findings if f.what == "reportlab")
    assert (gone.state, gone.found) == (State.MISSING, "not installed")
    assert gone.mend.startswith("python -m pip install")
    assert not all_well(findings)


def test_warming_compiles_what_a_day_needs(say: Say) -> None:
    result = say("doctor", "--warm", "--json")
    kernels = json.loads(result.stdout)["findings"][-1]
    assert (kernels["what"], kernels["state"]) == ("compiled kernels", "well")
