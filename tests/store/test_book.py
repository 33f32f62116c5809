"""Opening the book: made once, kept at the newest version, and never harmed by what goes wrong."""

import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from carrybook.base.errors import BadInputError
from carrybook.player.bag import Shot
from carrybook.store import book as book_module
from carrybook.store import versions
from carrybook.store.book import Book, default_book_path, open_book
from carrybook.store.failures import BookFileError
from carrybook.store.shots import load_shots, save_shot
from carrybook.store.tables import metadata
from carrybook.store.versions import HEAD

NOBODY = 65534


def contents(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def set_version(path: Path, version: str) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = ?", [version])
        connection.commit()


@pytest.fixture
def ordinary_folder() -> Iterator[Path]:
    """Make a folder as somebody whom permissions bind, even if the tests run as root."""
    folder = Path(tempfile.mkdtemp())
    root = os.geteuid() == 0
    if root:
        os.chown(folder, NOBODY, NOBODY)
        os.setresuid(NOBODY, NOBODY, 0)
    try:
        yield folder
    finally:
        if root:
            os.setresuid(0, 0, 0)
        folder.chmod(0o700)
        shutil.rmtree(folder)


def test_the_first_opening_makes_the_book_and_its_folder(own_data_folder: Path) -> None:
    with open_book() as book:
        assert book.path == default_book_path()
    assert list(contents(own_data_folder)) == ["carrybook/book.sqlite"]


def test_without_create_a_missing_book_is_said_and_nothing_is_made(tmp_path: Path) -> None:
    path = tmp_path / "new" / "book.sqlite"
    with pytest.raises(
        BadInputError, match=r"there is no book at .*book\.sqlite; add a shot first"
    ):
        open_book(path, create=False)
    assert not path.parent.exists()


def test_head_is_alembics_head() -> None:
    assert ScriptDirectory(str(versions._MIGRATIONS)).get_heads() == [HEAD]


def test_migrations_make_the_tables_that_the_store_knows(book: Book) -> None:
    with book.session() as session:
        assert compare_metadata(MigrationContext.configure(session), metadata) == []
        made = session.exec_driver_sql("SELECT group_concat(sql) FROM sqlite_master").scalar_one()
    with closing(sqlite3.connect(book.path)) as connection:
        assert made.count("COLLATE") == 4
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_foreign_keys_are_on(book: Book) -> None:
    with book.session() as session:
        assert session.exec_driver_sql("PRAGMA foreign_keys").scalar_one() == 1


def test_a_session_that_fails_changes_nothing(book: Book) -> None:
    def insert_and_fail() -> None:
        with book.session() as session:
            session.exec_driver_sql("INSERT INTO club (label, loft_rad) VALUES ('54', 0.94)")
            raise KeyError

    with pytest.raises(KeyError):
        insert_and_fail()
    with book.session() as session:
        assert session.exec_driver_sql("SELECT count(*) FROM club").scalar_one() == 0


def test_opening_again_is_quick_and_changes_nothing(book: Book, tmp_path: Path) -> None:
    before = contents(tmp_path)
    seconds = []
    for _ in range(5):
        start = time.perf_counter()
        open_book(book.path).close()
        seconds.append(time.perf_counter() - start)
    assert min(seconds) < 0.05
    assert contents(tmp_path) == before


def test_opening_again_needs_no_migration_tools(book: Book) -> None:
    code = (
        "import sys; from pathlib import Path; from carrybook.store.book import open_book;"
        "open_book(Path(sys.argv[1])).close(); print('alembic' in sys.modules)"
    )
    command = [sys.executable, "-c", code, str(book.path)]
    assert subprocess.run(command, capture_output=True, check=True).stdout.strip() == b"False"  # noqa: S603


def test_many_may_open_a_new_book_at_once(tmp_path: Path) -> None:
    with ThreadPoolExecutor(8) as pool:
        paths = list(pool.map(lambda _: open_book(tmp_path / "book.sqlite").path, range(8)))
    assert len(paths) == 8
    open_book(paths[0]).close()
    assert list(contents(tmp_path)) == ["book.sqlite"]
    with closing(sqlite3.connect(paths[0])) as connection:
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_an_empty_file_becomes_a_book(tmp_path: Path) -> None:
    path = tmp_path / "empty.sqlite"
    path.touch()
    with open_book(path) as book, book.session() as session:
        assert session.exec_driver_sql("SELECT count(*) FROM shot").scalar_one() == 0


@pytest.fixture
def next_version(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Make believe that there is one more migration, and give its file."""
    folder = tmp_path_factory.mktemp("next") / "migrations"
    shutil.copytree(versions._MIGRATIONS, folder, ignore=shutil.ignore_patterns("__pycache__"))
    monkeypatch.setattr(versions, "_MIGRATIONS", folder)
    monkeypatch.setattr(versions, "HEAD", "9998")
    migration = folder / "versions" / "9998_next.py"
    migration.write_text(
        "from alembic import op\n"
        "import sqlalchemy as sa\n"
        f"revision, down_revision = '9998', '{HEAD}'\n"
        "def upgrade():\n"
        "    op.add_column('club', sa.Column('colour', sa.Text))\n"
    )
    return migration


def test_an_older_book_is_brought_up_with_all_it_holds(bag: Book, next_version: Path) -> None:
    assert next_version.exists()
    with open_book(bag.path) as newer, newer.session() as session:
        rows = session.exec_driver_sql("SELECT label, colour FROM club ORDER BY label").all()
    assert rows == [("54", None), ("60", None)]


def test_a_migration_that_fails_leaves_the_book_as_it_was(
    bag: Book, next_version: Path, tmp_path: Path
) -> None:
    before = contents(tmp_path)
    next_version.write_text(next_version.read_text() + "    raise RuntimeError('a bug')\n")
    with pytest.raises(RuntimeError, match="a bug"):
        open_book(bag.path)
    assert contents(tmp_path) == before


def test_a_first_migration_that_fails_leaves_no_half_made_book(
    next_version: Path, tmp_path: Path
) -> None:
    next_version.write_text(next_version.read_text() + "    raise RuntimeError('a bug')\n")
    with pytest.raises(RuntimeError, match="a bug"):
        open_book(tmp_path / "book.sqlite")
    assert contents(tmp_path) == {}


def test_a_book_from_a_newer_version_is_refused_untouched(book: Book, tmp_path: Path) -> None:
    set_version(book.path, "9999")
    before = contents(tmp_path)
    with pytest.raises(
        BadInputError, match=rf"is version 9999 and this carrybook knows {HEAD}; upd"
    ):
        open_book(book.path)
    assert contents(tmp_path) == before


@pytest.mark.parametrize("content", [b"shot,carry\n54,70\n", bytes(range(256)) * 8, b"SQLite"])
def test_a_file_that_is_no_book_is_refused_untouched(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "balls.csv"
    path.write_bytes(content)
    with pytest.raises(BadInputError, match=r"balls\.csv is not a carrybook book, nor any SQLite"):
        open_book(path)
    assert contents(tmp_path) == {"balls.csv": content}


def test_another_programs_database_is_refused_untouched(tmp_path: Path) -> None:
    path = tmp_path / "other.sqlite"
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE club (label TEXT)")
    before = contents(tmp_path)
    with pytest.raises(BadInputError, match=r"other\.sqlite is an SQLite file but not a carrybook"):
        open_book(path)
    assert contents(tmp_path) == before


def test_a_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(
        BadInputError, match=r"is a folder; name a file in it, such as book\.sqlite"
    ):
        open_book(tmp_path)


def test_a_file_where_the_folder_should_be_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(BookFileError, match=r"book\.sqlite cannot be read and written: Not a dir"):
        open_book(tmp_path / "file" / "book.sqlite")


def test_a_damaged_book_is_named(book: Book) -> None:
    content = book.path.read_bytes()
    book.path.write_bytes(content[:100] + b"\xff" * (len(content) - 100))
    with pytest.raises(BookFileError, match=r"the book .*book\.sqlite is damaged; put back a copy"):
        open_book(book.path)


@pytest.mark.parametrize(
    ("harm", "said"),
    [
        ("DROP TABLE alembic_version", "its version is lost"),
        ("DELETE FROM alembic_version", "its version is lost"),
        ("DROP TABLE ball", "it lost ball"),
    ],
)
@pytest.mark.parametrize("reading", [False, True])
def test_a_book_that_lost_a_table_is_named_and_left_alone(
    bag: Book, harm: str, said: str, reading: bool, tmp_path: Path
) -> None:
    with closing(sqlite3.connect(bag.path)) as connection, connection:
        connection.execute(harm)
    before = contents(tmp_path)
    message = rf"the book .*book\.sqlite is damaged: {said}; put back a copy of it, or name another"
    with pytest.raises(BookFileError, match=message):
        open_book(bag.path, reading=reading)
    assert contents(tmp_path) == before


@pytest.mark.parametrize(
    ("harm", "said"),
    [
        ("UPDATE shot SET stock_carry_m = 'abc' WHERE id = 2", r"shot .* 2 .*\(a value of the wr"),
        (
            "UPDATE shot SET shape = 'hook' WHERE id = 3",
            r"shot with id 3 .*\('hook' is not a valid",
        ),
        ("UPDATE club SET loft_rad = 'abc'", r"shot with id \d cannot be read \(a value of the"),
        ("UPDATE club SET loft_rad = 9", r"shot .*\(loft of club 54 = 515.662 deg is outside 7"),
    ],
)
def test_a_shot_that_cannot_be_is_named(bag: Book, harm: str, said: str) -> None:
    with bag.session() as session:
        session.exec_driver_sql(harm)
    message = rf"the book .*book\.sqlite is damaged: {said}.*; put back a copy"
    with pytest.raises(BadInputError, match=message), bag.session() as session:
        load_shots(session)


def test_a_club_that_cannot_be_is_named_when_a_shot_is_added(
    bag: Book, make_shot: Callable[..., Shot]
) -> None:
    with bag.session() as session:
        session.exec_driver_sql("UPDATE club SET loft_rad = 'abc'")
    with (
        pytest.raises(BadInputError, match="damaged: club with id 1 cannot be read"),
        bag.session() as session,
    ):
        save_shot(session, make_shot("54"))


def test_a_book_in_use_is_named(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(book_module, "_WAIT_S", 0.01)
    with closing(sqlite3.connect(book.path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(
            BadInputError, match=r"book\.sqlite is in use by another program; close"
        ):
            open_book(book.path)
    open_book(book.path).close()


def test_a_mistake_in_sql_still_looks_like_a_bug(book: Book) -> None:
    with pytest.raises(Exception, match="no such table") as caught, book.session() as session:
        session.exec_driver_sql("SELECT * FROM nowhere")
    assert not isinstance(caught.value, BadInputError)


def test_a_read_only_folder_is_named(ordinary_folder: Path) -> None:
    ordinary_folder.chmod(0o500)
    with pytest.raises(BadInputError, match=r"the book .*book\.sqlite cannot be written; check"):
        open_book(ordinary_folder / "book.sqlite")
    with pytest.raises(BadInputError, match=r"the folder .*new cannot be made: Permission denied"):
        open_book(ordinary_folder / "new" / "book.sqlite")
    assert contents(ordinary_folder) == {}


def test_a_read_only_book_is_named_and_left_alone(ordinary_folder: Path) -> None:
    path = ordinary_folder / "book.sqlite"
    open_book(path).close()
    before = contents(ordinary_folder)
    path.chmod(0o400)
    with pytest.raises(
        BadInputError, match=r"cannot be read and written: Permission denied; check its"
    ):
        open_book(path)
    assert contents(ordinary_folder) == before


def test_a_book_in_a_folder_made_read_only_is_named(ordinary_folder: Path) -> None:
    path = ordinary_folder / "book.sqlite"
    open_book(path).close()
    before = contents(ordinary_folder)
    ordinary_folder.chmod(0o500)
    with pytest.raises(BadInputError, match=r"the book .*book\.sqlite cannot be written; check"):
        open_book(path)
    assert contents(ordinary_folder) == before


@pytest.mark.parametrize("bound", ["file", "folder", "both"])
def test_a_book_that_may_not_be_written_can_be_read(
    ordinary_folder: Path, make_shot: Callable[..., Shot], bound: str
) -> None:
    path = ordinary_folder / "a book?#%41.sqlite"
    with open_book(path) as book, book.session() as session:
        save_shot(session, make_shot("54"))
    before = contents(ordinary_folder)
    path.chmod(0o600 if bound == "folder" else 0o400)
    ordinary_folder.chmod(0o700 if bound == "file" else 0o500)
    with open_book(path, create=False, reading=True) as book:
        with book.session() as session:
            assert [shot.label for shot in load_shots(session)] == ["54"]
        with pytest.raises(BadInputError, match="cannot be written"), book.session() as session:
            save_shot(session, make_shot("60", loft=60.0))
    assert contents(ordinary_folder) == before


def test_a_read_only_book_whose_journal_goes_on_is_read_whole(
    ordinary_folder: Path, make_shot: Callable[..., Shot]
) -> None:
    path = ordinary_folder / "book.sqlite"
    with open_book(path) as book, book.session() as session:
        save_shot(session, make_shot("54"))
    with closing(sqlite3.connect(path)) as writer:
        with writer:
            writer.execute("UPDATE club SET label = '55'")  # in the journal alone
        path.chmod(0o400)
        with open_book(path, create=False, reading=True) as book, book.session() as session:
            assert [shot.label for shot in load_shots(session)] == ["55"]


def test_an_older_book_that_may_not_be_written_is_named(ordinary_folder: Path) -> None:
    path = ordinary_folder / "book.sqlite"
    open_book(path).close()
    set_version(path, "0000")
    path.chmod(0o400)
    with pytest.raises(BookFileError, match=rf"is version 0000, not {HEAD}, and cannot be written"):
        open_book(path, reading=True)


def test_an_unreadable_book_is_named(ordinary_folder: Path) -> None:
    path = ordinary_folder / "book.sqlite"
    path.touch(mode=0o000)
    with pytest.raises(
        BookFileError, match=r"cannot be read and written: Permission denied; check its"
    ):
        open_book(path)
