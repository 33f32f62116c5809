"""Files of balls into values; a bad row stops no good one, and only `BadInputError` comes out."""

from collections.abc import Callable
from datetime import UTC, datetime
from itertools import product
from math import radians
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from carrybook.base.constants import CELSIUS_ZERO, MILE_PER_HOUR, RPM, YARD
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.balls import Ball
from carrybook.store.ball_file import BallFile, read_ball_file
from carrybook.world.air import Air
from carrybook.world.lie import Lie, Moisture

Write = Callable[..., Path]
SHOTS = ("54", "54 low", "60", "60 high cut")


def balls(path: Path) -> list[Ball]:
    file = read_ball_file(path, shots=SHOTS)
    assert file.rejects == ()
    return [row.ball for row in file.rows]


def reasons(path: Path) -> list[tuple[int, str, str, str]]:
    file = read_ball_file(path, shots=SHOTS)
    return [(r.row, r.column, r.value, r.reason) for r in file.rejects]


def test_a_full_row(write: Write) -> None:
    path = write(
        "Time;Shot;Intended (yd);Called (felt) [yd];Carry [yd];Total [yd];Side [yd];"
        "Ball speed [mph];Club speed [mph];Launch [deg];Start line [deg];Attack angle [deg];"
        "Backspin [rpm];Spin axis [deg];Temp [C];Humidity [%];Pressure [hPa];Lie;Moisture;"
        "Setting;Ball model;Note\n"
        "2026-05-31T17:45Z;54 LOW;70;71;69,5;72;3R;79,5;70;28;1 L;-5;8500;2;12;80;990;"
        "light rough;dew;Range;firm;thin\n"
    )
    (ball,) = balls(path)
    assert ball.measured() == pytest.approx(
        {
            "intended_m": 70 * YARD,
            "called_m": 71 * YARD,
            "carry_m": 69.5 * YARD,
            "total_m": 72 * YARD,
            "side_m": 3 * YARD,
            "ball_speed_mps": 79.5 * MILE_PER_HOUR,
            "club_speed_mps": 70 * MILE_PER_HOUR,
            "launch_rad": radians(28),
            "start_line_rad": radians(-1),
            "attack_rad": radians(-5),
            "spin_rad_s": 8500 * RPM,
            "spin_axis_rad": radians(2),
        }
    )
    assert ball == Ball(
        **ball.measured(),
        shot="54 low",
        at=datetime(2026, 5, 31, 17, 45, tzinfo=UTC),
        air=Air(CELSIUS_ZERO + 12, 99_000.0, 0.8),
        lie=Lie.LIGHT_ROUGH,
        moisture=Moisture.DEW,
        setting="range",
        ball_model="firm",
        note="thin",
    )


@pytest.mark.parametrize("missing", ["", "-", "n/a", "NA", "nan", "--"])
def test_what_is_missing_was_not_measured(write: Write, missing: str) -> None:
    path = write(
        f"shot,carry [m],side [m],spin [rpm],temp [C],lie,note\n54,70{f',{missing}' * 5}\n"
    )
    assert balls(path) == [Ball(shot="54", carry_m=70.0)]


def test_two_units_in_one_column(write: Write) -> None:
    first, second = balls(write("shot,carry [m]\n54,70\n54,70 yd\n"))
    assert (first.carry_m, second.carry_m) == (70.0, pytest.approx(70 * YARD))


def test_units_in_a_second_row(write: Write) -> None:
    file = read_ball_file(write("shot\tcarry\tside\n\tyd\tft\n54\t70\t3\n"), shots=SHOTS)
    (row,) = file.rows
    assert (row.number, row.raw) == (3, {"shot": "54", "carry": "70", "side": "3"})
    assert row.ball.carry_m == pytest.approx(70 * YARD)


