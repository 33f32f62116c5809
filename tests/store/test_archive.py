"""The whole book out and back in, to the last bit; and gone."""

import json
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import polars as pl
import pytest

from carrybook.base.errors import BadInputError
from carrybook.player.bag import Effort, Shot
from carrybook.store import book as book_module
from carrybook.store.archive import delete_book, export_book, restore_book
from carrybook.store.archive_files import FORMATS, TableColumn, read_table, write_table
from carrybook.store.balls import load_balls, undo_last_import
from carrybook.store.book import Book, new_book, open_book
from carrybook.store.failures import NewerBookError
from carrybook.store.imports import import_balls, rejects_folder
from carrybook.store.shots import save_shot
from carrybook.store.versions import HEAD, migrate

Write = Callable[..., Path]
COLUMNS = [TableColumn(k[:3], k) for k in ("integer", "number", "text", "binary")]
VALUES = [
    (1, 0.1 + 0.2, "a, \"b\"\r\n'c'\té ½ \\N", b"\x00\xff"),
    (-(2**62), 1e-308, "", b""),
    (None, None, None, None),
    (0, -0.0, "\\N", b"N"),
    (7, 3.0, "\\\\N  ", None),
    (8, 1.7976931348623157e308, "\n", b"\n"),
]


@pytest.fixture
def full(bag: Book, write: Write, make_shot: Callable[..., Shot]) -> Book:
    """Give a book with something in every table, and a gap where an import was undone."""
    import_balls(
        bag,
        write(
            'time,shot,Carry flat,Carry real,note\n2026-05-31,54,70.1,1,"a ""b"" \\N"\n,54,x,2,\n'
        ),
        columns={"carry": "Carry flat"},
        units={"carry": "yd"},
    )
    import_balls(bag, write("shot,carry [m]\n54,71\n", "undone.csv"))
    with bag.session() as session:
        undo_last_import(session)
        shot = make_shot("54")
        save_shot(session, Shot(shot.club, shot.flight, shot.shape, 70.3, 40.0, 71.0,
                                efforts=(Effort("half", 40.0),)))  # fmt: skip
    return bag


def everything(folder: Path) -> dict[str, bytes]:
    files = (p for p in folder.rglob("*") if p.is_file())
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in files}


