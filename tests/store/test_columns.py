"""Which column is what: names, units, and what is asked about."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from carrybook.base.errors import BadInputError
from carrybook.store.any_file import read_sheet
from carrybook.store.columns import Column, find_columns, fingerprint, rows_of_balls
from carrybook.store.fields import FIELDS, plain

Write = Callable[..., Path]
NONE: Mapping[str, str] = {}


def found(
    path: Path, columns: Mapping[str, str] = NONE, units: Mapping[str, str] = NONE
) -> tuple[Column, ...]:
    return find_columns(read_sheet(path), columns=columns, units=units)


def names(path: Path, **given: Mapping[str, str]) -> dict[str, str]:
    return {column.field.name: column.header for column in found(path, **given)}


@pytest.mark.parametrize(
    "header",
    [
        "Carry [yd]",
        "carry (yd)",
        "carry_yd",
        '"Carry, yd"',
        "CARRY yds",
        "Carry/Yards",
        "Carry Distance [ yd ]",
    ],
)
def test_units_in_the_header(write: Write, header: str) -> None:
    _, carry = found(write(f"shot,{header}\n54,70\n"))
    assert carry.field.name == "carry"
    assert carry.field.kind is not None
    assert carry.unit is not None
    assert carry.field.kind.spellings[carry.unit.lower()] == "yard"


def test_units_in_a_row_below_the_header(write: Write) -> None:
    columns = found(write("time,shot,carry,speed of ball,note\n,-,[yd],MPH,\n,54,70,80,\n"))
    assert [column.unit for column in columns] == [None, None, "yd", "mph", None]


def test_units_in_two_columns_differ(write: Write) -> None:
    columns = found(write("shot,carry_m,side [ft],Spin rate (rpm),temp °C\n54,70,1,9000,12\n"))
    assert [column.unit for column in columns] == [None, "m", "ft", "rpm", "°C"]


def test_a_unit_in_every_cell_or_an_empty_column_is_enough(write: Write) -> None:
    columns = found(write("shot,carry,side,total\n54,65.8 m,3yd L,-\n54,70 yd,0 m,\n"))
    assert [column.unit for column in columns] == [None, None, None, None]


def test_the_persons_unit_wins(write: Write) -> None:
    path = write("shot,carry [m],Ball speed\n54,70,80\n")
    columns = found(path, units={"carry": "yd", "Ball-Speed": "mph"})
    assert [column.unit for column in columns] == [None, "yd", "mph"]


def test_every_name_of_a_field_is_its_own(write: Write) -> None:
    heads = [plain(name) for f in FIELDS.values() for name in (f.name, *f.headers)]
    assert len(heads) == len(set(heads))


def test_trade_words(write: Write) -> None:
    heads = {
        "Date": "time",
        "Club": "club",
        "Flight": "flight",
        "Shape": "shape",
        "Intended carry (yd)": "intended",
        "Called (felt) [yd]": "called",
        "Carry [yd]": "carry",
        "Total [yd]": "total",
        "Side (yd)": "side",
        "BallSpeed [mph]": "ball speed",
        "club_head_speed_mph": "club speed",
        "Launch angle [deg]": "launch",
        "Start line [°]": "start line",
        "Angle of attack (deg)": "attack",
        "Backspin [rpm]": "spin",
        "Axis tilt [deg]": "spin axis",
        "Air temp [C]": "temperature",
        "Relative humidity %": "humidity",
        "Station pressure hPa": "pressure",
        "Lie": "lie",
        "Moisture": "moisture",
        "Setting": "setting",
        "Ball type": "ball model",
        "Comments": "note",
    }
    row = ["1"] * len(heads)
    assert names(write("\t".join(heads) + "\n" + "\t".join(row))) == {
        field: header
        for header, field in sorted(heads.items(), key=lambda p: [*FIELDS].index(p[1]))
    }


def test_a_named_column_is_taken_with_or_without_its_unit(write: Write) -> None:
    path = write("shot,Carry flat [yd],Carry actual [yd],what i wanted (m)\n54,70,71,70\n")
    chosen = {"carry": "carry flat", "intended": "What I wanted (m)"}
    assert names(path, columns=chosen) == {
        "shot": "shot",
        "intended": "what i wanted (m)",
        "carry": "Carry flat [yd]",
    }


def test_a_field_can_be_left_out(write: Write) -> None:
    path = write("shot,spin [rpm],backspin [rpm],carry [m]\n54,9000,8900,70\n")
    assert names(path, columns={"spin": ""}) == {"shot": "shot", "carry": "carry [m]"}


@pytest.mark.parametrize(
    ("header", "message"),
    [
        (
            "shot,Carry [yd],Carry distance [yd]",
            'carry could be "Carry [yd]" or "Carry distance [yd]"',
        ),
        (
            "shot,Carry flat [yd],Carry actual [yd]",
            'carry could be "Carry flat [yd]" or "Carry act',
        ),
        (
            "shot,Total [yd],Real carry [yd]",
            'carry could be "Real carry [yd]"; choose with --column c',
        ),
        ("shot,Backspin [rpm],total spin [rpm]", 'choose with --column spin="Backspin [rpm]"'),
        ("shot,Ball speed,Speed of ball", 'choose with --column ball-speed="Ball speed"'),
        ("Shot,Club,carry [yd]", '"Shot" and "Club" could each say which shot it was; choose with'),
        (
            "a,b,c",
            'no column is known to say which shot it was; name it with --column shot="..." or',
        ),
        ("shot,temp [C],note", "no column is known to hold a carry or another measured number"),
        ("shot,note,called [m]", "no column is known to hold a carry or another measured number"),
        ("shot,carry,note", '"carry" has no unit; give it with --unit carry=yd'),
        (
            "shot,carry [m],ball speed",
            '"ball speed" has no unit; give it with --unit ball-speed=mph',
        ),
        (
            "shot,carry [mph],note",
            "\"carry [mph]\" in 'mph': that is not a unit of length; give one",
        ),
    ],
)
def test_what_is_not_plain_is_asked(write: Write, header: str, message: str) -> None:
    with pytest.raises(BadInputError) as caught:
        found(write(f"{header}\n54,70,71\n"))
    assert message in str(caught.value)
    assert str(caught.value).startswith(str(write("", "balls.csv")))
    assert "\n" not in str(caught.value)


def test_a_header_on_two_lines_is_one_name(write: Write) -> None:
    path = write('shot,"Carry\n[yd]","Spin\nloft"\n54,70,1\n')
    assert names(path) == {"shot": "shot", "carry": "Carry [yd]"}
    with pytest.raises(
        BadInputError, match=r'no column "Hang" for carry; it has: .*, "Spin loft"$'
    ):
        names(path, columns={"carry": "Hang"})


def test_forty_columns_none_of_which_fits(write: Write) -> None:
    header = ",".join(f"x{i}" for i in range(40))
    with pytest.raises(BadInputError, match=r'there are: "x0", .*, "x11" and 28 more$'):
        found(write(f"{header}\n{header}\n"))


def test_shot_or_club_as_chosen(write: Write) -> None:
    path = write("Shot,Club,Flight,carry [yd]\n54 low,54,low,70\n")
    assert list(names(path, columns={"shot": "Shot"})) == ["shot", "carry"]
    assert list(names(path, columns={"club": "Club"})) == ["club", "flight", "carry"]
    assert list(names(path, columns={"shot": ""})) == ["club", "flight", "carry"]


def test_choices_that_do_not_exist_are_said(write: Write) -> None:
    path = write("shot,carry [yd]\n54,70\n")
    with pytest.raises(
        BadInputError, match=r"--column height=\.\.\.: 'height' is not one of: time, shot"
    ):
        found(path, columns={"height": "carry"})
    with pytest.raises(
        BadInputError, match=r"--unit cary=\.\.\.: 'cary' is not one of: time, shot"
    ):
        found(path, units={"cary": "yd"})
    with pytest.raises(
        BadInputError, match=r'no column "Hang" for carry; it has: "shot", "carry \[yd'
    ):
        found(path, columns={"carry": "Hang"})
    with pytest.raises(
        BadInputError, match=r"in 'furlong': that is not a unit of length; .*=yd \(un"
    ):
        found(path, units={"carry": "furlong"})


def test_a_unit_row_that_contradicts_the_header_is_asked(write: Write) -> None:
    path = write("shot,carry [m]\n,yd\n54,70\n")
    with pytest.raises(
        BadInputError, match=r'"carry \[m\]" has another unit in the row below it; say'
    ):
        found(path)
    assert found(path, units={"carry": "yd"})[1].unit == "yd"
    assert found(write("shot,carry [yd]\n,yards\n54,70\n"))[1].unit in {"yd", "yards"}


def test_units_alone_are_no_balls(write: Write) -> None:
    with pytest.raises(BadInputError, match="has a header but no balls below it"):
        rows_of_balls(read_sheet(write("shot,carry\n,yd\n")))


def test_fingerprint_knows_the_header_again() -> None:
    assert fingerprint(["Shot", "Carry [yd]"]) == fingerprint(["shot ", "carry_yd"])
    assert fingerprint(["Shot", "Carry [yd]"]) != fingerprint(["Shot", "Carry [m]"])
    assert fingerprint(["Shot", "Carry"]) != fingerprint(["Carry", "Shot"])
