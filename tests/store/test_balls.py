"""Balls in the book."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from carrybook.base.errors import BadInputError
from carrybook.player.balls import Ball
from carrybook.store.ball_file import read_ball_file
from carrybook.store.balls import count_balls, load_balls, load_imports, undo_last_import
from carrybook.store.book import Book
from carrybook.store.imports import import_balls

Write = Callable[..., Path]

FULL = (
    "time,shot,intended [yd],called [yd],carry [yd],total [yd],side [yd],"
    "ball speed [mph],club speed [mph],launch [deg],start line [deg],attack [deg],"
    "spin [rpm],spin axis [deg],temp [C],humidity [%],pressure [hPa],lie,moisture,"
    "setting,ball model,note\n"
    "2026-05-31T17:45+01:00,54 low,70,71,69.5,72,-3,80,70,28,1,-5,8500,2,12,80,990,"
    "sand,wet,course,f,é\n"
)


def in_book(book: Book, **choice: object) -> tuple[Ball, ...]:
    with book.session() as session:
        return load_balls(session, **choice)


def test_a_ball_comes_back_as_it_was_read(bag: Book, write: Write) -> None:
    path = write(FULL)
    (row,) = read_ball_file(path, shots=["54 low"]).rows
    import_balls(bag, path)
    assert in_book(bag) == (row.ball,)
    assert None not in row.ball.measured().values()
    assert len(row.ball.measured()) == 12


def test_a_sparse_ball_comes_back_as_it_was_read(bag: Book, write: Write) -> None:
    import_balls(bag, write("shot,carry [m]\n54,70\n"))
    assert in_book(bag) == (Ball(shot="54", carry_m=70.0),)


def test_the_raw_row_is_kept(bag: Book, write: Write) -> None:
    import_balls(bag, write("shot,carry [yd],mood\n\n54,70.0 m,gut\n"))
    with bag.session() as session:
        found = session.exec_driver_sql("SELECT raw, row_number, import_run_id FROM ball").one()
    assert found == ('{"shot": "54", "carry [yd]": "70.0 m", "mood": "gut"}', 3, 1)


ORDER = (
    "time,shot,carry [m]\n"
    "2026-05-31T12:00:00+02:00,54,72\n"  # 10:00 UTC
    "2026-05-31T11:00:00Z,60,73\n"
    "2026-05-30,54,71\n"
    ",54,70\n"
)


@pytest.mark.parametrize(
    ("choice", "carries"),
    [
        ({}, [70.0, 71.0, 72.0, 73.0]),
        ({"newest_first": True}, [73.0, 72.0, 71.0, 70.0]),
        ({"newest_first": True, "limit": 2}, [73.0, 72.0]),
        ({"shot": "54", "newest_first": True, "limit": 1}, [72.0]),
        ({"shot": "54 LOW"}, []),
        ({"limit": 0}, []),
    ],
)
def test_order_and_choice(
    bag: Book, write: Write, choice: dict[str, object], carries: list[float]
) -> None:
    import_balls(bag, write(ORDER))
    assert [ball.carry_m for ball in in_book(bag, **choice)] == carries


def test_times_come_back_with_their_offset(bag: Book, write: Write) -> None:
    import_balls(bag, write(ORDER))
    times = [ball.at for ball in in_book(bag)]
    assert times[0] is None
    assert times[1] == datetime(2026, 5, 30)
    assert times[2] is not None
    assert times[2].isoformat() == "2026-05-31T12:00:00+02:00"
    assert times[3] == datetime(2026, 5, 31, 11, tzinfo=UTC)


def test_balls_of_a_shot_that_is_not_there(bag: Book) -> None:
    with pytest.raises(
        BadInputError, match=r"shot '64' is not in the book; its shots: 54, 54 low, 60"
    ):
        in_book(bag, shot="64")


def test_undo_takes_back_the_newest_import_only(bag: Book, write: Write) -> None:
    import_balls(bag, write("shot,carry [m]\n54,70\n", "first.csv"))
    import_balls(bag, write("shot,carry [m]\n54,71\n54,72\n", "second.csv"))
    import_balls(bag, write("shot,carry [m]\n54,71\n", "nothing new.csv"))
    with bag.session() as session:
        undone = undo_last_import(session)
        assert (undone.file, undone.balls) == ("second.csv", 2)
        assert count_balls(session) == 1
    with bag.session() as session:
        assert undo_last_import(session).file == "first.csv"
        assert count_balls(session) == 0
    with pytest.raises(BadInputError, match="there is no import to undo"), bag.session() as session:
        undo_last_import(session)


def test_imports_are_given_file_by_file(bag: Book, write: Write) -> None:
    first = write("shot,carry [m]\n54,70\n54,71\n")
    import_balls(bag, first)
    import_balls(bag, write("shot,carry [m]\n54,72\n"))
    with bag.session() as session:
        found = load_imports(session)
        assert [[ball.carry_m for ball in balls] for _, balls in found] == [[70.0, 71.0], [72.0]]
        assert found[0][0] == first.name
        assert load_imports(session, shot="54") == found
        with pytest.raises(BadInputError, match="'7'"):
            load_imports(session, shot="7")


def test_what_was_undone_can_be_imported_again(bag: Book, write: Write) -> None:
    path = write(ORDER)
    first = import_balls(bag, path)
    with bag.session() as session:
        undo_last_import(session)
    assert import_balls(bag, path) == first
    assert len(in_book(bag)) == 4


@pytest.mark.parametrize(
    ("harm", "said"),
    [
        ("carry_m = 'abc'", "a value of the wrong type"),
        ("carry_m = 9e999", "carry = inf yd is outside 0.5 to 380 yd (inf m; 0.457 to 347 m)"),
        ("lie = 'moon'", "'moon' is not a valid Lie"),
        ("at = 'yesterday'", "Invalid isoformat string: 'yesterday'"),
        ("temperature_k = 280", "a value of the wrong type"),  # an air without its pressure
    ],
)
def test_a_ball_that_cannot_be_is_named(bag: Book, write: Write, harm: str, said: str) -> None:
    import_balls(bag, write("shot,carry [m]\n54,70\n54,71\n"))
    with bag.session() as session:
        session.exec_driver_sql(f"UPDATE ball SET {harm} WHERE id = 2")  # noqa: S608 - our own
    with pytest.raises(BadInputError) as caught:
        in_book(bag)
    assert str(caught.value) == (
        f"the book {bag.path} is damaged: ball with id 2 cannot be read ({said});"
        " put back a copy of it, or name another"
    )
