"""Forecasts of one day by the hour."""

from contextlib import suppress
from datetime import time
from math import radians
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from carrybook.base.constants import KNOT, MILE_PER_HOUR
from carrybook.base.errors import BadInputError
from carrybook.world.air import Air, air_from_dew_point, station_pressure
from carrybook.world.forecast import Hour, hour_at, read_forecast
from carrybook.world.wind import Wind

HEADER = (
    "time,temperature (C),humidity (%),station pressure (hPa),wind (mph),wind from (deg),gust (mph)"
)
ROW = "07:00,9,85,1004,12,240,20"
PLAIN = f"{HEADER}\n{ROW}\n08:00,10,80,1004.5,13,250,\n"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "tuesday.csv"


def read(file: Path, text: str, elevation: float | None = None) -> tuple[Hour, ...]:
    file.write_text(text, "utf-8")
    return read_forecast(file, elevation_m=elevation)


def test_a_plain_day(file: Path) -> None:
    first, second = read(file, PLAIN)
    assert first.at == time(7)
    assert first.air.temperature_k == pytest.approx(282.15)
    assert first.air.pressure_pa == pytest.approx(100_400.0)
    assert first.air.humidity == pytest.approx(0.85)
    assert first.wind_speed_mps == pytest.approx(12.0 * MILE_PER_HOUR)
    assert first.wind_from_true_rad == pytest.approx(radians(240.0))
    assert first.gust_mps == pytest.approx(20.0 * MILE_PER_HOUR)
    assert (second.at, second.gust_mps) == (time(8), None)


@pytest.mark.parametrize(
    "text",
    [
        "\ufeff" + PLAIN.replace("\n", "\r\n"),
        PLAIN.replace(",", ";"),
        PLAIN.replace(",", "\t"),
        PLAIN.replace("\n07", "\n\n,,,,,,\n07"),
        PLAIN.upper().replace("STATION PRESSURE", "Station_Pressure"),
        PLAIN.replace("wind from (deg)", "Wind Direction [deg true]"),
        PLAIN.replace("07:00", "7:00").replace("time", "Time"),
        PLAIN.replace("time,", "sky,time,").replace("\n0", "\nfew clouds,0"),
        PLAIN.replace("temperature (C)", "temp").replace(",9,", ",9C,").replace(",10,", ",50F,"),
    ],
)
def test_the_same_day_written_otherwise(file: Path, tmp_path: Path, text: str) -> None:
    (first, second), plain = read(file, text), read(tmp_path / "plain.csv", PLAIN)
    assert first == plain[0]
    assert second.air.temperature_k == pytest.approx(283.15)
    assert second.wind_speed_mps == plain[1].wind_speed_mps


def test_dew_point_and_sea_level_pressure(file: Path) -> None:
    text = (
        "time,temp (C),dew point (C),QNH (hPa),wind (kt),wind from (deg)\n07:00,12,8,1015,12,240\n"
    )
    (hour,) = read(file, text, 300.0)
    expected = air_from_dew_point(285.15, 281.15, station_pressure(101_500.0, 300.0))
    assert hour.air.pressure_pa == pytest.approx(expected.pressure_pa)
    assert hour.air.humidity == pytest.approx(expected.humidity)
    assert hour.wind_speed_mps == pytest.approx(12.0 * KNOT)
    with pytest.raises(BadInputError, match=r"has its pressure at sea level; say how high"):
        read(file, text)


def test_dates_and_offsets(file: Path) -> None:
    dated = PLAIN.replace("07:00", "2026-05-31T07:00+01:00").replace(
        "08:00", "2026-05-31 08:00+01:00"
    )
    first, second = read(file, dated)
    assert (first.at.hour, second.at.isoformat()) == (7, "08:00:00+01:00")


@pytest.mark.parametrize(
    ("speed", "direction"), [("0", ""), ("0", "-"), ("0", "240"), ("0", "VRB")]
)
def test_calm_has_no_direction(file: Path, speed: str, direction: str) -> None:
    (hour,) = read(file, f"{HEADER}\n07:00,9,85,1004,{speed},{direction},\n")
    assert hour.wind_from_true_rad is None
    assert hour.wind(1.0, 0.03) == Wind(0.0)


def test_wind_on_the_line(file: Path) -> None:
    first, _ = read(file, PLAIN)
    assert first.wind(radians(150.0), 0.1).from_rad == pytest.approx(radians(90.0))
    (variable,) = read(file, f"{HEADER}\n{ROW.replace('240', 'variable')}\n")
    with pytest.raises(BadInputError, match="has no direction"):
        variable.wind(0.0, 0.03)


