"""Importing: every ball once, all or nothing, rejects put aside, choices remembered."""

import csv
from collections.abc import Callable
from pathlib import Path

import pytest

from carrybook.base.errors import BadInputError
from carrybook.player.bag import Flight, Shot
from carrybook.store import imports as imports_module
from carrybook.store.balls import count_balls, load_balls
from carrybook.store.book import Book
from carrybook.store.imports import import_balls
from carrybook.store.shots import save_shot

Write = Callable[..., Path]
TEN = "shot,carry [yd]\n" + "".join(f"54,{60 + i // 2}\n" for i in range(10))


def balls(book: Book) -> int:
    with book.session() as session:
        return count_balls(session)


def test_importing_twice_adds_nothing(bag: Book, write: Write) -> None:
    path = write(TEN)
    first, second = import_balls(bag, path), import_balls(bag, path)
    assert (first.file, first.read, first.added, first.already_there) == ("balls.csv", 10, 10, 0)
    assert (second.read, second.added, second.already_there, second.rejected) == (10, 0, 10, 0)
    assert balls(bag) == 10


def test_a_file_grown_by_ten_rows_adds_ten(bag: Book, write: Write) -> None:
    import_balls(bag, write(TEN))
    grown = import_balls(bag, write(TEN + TEN.partition("\n")[2], "other name.csv"))
    assert (grown.read, grown.added, grown.already_there) == (20, 10, 10)
    assert balls(bag) == 20


def test_rejects_are_put_aside_beside_the_book(bag: Book, write: Write) -> None:
    path = write('shot,carry [yd],note\n54,7O,"a, b"\n54,70,\n56,70,é\n', "may range.csv")
    report = import_balls(bag, path)
    assert (report.read, report.added, report.rejected) == (3, 1, 2)
    assert report.rejects_path is not None
    assert report.rejects_path.parent == bag.path.parent / "book.sqlite.rejects"
    assert report.rejects_path.name.startswith("may range-")
    with report.rejects_path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [(r["row"], r["column"], r["value"], r["line"]) for r in rows] == [
        ("2", "carry [yd]", "7O", '54,7O,"a, b"'),
        ("4", "shot", "56", "56,70,é"),
    ]
    assert rows[1]["reason"] == "shot '56' is not in the book; add it with: carrybook shots add"


def test_a_row_wrong_twice_is_one_row(bag: Book, write: Write) -> None:
    report = import_balls(bag, write("shot,carry [yd],side [yd]\n54,x,y\n"))
    assert (report.read, report.rejected, len(report.rejects)) == (1, 1, 2)


def test_rejects_go_once_their_reason_is_gone(
    bag: Book, write: Write, make_shot: Callable[..., Shot]
) -> None:
    path = write("shot,carry [yd]\n54,70\n54 high,70\n")
    first = import_balls(bag, path)
    with bag.session() as session:
        save_shot(session, make_shot("54", Flight.HIGH))
    second = import_balls(bag, path)
    assert (second.added, second.already_there, second.rejects_path) == (1, 1, None)
    assert first.rejects_path is not None
    assert not first.rejects_path.exists()


def test_choices_are_remembered_for_the_same_header(bag: Book, write: Write) -> None:
    given = {"columns": {"carry": "Carry flat"}, "units": {"Carry": "yd"}}
    import_balls(bag, write("Shot,Carry flat,Carry real\n54,70,71\n", "may.csv"), **given)
    june = import_balls(bag, write("shot,carry flat,carry real\n54,72,73\n", "june.csv"))
    assert june.mapping["carry"] == "carry flat"
    with pytest.raises(BadInputError, match=r'carry could be "Carry flat" or "Carry"|choose with'):
        import_balls(bag, write("Shot,Carry flat,Carry true\n54,70,71\n"))


def test_a_new_choice_takes_the_place_of_the_old(bag: Book, write: Write) -> None:
    path = write("Shot,Club,carry\n54 low,54,70\n")
    with pytest.raises(BadInputError, match="could each say which shot it was"):
        import_balls(bag, path, units={"carry": "yd"})
    import_balls(bag, path, columns={"shot": "Shot"}, units={"carry": "yd"})
    again = import_balls(bag, path, columns={"club": "Club"}, units={"carry": "m"})
    assert again.mapping == {"club": "Club", "carry": "carry"}
    assert import_balls(bag, path).mapping == again.mapping
    with bag.session() as session:
        (ball,) = load_balls(session)
    assert ball.shot == "54 low"  # the row was there already


def test_what_is_refused_is_not_remembered(bag: Book, write: Write) -> None:
    path = write("Shot,Carry flat,Carry real\n54,70,71\n")
    with pytest.raises(BadInputError, match="has no unit"):
        import_balls(bag, path, columns={"carry": "Carry flat"})
    with pytest.raises(BadInputError, match="carry could be"):
        import_balls(bag, path, units={"carry": "yd"})


def test_what_read_no_row_is_not_remembered(bag: Book, write: Write) -> None:
    given = {"columns": {"carry": "Carry flat"}, "units": {"carry": "yd"}}
    head = "Shot,Carry flat,Carry real\n"
    assert import_balls(bag, write(f"{head}56,70,71\n"), **given).rejected == 1
    with pytest.raises(BadInputError, match="carry could be"):
        import_balls(bag, write(f"{head}54,70,71\n"))
    import_balls(bag, write(f"{head}54,70,71\n"), **given)
    assert import_balls(bag, write(f"{head}56,70,71\n")).rejected == 1  # it stays remembered


def test_a_failure_leaves_the_book_as_it_was(
    bag: Book, write: Write, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise RuntimeError("a bug")

    before = bag.path.read_bytes()
    monkeypatch.setattr(imports_module, "save_choices", fail)
    with pytest.raises(RuntimeError, match="a bug"):
        import_balls(bag, write(TEN))
    assert bag.path.read_bytes() == before
    assert sorted(p.name for p in bag.path.parent.iterdir()) == ["balls.csv", "book.sqlite"]


def test_rejects_that_cannot_be_written_stop_the_import(bag: Book, write: Write) -> None:
    (bag.path.parent / "book.sqlite.rejects").touch()
    with pytest.raises(BadInputError, match=r"cannot be written to .*; nothing was imported"):
        import_balls(bag, write("shot,carry [yd]\n54,70\n54,x\n"))
    assert balls(bag) == 0


def test_a_book_without_shots_rejects_every_row(book: Book, write: Write) -> None:
    report = import_balls(book, write(TEN))
    assert (report.added, report.rejected) == (0, 10)


def test_bad_file_is_said_and_nothing_is_made(bag: Book, tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match="there is no file"):
        import_balls(bag, tmp_path / "no.csv")
    assert not (tmp_path / "book.sqlite.rejects").exists()