def test_byte_order_mark_and_decimal_commas(write: Write) -> None:
    (ball,) = balls(write("\ufeffShot;Carry, m;Side, m\n54;65,8;-1,25\n"))
    assert (ball.carry_m, ball.side_m) == (65.8, -1.25)


def test_quoted_decimal_commas_between_commas(write: Write) -> None:
    (ball,) = balls(write('shot,carry [m],side [m]\n54,"65,8","-1,2"\n'))
    assert (ball.carry_m, ball.side_m) == (65.8, -1.2)


def test_unquoted_decimal_commas_between_commas_are_not_guessed(write: Write) -> None:
    path = write("shot,carry [m],side [m]\n54,65,8,1,2\n54,65,1\n")
    assert reasons(path) == [
        (2, "", "", "5 cells under 3 headers; a cell that holds the delimiter must be in quotes")
    ]


def test_thousands_are_not_guessed(write: Write) -> None:
    path = write('shot,carry [yd],spin [rpm]\n54,70.5,"7,250"\n54,71.5,7250\n')
    ((row, column, value, reason),) = reasons(path)
    assert (row, column, value) == (2, "spin [rpm]", "7,250")
    assert reason == "spin = '7,250' may have a thousands mark in it; write the number without one"


@pytest.mark.parametrize(
    ("cells", "air"),
    [
        ("12,990,80", Air(285.15, 99_000.0, 0.8)),
        ("12,,", Air(285.15, 101_325.0, 0.5)),
        (",990,80", None),
        (",,", None),
    ],
)
def test_air_is_known_with_its_temperature(write: Write, cells: str, air: Air | None) -> None:
    head = "shot,carry [m],temp [C],pressure [hPa],humidity [%]\n"
    assert [ball.air for ball in balls(write(f"{head}54,70,{cells}\n"))] == [air]


@pytest.mark.parametrize(("flight", "shape"), [*product(Flight, Shape)])
def test_club_flight_and_shape_make_a_shots_own_name(
    write: Write, flight: Flight, shape: Shape
) -> None:
    shot = Shot(Club("54", radians(54)), flight, shape, 70.0, 50.0, 70.0)
    path = write(f"club,flight,shape,carry [m]\n54,{flight.upper()},{shape},70\n")
    (row,) = read_ball_file(path, shots=[shot.label]).rows
    assert row.ball.shot == shot.label


def test_club_alone_is_the_stock_shot(write: Write) -> None:
    path = write("club,flight,shape,carry [m]\n60,high,cut,50\n60,,-,55\n")
    assert [ball.shot for ball in balls(path)] == ["60 high cut", "60"]


def test_every_bad_cell_of_a_row_is_told_and_good_rows_stay(write: Write) -> None:
    path = write(
        "time,shot,carry [yd],side [yd],lie\n"
        "yesterday,54,7O,1,fairway\n"
        "2026-05-31,54,70,1,fairway\n"
        ",54 draw,70,1,\n"
        ",,70,1,\n"
        ",54,,,tee\n"
        ",54,inf,1,moon\n"
        ",54,900,1,\n"
        ",54,70,400,\n"
    )
    file = read_ball_file(path, shots=SHOTS)
    assert [row.number for row in file.rows] == [3]
    assert reasons(path) == [
        (
            2,
            "time",
            "yesterday",
            "time = 'yesterday' is not in ISO 8601, the year first;"
            " write it like 2026-05-31 17:45 or 2026-05-31T17:45+01:00",
        ),
        (2, "carry [yd]", "7O", file.rejects[1].reason),
        (
            4,
            "shot",
            "54 draw",
            "shot '54 draw' is not in the book; add it with: carrybook shots add",
        ),
        (5, "", "", "nothing says which shot it was"),
        (6, "", "", "no carry and no other measured number"),
        (7, "carry [yd]", "inf", "carry = 'inf' is not a number with a unit; write it like 77yd"),
        (
            7,
            "lie",
            "moon",
            "lie = 'moon' is not one of: tee, fairway, light rough, deep rough, sand",
        ),
        (8, "carry [yd]", "900", "carry = 900 yd is outside 0.5 to 380 yd (823 m; 0.457 to 347 m)"),
        (9, "side [yd]", "400", "side = 400 yd is outside -218.7 to 218.7 yd"),
    ]
    assert file.rejects[0].line == "yesterday,54,7O,1,fairway"


