"""Shots that are faced, from a file: units in header or cell, words, weights, what is refused."""

from pathlib import Path

import pytest

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.world.faced import FacedShot, read_faced
from carrybook.world.lie import Lie, Moisture


def read(path: Path, text: str) -> tuple[FacedShot, ...]:
    file = path / "faced.csv"
    file.write_text(text, encoding="utf-8")
    return read_faced(file)


def test_everything_a_row_can_say(tmp_path: Path) -> None:
    (found,) = read(
        tmp_path, "Distance (yd),Lie,Moisture,Firmness,Weight\n85,light rough,dew,firm,3\n"
    )
    assert found == FacedShot(85.0 * YARD, Lie.LIGHT_ROUGH, Moisture.DEW, 110.0, 3.0)


def test_only_the_distance_is_needed(tmp_path: Path) -> None:
    assert read(tmp_path, "distance\n70m\n\n90yd\n") == (FacedShot(70.0), FacedShot(90.0 * YARD))


def test_semicolons_and_decimal_commas(tmp_path: Path) -> None:
    (found,) = read(tmp_path, "\ufeffnumber (m);times\n70,5;2,5\n")
    assert (found.distance_m, found.times) == (70.5, 2.5)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("lie\nfairway\n", "needs a column distance"),
        ("distance,number\n80yd,80yd\n", "two columns for distance"),
        ("distance\n", "holds 0 rows"),
        ("distance\n80\n", r"row 2: distance = 80 has no unit"),
        ("distance,weight\n80yd,1\n90yd,-2\n", r"row 3: weight = '-2' is not a number above 0"),
        ("distance,weight\n80yd,often\n", r"weight = 'often' is not a number"),
        ("distance,lie\n80yd,moon\n", r"row 2: lie = 'moon' is not one of"),
        ("distance,firmness\n80yd,odd\n", r"row 2: firmness = 'odd'"),
        ("distance,lie\n,fairway\n", "row 2: distance is missing"),
    ],
)
def test_says_what_is_wrong(tmp_path: Path, text: str, message: str) -> None:
    with pytest.raises(BadInputError, match=message):
        read(tmp_path, text)


def test_a_file_that_is_not_there_or_no_text(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match="cannot read"):
        read_faced(tmp_path / "no.csv")
    (tmp_path / "b.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(BadInputError, match="not a text file in UTF-8"):
        read_faced(tmp_path / "b.csv")