def dump(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as connection:
        return list(connection.iterdump())


@pytest.mark.parametrize("suffix", FORMATS.values())
def test_every_value_comes_back_to_the_last_bit(tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"t{suffix}"
    assert write_table(path, COLUMNS, iter(VALUES)) == len(VALUES)
    back = [tuple(row) for row in read_table(path, COLUMNS)]
    assert back == VALUES
    assert [repr(row) for row in back] == [repr(row) for row in VALUES]  # -0.0 too
    first = path.read_bytes()
    write_table(path, COLUMNS, read_table(path, COLUMNS) if suffix == ".parquet" else iter(back))
    assert path.read_bytes() == first


@pytest.mark.parametrize("how", FORMATS)
def test_a_restored_book_is_the_same_book(full: Book, tmp_path: Path, how: str) -> None:
    export_book(full, tmp_path / "one")
    copy = tmp_path / "elsewhere" / "copy.sqlite"
    archive = restore_book(copy, tmp_path / "one", how)
    assert archive.rows["ball"] == 1
    with open_book(copy) as restored:
        export_book(restored, tmp_path / "two")
    assert everything(tmp_path / "one") == everything(tmp_path / "two")
    assert sorted(dump(full.path)) == sorted(dump(copy))
    assert everything(rejects_folder(full.path)) == everything(rejects_folder(copy))


def test_a_restored_book_goes_on_as_the_old_one(full: Book, tmp_path: Path, write: Write) -> None:
    export_book(full, tmp_path / "out", ["parquet"])
    copy = tmp_path / "copy.sqlite"
    restore_book(copy, tmp_path / "out")
    path = write('time,shot,Carry flat,Carry real,note\n2026-05-31,54,70.1,1,"a ""b"" \\N"\n')
    with open_book(copy) as restored:
        assert import_balls(restored, path).already_there == 1  # and the choice is remembered
        import_balls(restored, write("shot,carry [m]\n54,71\n"))
        with restored.session() as session:
            newest = session.exec_driver_sql("SELECT max(id) FROM import_run").scalar_one()
    assert newest == 3  # the number of the import that was undone is not used again


def test_units_stand_in_the_sidecar(full: Book, tmp_path: Path) -> None:
    export_book(full, tmp_path / "out", ["csv"])
    sidecar = json.loads((tmp_path / "out/csv/ball.csv-metadata.json").read_text("utf-8"))
    assert sidecar["@context"] == "http://www.w3.org/ns/csvw"
    assert sidecar["url"] == "ball.csv"
    columns = {c["name"]: c for c in sidecar["tableSchema"]["columns"]}
    head = (tmp_path / "out/csv/ball.csv").read_text("utf-8").splitlines()[0]
    assert list(columns) == head.split(",")
    units = {name: c.get("schema:unitText") for name, c in columns.items()}
    assert units["carry_m"] == "m"
    assert units["spin_rad_s"] == "rad/s"
    assert units["launch_rad"] == "rad"
    assert units["temperature_k"] == "K"
    assert units["pressure_pa"] == "Pa"
    assert units["humidity"] == "1"
    assert units["note"] is None
    numbers = [c for c in columns.values() if c["datatype"] == "double"]
    assert all("schema:unitText" in column for column in numbers)


def test_any_reader_reads_the_parquet(full: Book, tmp_path: Path) -> None:
    export_book(full, tmp_path / "out", ["parquet"])
    table = pl.read_parquet(tmp_path / "out/parquet/ball.parquet")
    with full.session() as session:
        (ball,) = load_balls(session)
    assert table["carry_m"].to_list() == [ball.carry_m]


def test_an_export_of_an_older_version_is_brought_up(tmp_path: Path) -> None:
    old = tmp_path / "old.sqlite"
    with new_book(old) as book, book.session() as session:
        migrate(session, "0001")
        session.exec_driver_sql("INSERT INTO club (label, loft_rad) VALUES ('54', 0.94)")
    before = HEAD
    with Book(old) as book:
        export_book(book, tmp_path / "out", ["jsonl"])
    manifest = tmp_path / "out" / "book.json"
    manifest.write_text(manifest.read_text("utf-8").replace(before, "0001"), "utf-8")
    restore_book(tmp_path / "new.sqlite", tmp_path / "out")
    with open_book(tmp_path / "new.sqlite") as new, new.session() as session:
        found = session.exec_driver_sql("SELECT label, loft_source FROM club").all()
    assert found == [("54", "said")]


def test_an_older_book_is_copied_before_it_is_brought_up(tmp_path: Path) -> None:
    path = tmp_path / "book.sqlite"
    with new_book(path) as book, book.session() as session:
        migrate(session, "0001")
        session.exec_driver_sql("INSERT INTO club (label, loft_rad) VALUES ('54', 0.94)")
    before = dump(path)
    open_book(path).close()
    assert dump(tmp_path / "book.sqlite.version-0001") == before
    assert dump(path) != before


@pytest.mark.parametrize(
    ("harm", "message"),
    [
        (lambda out: (out / "book.json").unlink(), "is no export of a book"),
        (lambda out: (out / "book.json").write_text("[]"), "is no export of a book"),
        (lambda out: (out / "csv/ball.csv").unlink(), r"is not whole: csv/ball\.csv is missing"),
        (lambda out: (out / "csv/ball.csv").write_text("x"), "was changed since the export"),
    ],
)
def test_an_export_that_was_harmed_is_refused_and_nothing_is_made(
    full: Book, tmp_path: Path, harm: Callable[[Path], object], message: str
) -> None:
    export_book(full, tmp_path / "out")
    harm(tmp_path / "out")
    with pytest.raises(BadInputError, match=message):
        restore_book(tmp_path / "copy.sqlite", tmp_path / "out")
    assert not (tmp_path / "copy.sqlite").exists()


def test_other_refusals(full: Book, tmp_path: Path) -> None:
    export_book(full, tmp_path / "out", ["csv"])
    with pytest.raises(BadInputError, match="is not empty; name another for the export"):
        export_book(full, tmp_path / "out")
    with pytest.raises(BadInputError, match="has no parquet files; it has: csv"):
        restore_book(tmp_path / "copy.sqlite", tmp_path / "out", "parquet")
    with pytest.raises(BadInputError, match="is not empty; restore into another"):
        restore_book(full.path, tmp_path / "out")
    with open_book(tmp_path / "empty.sqlite"):
        pass
    assert restore_book(tmp_path / "empty.sqlite", tmp_path / "out").rows["ball"] == 1
    manifest = tmp_path / "out" / "book.json"
    manifest.write_text(manifest.read_text("utf-8").replace(f'"{HEAD}"', '"9999"'), "utf-8")
    with pytest.raises(NewerBookError, match="is version 9999"):
        restore_book(tmp_path / "copy.sqlite", tmp_path / "out")


def test_nothing_of_a_deleted_player_is_left(full: Book, tmp_path: Path) -> None:
    folder = tmp_path / "book.sqlite"
    other = tmp_path / "other.sqlite"
    open_book(other).close()
    (tmp_path / "book.sqlite.version-0001").write_bytes(b"an old copy")
    removed = {path.name for path in delete_book(full.path)}
    assert removed == {"book.sqlite", "book.sqlite.version-0001", "book.sqlite.rejects"}
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith(folder.name)] == []
    assert other.exists()


def test_what_is_no_book_is_not_deleted(tmp_path: Path, book: Book) -> None:
    path = tmp_path / "diary.txt"
    path.write_text("dear diary")
    with pytest.raises(BadInputError, match="is not a carrybook book"):
        delete_book(path)
    with pytest.raises(BadInputError, match="there is no book at"):
        delete_book(tmp_path / "none.sqlite")
    assert path.exists()


def test_a_book_in_use_is_not_deleted(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(book_module, "_WAIT_S", 0.05)
    with book.session(), pytest.raises(BadInputError, match="is in use by another program"):
        delete_book(book.path)
    assert book.path.exists()