BAD = [
    ("", "tuesday.csv: the first row needs a column time"),
    (HEADER, "tuesday.csv holds no hours"),
    (PLAIN.replace("time,", "when,"), "the first row needs a column time"),
    (PLAIN.replace("humidity", "damp"), "the first row needs a column humidity or dew point"),
    (PLAIN.replace("station pressure", "pressure"), "'pressure' may be meant at the course"),
    (
        PLAIN.replace("gust (mph)", "wind (kt)"),
        "tuesday.csv has two columns for wind; leave one out",
    ),
    (
        PLAIN.replace("gust (mph)", "dew point (C)"),
        "has both humidity and dew point; leave one out",
    ),
    (PLAIN.replace("gust (mph)", "QNH (hPa)"), "has both station pressure and sea-level pressure"),
    (PLAIN.replace("(mph)", ""), "row 2: wind = 12 has no unit; write it like 5mph"),
    (
        PLAIN.replace("(mph)", "(furlongs)"),
        "row 2: wind = '12': 'furlongs' is not a unit of wind speed",
    ),
    (PLAIN.replace(",10,", ",ten,"), "row 3: temperature = 'ten' is not a number with a unit"),
    (PLAIN.replace(",10,", ",70,"), "row 3: temperature = 70 C is outside -25 to 50 C"),
    (PLAIN.replace(",10,", ",,"), "row 3: temperature is missing"),
    (PLAIN.replace("250", ""), "row 3: wind from is missing"),
    (PLAIN.replace("250", "-10"), "row 3: wind from = -10 is outside 0 to 360 deg"),
    (PLAIN.replace("250", "400"), "row 3: wind from = 400 deg is outside"),
    (
        PLAIN.replace("08:00", "noon"),
        "row 3: time = 'noon' is not a time of day; write it like 07:00",
    ),
    (PLAIN.replace("08:00", "07:00"), "time = 07:00:00 does not come after 07:00:00"),
    (PLAIN.replace("08:00", "06:30"), "time = 06:30:00 does not come after 07:00:00"),
    (PLAIN.replace("08:00", "08:00+02:00"), "some times have another offset than the first"),
    (
        PLAIN.replace("07:00", "2026-05-30 07:00").replace("08:00", "2026-05-31 08:00"),
        "more than one day",
    ),
    (PLAIN.replace("08:00", "2026-05-31 08:00"), "tuesday.csv covers more than one day"),
    (
        PLAIN.replace(",10,", "," + "9" * 5000 + ","),
        "row 3: temperature = '999999999999999999999999...'",
    ),
    (HEADER + "\n" + ROW[:12] + "\n", "row 2: station pressure = 1 hPa is outside 600 to 1100 hPa"),
    (HEADER + f"\n{ROW}" * 1441, "tuesday.csv has 1441 rows; a day has 1440 at most"),
]


@pytest.mark.parametrize(("text", "message"), BAD)
def test_a_bad_file_is_one_line_and_nothing_is_read(file: Path, text: str, message: str) -> None:
    with pytest.raises(BadInputError) as refused:
        read(file, text)
    assert message in str(refused.value)
    assert "\n" not in str(refused.value)


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(BadInputError, match=r"cannot read .*: No such file"):
        read_forecast(tmp_path / "none.csv")
    with pytest.raises(BadInputError, match=r"cannot read .*: Is a directory"):
        read_forecast(tmp_path)
    (tmp_path / "binary.csv").write_bytes(b"\xff\xfe\x00\x81")
    with pytest.raises(BadInputError, match=r"binary.csv is not a text file in UTF-8"):
        read_forecast(tmp_path / "binary.csv")


def test_hours_check_themselves() -> None:
    air = Air(283.15)
    for wrong in ((40.0, None, None), (5.0, 7.0, None), (5.0, 1.0, -1.0)):
        with pytest.raises(BadInputError, match="is outside"):
            Hour(time(7), air, *wrong)


@given(
    cells=st.lists(st.text(st.characters(blacklist_categories=("Cs",)), max_size=12), max_size=8)
)
def test_any_row_is_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, cells: list[str]
) -> None:
    file = tmp_path_factory.getbasetemp() / "fuzz.csv"
    for text in (f"{HEADER}\n{','.join(cells)}\n", f"{','.join(cells)}\n{ROW}\n"):
        with suppress(BadInputError):
            assert read(file, text)


@given(st.data())
def test_a_damaged_file_is_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    at = data.draw(st.integers(0, len(PLAIN) - 1))
    with_what = data.draw(st.text('0123456789,;:"()\n\r\x00 -+.', max_size=6))
    text = PLAIN[:at] + with_what + PLAIN[at + data.draw(st.integers(0, 5)) :]
    with suppress(BadInputError):
        assert read(tmp_path_factory.getbasetemp() / "damaged.csv", text)


def test_an_hour_is_found_by_its_time_or_those_there_are_listed(file: Path) -> None:
    hours = read(file, PLAIN)
    assert hour_at(hours, time(8)) == hours[1]
    with pytest.raises(BadInputError) as refused:
        hour_at(hours, time(9, 30))
    assert str(refused.value) == "time = 09:30 is not in the forecast; it has 07:00, 08:00"


def test_local_time_counts_where_the_file_has_an_offset(file: Path) -> None:
    (hour,) = read(file, f"{HEADER}\n2026-05-31T07:00+02:00{ROW[5:]}\n")
    assert hour_at([hour], time(7)) == hour


def test_a_long_list_of_times_is_cut(file: Path) -> None:
    rows = [f"{m // 60:02}:{m % 60:02}{ROW[5:]}" for m in range(0, 1440, 30)]
    hours = read(file, "\n".join([HEADER, *rows]))
    with pytest.raises(BadInputError, match="it has 48 times from 00:00 to 23:30"):
        hour_at(hours, time(9, 1))


def test_gusts_of_an_hour_go_with_its_wind(file: Path) -> None:
    hour, calmer = read(file, PLAIN)
    assert hour.wind(1.0, 0.03).gust_mps == hour.gust_mps
    assert calmer.wind(1.0, 0.03).gust_mps is None
