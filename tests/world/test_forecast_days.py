"""Forecasts of several days: each day by itself, as read; units, gaps and disorder refused."""

from datetime import date, time
from pathlib import Path

import pytest

from carrybook.base.constants import MILE_PER_HOUR
from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.world.air import Air
from carrybook.world.forecast import Hour
from carrybook.world.forecast_days import DayForecast, day_of_text, read_days

HEADER = (
    "time,temperature (C),humidity (%),station pressure (hPa),wind (mph),wind from (deg),rain (mm)"
)
ROWS = (
    "2026-05-30T09:00,9,85,1004,12,240,0",
    "2026-05-30T10:00,10,80,1004.5,13,250,1.5",
    "2026-05-31T09:00,54F,60,1012,3,90,-",
)
THIRTIETH, LAST = date(2026, 5, 30), date(2026, 5, 31)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "week.csv"


def read(file: Path, *rows: str, header: str = HEADER, **more: object) -> tuple[DayForecast, ...]:
    file.write_text("\n".join([header, *rows]) + "\n", "utf-8")
    return read_days(file, **more)  # type: ignore[arg-type]


def test_days_come_apart(file: Path) -> None:
    first, second = read(file, *ROWS)
    assert (first.day, second.day) == (THIRTIETH, LAST)
    assert [hour.at for hour in first.hours] == [time(9), time(10)]
    assert first.hours[1].rain_m == pytest.approx(1.5e-3)
    assert (first.hours[0].rain_m, second.hours[0].rain_m) == (0.0, None)
    assert second.hours[0].air.temperature_k == pytest.approx(285.372, abs=1e-3)
    assert second.hours[0].wind_speed_mps == pytest.approx(3.0 * MILE_PER_HOUR)


def test_each_day_keeps_its_rows_as_read_and_reads_the_same_again(file: Path) -> None:
    for told in read(file, *ROWS, read_on=date(2026, 5, 27)):
        again = day_of_text(told.text, told.day, told.file, None, told.read_on)
        assert again == told
    assert told.text == f"{HEADER}\n{ROWS[2]}\n"


def test_days_may_come_in_any_order_and_hours_may_not(file: Path) -> None:
    days = read(file, ROWS[2], ROWS[0], ROWS[1])
    assert [told.day for told in days] == [THIRTIETH, LAST]
    with pytest.raises(BadInputError, match=r"week.csv: time = 09:00:00 on 2026-05-30 does not co"):
        read(file, ROWS[1], ROWS[0])


def test_a_day_without_dates_needs_one(file: Path) -> None:
    row = ROWS[0].partition("T")[2]
    (told,) = read(file, row, day=LAST)
    assert told.day == LAST
    with pytest.raises(BadInputError, match=r"does not say which day it is for; .*--date 2026"):
        read(file, row)
    with pytest.raises(BadInputError, match=r"has rows for 2026-05-30, and --date says 2026-05-31"):
        read(file, ROWS[0], day=LAST)


def test_times_of_one_day_have_one_offset(file: Path) -> None:
    odd = ROWS[1].replace("10:00", "10:00+01:00")
    with pytest.raises(BadInputError, match=r"times of 2026-05-30 have different offsets"):
        read(file, ROWS[0], odd)


@pytest.mark.parametrize(
    ("header", "row", "said"),
    [
        (HEADER.replace("(C)", "(mph)"), ROWS[0], r"row 2: temperature = '9': 'mph' is not a unit"),
        (HEADER.replace(" (C)", ""), ROWS[0], r"row 2: temperature = 9 has no unit; .* like 12C"),
        (HEADER.replace("(mm)", "(hPa)"), ROWS[0], r"row 2: rain = '0': 'hPa' is not a unit of ra"),
        (HEADER.replace("(mm)", "(in)"), ROWS[1].replace("1.5", "20"), r"rain = 20 in is outside"),
        (HEADER, ROWS[0].replace("1004", "29.7"), r"station pressure = 29.7 hPa is outside 600"),
        (HEADER.replace("wind (mph),", ""), "", r"needs a column wind"),
    ],
)
def test_wrong_units_and_columns_are_named(file: Path, header: str, row: str, said: str) -> None:
    with pytest.raises(BadInputError, match=said):
        read(file, row, header=header)


def test_sea_level_pressure_needs_the_height_and_keeps_it(file: Path) -> None:
    header = HEADER.replace("station pressure", "sea-level pressure")
    with pytest.raises(BadInputError, match="say how high the course lies"):
        read(file, ROWS[0], header=header)
    (told,) = read(file, ROWS[0], header=header, elevation_m=300.0)
    assert told.elevation_m == 300.0
    assert told.hours[0].air.pressure_pa == pytest.approx(100_400.0 - 3_530.0, abs=60.0)
    again = day_of_text(told.text, told.day, told.file, told.elevation_m, None)
    assert again.hours == told.hours


def test_more_rain_than_ever_fell() -> None:
    with pytest.raises(OutOfRangeError, match=r"rain = 400 mm is outside 0 to 305 mm"):
        Hour(time(9), Air(288.15, 1e5, 0.5), 0.0, rain_m=0.4)
