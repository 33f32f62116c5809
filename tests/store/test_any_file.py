"""Spreadsheets, JSON Lines and Parquet give the same balls as text does."""

import json
from collections.abc import Callable
from datetime import datetime
from io import BytesIO
from pathlib import Path

import numpy as np
import openpyxl
import polars as pl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from carrybook.base.constants import YARD
from carrybook.base.errors import BadInputError
from carrybook.player.balls import Ball
from carrybook.store.any_file import read_sheet
from carrybook.store.ball_file import read_ball_file
from carrybook.store.sheet import find_header

Write = Callable[..., Path]
SHOTS = ("54", "60")
HEADER = ["Time", "Shot", "Carry [yd]", "Spin [rpm]", "Note"]
ROWS = [
    [datetime(2026, 5, 31, 17, 45), 54, 69.5, 9000, "thin"],
    [datetime(2026, 5, 31, 17, 46), "60", 55, None, None],
]
TEXT = (
    "Time,Shot,Carry [yd],Spin [rpm],Note\n"
    "2026-05-31T17:45:00,54,69.5,9000,thin\n2026-05-31T17:46:00,60,55,,\n"
)


def workbook(**sheets: list[list[object]]) -> bytes:
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    buffer = BytesIO()
    book.save(buffer)
    return buffer.getvalue()


def parquet() -> bytes:
    columns = {name: [row[k] for row in ROWS] for k, name in enumerate(HEADER)}
    columns["Shot"] = [str(shot) for shot in columns["Shot"]]
    buffer = BytesIO()
    pl.DataFrame(columns).write_parquet(buffer)
    return buffer.getvalue()


def json_lines() -> bytes:
    rows = [dict(zip(HEADER, row, strict=True)) for row in ROWS]
    return "\n".join(json.dumps(row, default=lambda at: at.isoformat()) for row in rows).encode()


def balls(path: Path) -> list[Ball]:
    file = read_ball_file(path, shots=SHOTS)
    assert file.rejects == ()
    return [row.ball for row in file.rows]


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("balls.xlsx", workbook(a=[HEADER, *ROWS], empty=[])),
        ("no ending at all", workbook(a=[[], ["range day"], [], HEADER, *ROWS])),
        ("balls.parquet", parquet()),
        ("balls.jsonl", json_lines()),
        ("balls.json", b"[" + json_lines().replace(b"\n", b",") + b"]"),
    ],
)
def test_every_kind_gives_the_same_balls(write: Write, name: str, content: bytes) -> None:
    assert balls(write(content, name)) == balls(write(TEXT))


def test_a_number_of_one_kind_is_the_same_row_as_of_another(write: Write) -> None:
    hashes = [
        [row.row_hash for row in read_ball_file(path, shots=SHOTS).rows]
        for path in (write(TEXT), write(json_lines(), "b.jsonl"))
    ]
    assert hashes[0] == hashes[1]


def test_rows_of_a_spreadsheet_keep_their_numbers(write: Write) -> None:
    content = workbook(a=[["x"], [], HEADER, *ROWS, ["", 54, "sixty", None, None]])
    file = read_ball_file(write(content, "balls.xlsx"), shots=SHOTS)
    assert [row.number for row in file.rows] == [4, 5]
    assert [(r.row, r.column, r.value) for r in file.rejects] == [(6, "Carry [yd]", "sixty")]


def test_sheets_are_asked_about(write: Write) -> None:
    path = write(workbook(May=[HEADER, ROWS[0]], June=[HEADER, ROWS[1]]), "balls.xlsx")
    with pytest.raises(BadInputError, match=r'several sheets; .* with --sheet: "May", "June"$'):
        read_sheet(path)
    assert read_sheet(path, sheet="june").column(2).to_list() == ["55"]
    with pytest.raises(BadInputError, match=r'has no sheet "July" that holds something; it has'):
        read_sheet(path, sheet="July")
    with pytest.raises(BadInputError, match="is not a spreadsheet"):
        read_sheet(write(TEXT), sheet="May")


def test_a_value_with_its_unit_in_json(write: Write) -> None:
    line = '{"shot": "54", "carry": {"value": 70, "unit": "yd"}}\n'
    (ball,) = balls(write(line, "balls.jsonl"))
    assert ball.carry_m == pytest.approx(70 * YARD)


