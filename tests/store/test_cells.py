"""One cell: numbers with marks, units and sides; times; words."""

from datetime import UTC, datetime, timedelta, timezone

import pytest

from carrybook.base.constants import CELSIUS_ZERO, FOOT, MILE_PER_HOUR, RPM, YARD
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Flight
from carrybook.store.cells import has_decimal_comma, has_unit, is_bare, is_missing, read_cell
from carrybook.store.fields import FIELDS
from carrybook.world.lie import Lie


def read(text: str, field: str, unit: str | None = None, *, comma: bool = False) -> object:
    return read_cell(text, FIELDS[field], unit, decimal_comma=comma)


@pytest.mark.parametrize(
    ("text", "field", "unit", "si"),
    [
        ("70", "carry", "yd", 70.0 * YARD),
        ("65.8 m", "carry", "yd", 65.8),  # the cell's own unit wins
        ("65,8", "carry", "m", 65.8),
        ("65.123", "carry", "m", 65.123),
        ("0,512", "side", "m", 0.512),
        ("3R", "side", "yd", 3.0 * YARD),
        ("4 L", "side", "yd", -4.0 * YARD),
        ("3 yd right", "side", None, 3.0 * YARD),
        ("12 ft L", "side", "yd", -12.0 * FOOT),
        ("12' left", "side", "yd", -12.0 * FOOT),
        ("3 meter", "side", "yd", 3.0),  # the r belongs to the unit
        ("-2", "side", "m", -2.0),
        ("−2", "side", "m", -2.0),
        ("0 L", "side", "m", 0.0),
        ("2 deg R", "spin axis", None, 0.03490658503988659),
        ("80", "ball speed", "mph", 80.0 * MILE_PER_HOUR),
        ("9000", "spin", "rpm", 9000.0 * RPM),
        ("12", "temperature", "°C", CELSIUS_ZERO + 12.0),
        ("1004", "pressure", "hPa", 100_400.0),
        ("85%", "humidity", None, 0.85),
    ],
)
def test_quantities(text: str, field: str, unit: str | None, si: float) -> None:
    assert read(text, field, unit) == pytest.approx(si, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "comma"),
    [("1.234,5", False), ("1,234.5", False), ("1.234,5", True), ("7,250", False), ("7.250", True)],
)
def test_a_mark_that_may_part_thousands_is_refused(text: str, comma: bool) -> None:
    message = rf"spin = '{text}' may have a thousands mark in it; write the number without one"
    with pytest.raises(BadInputError, match=message):
        read(text, "spin", "rpm", comma=comma)


def test_three_decimals_are_read_where_the_file_shows_its_mark() -> None:
    assert read("65,123", "carry", "m", comma=True) == pytest.approx(65.123)
    assert read("65.123", "carry", "m", comma=False) == pytest.approx(65.123)


@pytest.mark.parametrize("text", ["65,8", "65,8 m", "-0,512", "0,5", "1,2345", "9000,125"])
def test_commas_that_can_only_be_decimal(text: str) -> None:
    assert has_decimal_comma(["70", text])


@pytest.mark.parametrize("text", ["7,250", "65.8", "1,234,567", "12,50,3", "", "m,1"])
def test_commas_that_say_nothing(text: str) -> None:
    assert not has_decimal_comma([text])


@pytest.mark.parametrize(
    ("text", "field", "message"),
    [
        ("inf", "carry", "carry = 'inf' is not a number with a unit; write it like 77yd"),
        ("far", "carry", "carry = 'far' is not a number with a unit; write it like 77yd"),
        ("70 80", "carry", "carry = '70 80': '80' is not a unit of length"),
        ("1e999", "carry", "carry = inf m is outside"),
        ("70 C", "carry", "carry = '70 C': 'C' is not a unit of length"),
        ("-3 R", "side", "side = '-3 R' has both a minus sign and a side; leave one out"),
        ("31/12/2025", "time", "time = '31/12/2025' is not in ISO 8601, the year first"),
        ("01.08.2026 10:00", "time", "write it like 2026-05-31 17:45 or 2026-05-31T17:45+01:00"),
        ("-70", "carry", "carry = -70 m is outside 0 to 1000 m"),
        ("201", "side", "side = 201 m is outside -200 to 200 m"),
        ("10:30", "time", "time = '10:30' is not in ISO 8601"),
        ("water", "lie", "lie = 'water' is not one of: tee, fairway"),
        ("sideways", "shape", "shape = 'sideways' is not one of: draw, straight, cut"),
        ("home", "setting", "setting = 'home' is not one of: range, practice green, course, comp"),
    ],
)
def test_what_a_cell_cannot_be(text: str, field: str, message: str) -> None:
    with pytest.raises(BadInputError) as caught:
        read(text, field, "m")
    assert message in str(caught.value)


def test_times_keep_their_offset() -> None:
    summer = timezone(timedelta(hours=1))
    assert read("2026-05-31 17:45", "time") == datetime(2026, 5, 31, 17, 45)
    assert read("2026-05-31T17:45:10+01:00", "time") == datetime(
        2026, 5, 31, 17, 45, 10, tzinfo=summer
    )
    assert read("2026-05-31T17:45Z", "time") == datetime(2026, 5, 31, 17, 45, tzinfo=UTC)


def test_words() -> None:
    assert read("Light-Rough", "lie") is Lie.LIGHT_ROUGH
    assert read("LOW", "flight") is Flight.LOW
    assert read("Practice_Green", "setting") == "practice green"
    assert read(" thin, cold hands", "note") == " thin, cold hands"


def test_missing_bare_and_with_unit() -> None:
    assert all(map(is_missing, ["", "-", "--", "n/a", "NA", "NaN"]))
    assert not any(map(is_missing, ["0", "none", "inf", "—"]))
    side = FIELDS["side"]
    assert all(is_bare(text, side) for text in ["3", "3R", "-3,5 left", "1.234,5"])
    assert not any(is_bare(text, side) for text in ["3 m", "", "-", "R", "3 m R"])
    assert all(has_unit(text, side) for text in ["3 m", "3yd R", "-3 ' L"])
    assert not any(has_unit(text, side) for text in ["3", "3 R", "x m", "3 s"])