def test_an_unbelievable_air_is_told(write: Write) -> None:
    path = write("shot,carry [m],temp [C]\n54,70,51\n")
    assert reasons(path) == [
        (2, "temp [C]", "51", "temperature = 51 C is outside -25 to 50 C"),
    ]


def test_a_number_that_was_only_meant_is_not_measured(write: Write) -> None:
    path = write("shot,intended [m],called [m],total [m]\n54,70,71,\n54,70,71,72\n")
    assert [row for row, *_ in reasons(path)] == [2]


def test_unused_columns_and_mapping_are_told(write: Write) -> None:
    path = write("No,Shot,Carry [m],Mood,Empty,\n1,54,70,good,,\n2,54,71,,,\n")
    file = read_ball_file(path, shots=SHOTS)
    assert file.mapping == {"shot": "Shot", "carry": "Carry [m]"}
    assert file.unused_columns == ("No", "Mood")


def hashes(file: BallFile) -> list[str]:
    return [row.row_hash for row in file.rows]


def test_row_hash_is_of_what_the_row_says(write: Write) -> None:
    one = read_ball_file(write("shot,carry [m],note\n54,70,A  b\n54,71,\n54,70,a b\n"), shots=SHOTS)
    two = read_ball_file(write("note;Shot;carry_m\na b;54;70\nA b;54;70\n;54;71\n"), shots=SHOTS)
    assert len(set(hashes(one))) == 3  # the second of two equal rows is another ball
    assert sorted(hashes(one)) == sorted(hashes(two))


def test_a_rejected_twin_still_counts(write: Write) -> None:
    path = write("shot,carry [m]\n54,70\n54 draw,60\n54 draw,60\n")
    before = read_ball_file(path, shots=SHOTS)
    after = read_ball_file(path, shots=[*SHOTS, "54 draw"])
    assert hashes(after)[:1] == hashes(before)
    assert len(set(hashes(after))) == 3


@given(st.binary(max_size=400))
@settings(max_examples=150, deadline=None)
def test_any_bytes_are_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, content: bytes
) -> None:
    path = tmp_path_factory.mktemp("fuzz") / "balls.csv"
    path.write_bytes(content)
    with pytest.raises(BadInputError) as caught:
        read_ball_file(path, shots=SHOTS)
    assert "\n" not in str(caught.value)


CELL = st.one_of(
    st.sampled_from(
        ["54", "60 high cut", "70", "65,8 m", "3R", "-", "inf", "1e999", '"', "12 C", "yd"]
    ),
    st.text(max_size=8),
    st.floats().map(str),
)


@given(
    st.sampled_from(
        ["shot,carry [yd],side [ft],time,temp [C]", "club;flight;carry, m;spin_rpm;note"]
    ),
    st.lists(st.lists(CELL, max_size=6), min_size=1, max_size=6),
    st.sampled_from([",", ";", "\t"]),
)
@settings(max_examples=200, deadline=None)
def test_any_rows_become_balls_or_rejects(
    tmp_path_factory: pytest.TempPathFactory, header: str, rows: list[list[str]], delimiter: str
) -> None:
    path = tmp_path_factory.mktemp("fuzz") / "balls.csv"
    text = "\n".join([header, *(delimiter.join(row) for row in rows)])
    path.write_text(text, encoding="utf-8", errors="replace")
    try:
        file = read_ball_file(path, shots=SHOTS)
    except BadInputError:
        return
    assert all(row.ball.shot in SHOTS for row in file.rows)
    assert all(reject.reason and reject.row > 1 for reject in file.rejects)