@pytest.mark.parametrize(
    ("name", "content", "message"),
    [
        ("a.xlsx", b"PK\x03\x04 no zip", "is not a spreadsheet that can be read"),
        ("a.xlsx", workbook(a=[]), "is empty"),
        ("a.xlsx", workbook(a=[HEADER]), "has a header but no balls below it"),
        ("a.parquet", b"PAR1 cut off", "is not a Parquet file that can be read"),
        ("a.jsonl", b'{"shot": 54}\nnot json\n', "line 2, is not JSON"),
        ("a.jsonl", b"[1, 2]", "every line must be an object"),
        ("a.jsonl", b'{"shot": "\xff"}', "is not UTF-8, as JSON must be"),
        ("a.jsonl", b"", "is empty"),
    ],
)
def test_what_cannot_be_read_is_said(write: Write, name: str, content: bytes, message: str) -> None:
    with pytest.raises(BadInputError, match=message) as caught:
        read_ball_file(write(content, name), shots=SHOTS)
    assert "\n" not in str(caught.value)


@given(
    st.sampled_from([b"PK\x03\x04", b"PAR1", b"{", b"[{", workbook(a=[HEADER])[:300]]),
    st.binary(max_size=200),
)
def test_any_bytes_after_a_known_start_are_refused_in_one_line(
    tmp_path_factory: pytest.TempPathFactory, start: bytes, rest: bytes
) -> None:
    path = tmp_path_factory.mktemp("fuzz") / "balls.bin"
    path.write_bytes(start + rest)
    with pytest.raises(BadInputError) as caught:
        read_ball_file(path, shots=SHOTS)
    assert "\n" not in str(caught.value)


def test_the_header_is_found_below_remarks(write: Write) -> None:
    text = "# exported by me; 31 May\nrange, bay 7\n\nShot,Carry [yd]\n54,70\n"
    sheet = read_sheet(write(text))
    assert (sheet.header, sheet.above) == (("Shot", "Carry [yd]"), 2)
    assert [row.number for row in sheet.rows] == [5]
    assert find_header([["# note"], ["a", "b"], ["c", "d"]]) == 1
    assert find_header([["a", "b"], ["54", "70"]]) == 0


def test_summaries_and_second_headers_are_put_aside_with_their_reason(write: Write) -> None:
    text = "Shot,Carry [yd]\n54,70\nAverage,70\nShot,Carry [yd]\nStd. dev.,3\n54,71\n"
    file = read_ball_file(write(text), shots=SHOTS)
    assert len(file.rows) == 2
    assert [(r.row, r.reason) for r in file.rejects] == [
        (3, "a row that sums up others, not a ball"),
        (4, "the header again, not a ball"),
        (5, "a row that sums up others, not a ball"),
    ]
    assert read_ball_file(write(text), shots=[*SHOTS, "average"]).rows[1].ball.shot == "average"


def test_plain_numbers_and_others_are_read_alike(write: Write) -> None:
    rng = np.random.default_rng(1)
    carries = np.round(rng.uniform(20, 120, 300), 2)
    plain = write("shot,carry [yd]\n" + "".join(f"54,{c}\n" for c in carries))
    united = write("shot,carry\n" + "".join(f"54,{c} yd\n" for c in carries), "u.csv")
    comma = write(
        "shot;carry [yd]\n" + "".join(f"54;{str(c).replace('.', ',')}\n" for c in carries), "c.csv"
    )
    one, two, three = ([ball.carry_m for ball in balls(path)] for path in (plain, united, comma))
    assert one == two == three  # to the last bit


def test_plain_times_and_others_are_read_alike(write: Write) -> None:
    times = ("2026-05-31 17:45", "2026-05-31T17:45:00", "20260531T174500", "2026-05-31 17:45:00.5")
    text = "time,shot,carry [m]\n" + "".join(f"{at},54,70\n" for at in times)
    found = [ball.at for ball in balls(write(text))]
    assert found[:3] == [datetime(2026, 5, 31, 17, 45)] * 3
    assert found[3] == datetime(2026, 5, 31, 17, 45, 0, 500_000)


def test_days_that_do_not_exist_are_refused(write: Write) -> None:
    text = "time,shot,carry [m]\n2026-02-30 10:00,54,70\n2026-02-28 25:00,54,70\n"
    assert len(read_ball_file(write(text), shots=SHOTS).rejects) == 2
