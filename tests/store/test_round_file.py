"""A file of rounds: headers with units, one row a shot, whatever is wrong named with its row."""

from pathlib import Path

import pytest

from carrybook.base.errors import BadInputError
from carrybook.store.round_file import read_rounds_file, rounds_of

HEAD = "round;setting;hole;number (yd);shot;finish on;finish (ft);putts;strokes after"


def write(tmp_path: Path, *rows: str, head: str = HEAD) -> Path:
    path = tmp_path / "season.csv"
    path.write_bytes("﻿".encode() + "\r\n".join([head, *rows]).encode())
    return path


def test_cells_carry_the_unit_of_their_header(tmp_path: Path) -> None:
    path = write(tmp_path, "2026-05-30;competition;4;88,5;54;green;12;2;", ";;;;;;;;")
    (row,) = read_rounds_file(path)
    assert row.number == 2
    assert (row.round.begun, row.round.setting) == ("2026-05-30", "competition")
    assert row.answers == {
        "hole": "4", "number": "88,5yd", "shot": "54", "finish_on": "green", "finish": "12ft",
        "putts": "2",
    }  # fmt: skip


def test_a_unit_in_the_cell_stays(tmp_path: Path) -> None:
    (row,) = read_rounds_file(write(tmp_path, "2026-05-30;;4;80m;54;green;4m;2;1"))
    assert (row.answers["number"], row.answers["finish"]) == ("80m", "4m")
    assert row.answers["others"] == "1"


def test_rounds_are_told_by_when_they_began(tmp_path: Path) -> None:
    rows = [f"2026-05-{day};;4;80;54;holed;;;" for day in (30, 30, 31)]
    found = rounds_of(read_rounds_file(write(tmp_path, *rows)))
    assert list(found) == ["2026-05-30", "2026-05-31"]


@pytest.mark.parametrize(
    ("head", "row", "message"),
    [
        (f"{HEAD};speed of club", "", "column 'speed of club' is not one of: round, ended"),
        ("round;hole;number;shot", "", "the column 'finish on' is missing"),
        (f"{HEAD};putts", "", "the column 'putts' is there twice"),
        (HEAD, "2026-05-30;;4", r"season.csv, row 2: 3 cells under 9 headers"),
        (HEAD, ";;4;80;54;holed;;;", "row 2: round is empty"),
        (HEAD, "2026-05-30;fun;4;80;54;holed;;;", "row 2: setting = 'fun' is not one of"),
        (HEAD, "", "season.csv holds no shots"),
    ],
)
def test_what_is_wrong_is_named(tmp_path: Path, head: str, row: str, message: str) -> None:
    with pytest.raises(BadInputError, match=message):
        read_rounds_file(write(tmp_path, row, head=head))


def test_no_file_and_no_text(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match="cannot be read"):
        read_rounds_file(tmp_path / "none.csv")
    (tmp_path / "x.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(BadInputError, match="is not UTF-8 text"):
        read_rounds_file(tmp_path / "x.csv")


def test_a_quoted_note_may_have_lines(tmp_path: Path) -> None:
    row = '2026-05-30;;4;80;54;holed;;;;"into the sun\r\nand late"'
    (found,) = read_rounds_file(write(tmp_path, row, head=f"{HEAD};note"))
    assert found.answers["note"] == "into the sun and late"


def test_a_cell_without_an_end_is_no_table(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match=r"season\.csv is not a CSV file"):
        read_rounds_file(write(tmp_path, f'"{"a" * 200_000}'))
