"""Files of cells: encodings, delimiters, quotes; and what is no such file."""

import codecs
from collections.abc import Callable
from pathlib import Path

import pytest

from carrybook.base.errors import BadInputError
from carrybook.store.delimited import read_delimited

Write = Callable[..., Path]
TEXT = "shot,carry [yd],note\n54,70,größe ½\n"


@pytest.mark.parametrize(
    "content",
    [
        TEXT.encode(),
        codecs.BOM_UTF8 + TEXT.encode(),
        TEXT.encode("utf-16"),
        codecs.BOM_UTF16_BE + TEXT.encode("utf-16-be"),
        TEXT.encode("cp1252"),
    ],
)
def test_encodings(write: Write, content: bytes) -> None:
    file = read_delimited(write(content))
    assert file.header == ("shot", "carry [yd]", "note")
    assert [row.cells for row in file.rows] == [("54", "70", "größe ½")]


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_delimiters_and_line_ends(write: Write, delimiter: str, end: str) -> None:
    lines = ["shot,carry,note", "54,70,", " 60 , 55 ,thin"]
    file = read_delimited(write(end.join(lines).replace(",", delimiter)))
    assert [row.cells for row in file.rows] == [("54", "70", ""), ("60", "55", "thin")]
    assert [row.number for row in file.rows] == [2, 3]


def test_decimal_commas_do_not_pass_for_delimiters(write: Write) -> None:
    file = read_delimited(write("shot;carry, m;side, m\n54;65,8;1,2\n54;66,1;0,4\n"))
    assert file.header == ("shot", "carry, m", "side, m")


def test_semicolons_in_notes_do_not_pass_for_delimiters(write: Write) -> None:
    file = read_delimited(write("shot,carry,note\n54,70,a;b\n54,71,c;d\n54,71,\n"))
    assert file.header == ("shot", "carry", "note")


def test_a_short_row_does_not_change_the_delimiter(write: Write) -> None:
    file = read_delimited(write("shot;carry\n54;70,5\n54\n60;50,5\n"))
    assert [row.cells for row in file.rows] == [("54", "70,5"), ("54",), ("60", "50,5")]


def test_quotes_hold_delimiters_and_line_ends(write: Write) -> None:
    file = read_delimited(write('shot,carry,note\n54,"70,5","two\nlines"\n60,50,\n'))
    assert [row.cells for row in file.rows] == [("54", "70,5", "two\nlines"), ("60", "50", "")]
    assert [row.number for row in file.rows] == [2, 4]
    assert file.rows[0].line == '54,"70,5","two\nlines"'


def test_a_quote_that_is_not_closed_eats_no_other_row(write: Write) -> None:
    file = read_delimited(write('shot,carry,note\n54,70,"oops\n60,50,\n60,51,"6" putt"\n'))
    assert [row.cells[:2] for row in file.rows] == [("54", "70"), ("60", "50"), ("60", "51")]
    assert [row.number for row in file.rows] == [2, 3, 4]


def test_blank_rows_are_passed_over_and_counted(write: Write) -> None:
    file = read_delimited(write("\n,,\nshot,carry\n\n54,70\n ,\n60,50"))
    assert [row.number for row in file.rows] == [5, 7]


def test_columns_without_a_name_or_with_the_same_get_one(write: Write) -> None:
    file = read_delimited(write("carry,,carry,\n70,1,71,2\n"))
    assert file.header == ("carry", "column 2", "carry (2)", "column 4")


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"", "is empty"),
        (b"\xef\xbb\xbf \r\n\r\n", "is empty"),
        (b"shot,carry [yd]\n", "has a header but no balls below it"),
        (b"shot,carry\n54,\x0070\n", "is not a text file; save the table as CSV"),
        (bytes(range(256)), "is not a text file; save the table as CSV"),
        (b"shot\x81,carry\n54,70\n", "is not a text file; save the table as CSV"),
        (TEXT.encode("utf-16-le"), "is not a text file; save the table as CSV"),
        (TEXT.encode("utf-32"), "is not a text file; save the table as CSV"),
        (codecs.BOM_UTF16_LE + b"odd", "is not a text file; save the table as CSV"),
        (b"shot,carry\n54," + b"7" * 200_000, "cannot be read as a table: field larger than"),
    ],
)
def test_what_is_no_such_file_is_said(write: Write, content: bytes, message: str) -> None:
    with pytest.raises(BadInputError, match=rf"balls\.csv {message}") as caught:
        read_delimited(write(content))
    assert "\n" not in str(caught.value)


def test_a_missing_file_and_a_folder_are_said(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match=r"there is no file .*no\.csv$"):
        read_delimited(tmp_path / "no.csv")
    with pytest.raises(BadInputError, match=r"is a folder; name a file of balls in it$"):
        read_delimited(tmp_path)
    with pytest.raises(BadInputError, match=r"cannot be read: File name too long$"):
        read_delimited(tmp_path / ("x" * 300))
