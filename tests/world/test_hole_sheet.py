"""Hole-location sheets: lines as people write them, and what is not understood."""

from pathlib import Path

import pytest

from carrybook.base.errors import BadInputError
from carrybook.world.hole_sheet import read_sheet, sheet_in

PLAIN = "4: 27 on, 9 from the left\n11: 8 on, centre\n"
WANTED = (("4", "27 on, 9 from the left"), ("11", "8 on, centre"))


@pytest.mark.parametrize(
    "text",
    [
        PLAIN,
        PLAIN.replace(": ", "  "),
        PLAIN.replace(": ", ","),
        PLAIN.replace(": ", ";"),
        PLAIN.replace(": ", "\t"),
        PLAIN.replace("4:", "hole 4:").replace("11:", "Hole 11"),
        f"hole,where it is cut\n{PLAIN}",
        f"# Sunday\n\n{PLAIN}\n# end",
        PLAIN.replace("left", "left   # tucked"),
        PLAIN.replace("\n", "\r\n"),
    ],
)
def test_the_same_sheet_written_otherwise(text: str) -> None:
    assert sheet_in(text, "sunday.txt") == WANTED


def test_a_file(tmp_path: Path) -> None:
    (tmp_path / "sunday.txt").write_text("\ufeff" + PLAIN, "utf-8")
    assert read_sheet(tmp_path / "sunday.txt") == WANTED
    with pytest.raises(BadInputError, match=r"cannot read .*monday.txt: No such file"):
        read_sheet(tmp_path / "monday.txt")


def test_units_stand_in_the_words() -> None:
    assert sheet_in("16, 22m on, 4m from the left", "s") == (("16", "22m on, 4m from the left"),)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", r"sunday.txt names no hole; write lines like '4: 27 on"),
        ("nothing of golf here\n", r"sunday.txt names no hole"),
        (f"{PLAIN}twelve somewhere\n", r"sunday.txt, line 3: 'twelve somewhere' is not understood"),
        (f"{PLAIN}4: 8 on, centre\n", r"sunday.txt, line 3: hole 4 stands there twice"),
        ("\n".join(f"{k}: 8 on, centre" for k in range(1, 120)), r"has 119 holes; 108 at most"),
    ],
)
def test_what_is_no_sheet(text: str, said: str) -> None:
    with pytest.raises(BadInputError, match=said):
        sheet_in(text, "sunday.txt")
