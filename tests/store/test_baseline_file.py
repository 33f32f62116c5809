"""A rival's averages: read with their unit, refused with the row that is wrong."""

from pathlib import Path

import numpy as np
import pytest

from carrybook.base.constants import FOOT, YARD
from carrybook.base.errors import BadInputError
from carrybook.store.baseline_file import read_baseline
from carrybook.world.lie import Lie

GOOD = (
    "lie,distance (yd),strokes\nfairway,100,3.1\nFairway,50,2.9\n\ngreen,3ft,1.2\ngreen,10,2.05\n"
)


def write(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "rival.csv"
    path.write_text(text, "utf-8")
    return path


def test_rows_are_read_in_any_order(tmp_path: Path) -> None:
    found = read_baseline(write(tmp_path, GOOD))
    assert found.name == "rival"
    np.testing.assert_allclose(found.tables[Lie.FAIRWAY], [[50 * YARD, 2.9], [100 * YARD, 3.1]])
    np.testing.assert_allclose(found.tables["green"], [[3 * FOOT, 1.2], [10 * YARD, 2.05]])


def test_a_decimal_comma_and_metres(tmp_path: Path) -> None:
    text = "lie;distance (m);strokes\nsand;10;2,7\nsand;20;2,9\n"
    found = read_baseline(write(tmp_path, text))
    np.testing.assert_allclose(found.tables[Lie.SAND], [[10.0, 2.7], [20.0, 2.9]])


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("lie,distance,strokes\n", r"rival.csv needs the header: lie,distance \(yd\),strokes"),
        ("lie,distance (yd),strokes\n", "rival.csv holds no averages"),
        (GOOD + "heather,10,2\n", "rival.csv, row 7: lie = 'heather' is not one of: tee"),
        (GOOD + "sand,ten,2\n", "row 7: distance = 'ten' is not a number"),
        (GOOD + "sand,10,two\n", "row 7: strokes = 'two' is not a number"),
        (GOOD + "sand,10\n", "row 7: 2 cells, not 3"),
        (GOOD + "sand,10,2.5\n", "rival, sand: one distance is not enough"),
    ],
)
def test_what_is_wrong_is_named(tmp_path: Path, text: str, message: str) -> None:
    with pytest.raises(BadInputError, match=message):
        read_baseline(write(tmp_path, text))


def test_no_file_and_no_text(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match="cannot be read"):
        read_baseline(tmp_path / "none.csv")
    (tmp_path / "x.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(BadInputError, match="is not UTF-8 text"):
        read_baseline(tmp_path / "x.csv")
