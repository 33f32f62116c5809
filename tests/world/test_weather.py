"""Weather reports in the coding of WMO FM 15, of stations that do not exist."""

from contextlib import suppress
from math import pi, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from carrybook.base.constants import KNOT
from carrybook.base.errors import BadInputError, OutOfRangeError
from carrybook.world.air import air_from_dew_point, station_pressure
from carrybook.world.weather import read_metar
from carrybook.world.wind import Wind, wind_on_line

PLAIN = "METAR ZZZZ 121030Z 24012KT 9999 SCT020 12/08 Q1015"


def test_a_plain_report() -> None:
    report = read_metar(PLAIN)
    assert (report.station, report.at_text, report.raw) == ("ZZZZ", "121030Z", PLAIN)
    assert report.temperature_k == pytest.approx(285.15)
    assert report.dew_point_k == pytest.approx(281.15)
    assert report.qnh_pa == pytest.approx(101_500.0)
    assert report.wind_speed_mps == pytest.approx(12.0 * KNOT, rel=1e-5)
    assert report.wind_from_true_rad == pytest.approx(radians(240.0))
    assert report.gust_mps is None
    assert not report.calm
    assert not report.variable


@pytest.mark.parametrize(
    "text",
    [
        "ZZZZ 121030Z 24012KT 9999 SCT020 12/08 Q1015",
        "metar zzzz 121030z 24012kt 9999 sct020 12/08 q1015=",
        "METAR COR ZZZZ 121030Z 24012KT 9999 SCT020 12/08 Q1015",
        "METAR ZZZZ 121030Z COR 24012KT 9999 SCT020 12/08 Q1015",
        "SPECI ZZZZ 121030Z AUTO 24012KT 9999NDV SCT020///  12/08 Q1015 =",
        "METAR ZZZZ 121030Z 24012KT 210V280 CAVOK 12/08 Q1015 NOSIG",
        "METAR ZZZZ 121030Z 24012KT 0800 R24/1000U -RADZ BR OVC003 12/08 Q1015 RERA",
        "METAR ZZZZ 121030Z 24012KT 9999 FEW020CB BKN100 12/08 Q1015 TEMPO 29030G50KT 3000 TSRA",
        "METAR ZZZZ 121030Z 24012KT 9999 12/08 Q1015 RMK what only people read T99 (/)",
        "METAR ZZZZ 121030Z AUTO 24012KT 9999NDV NCD 12/08 Q1015 RE// WS R24 W12/S4",
        "METAR ZZZZ 121030Z 24012KT CAVOK 12/08 Q1015 W///H12= ",
        "METAR ZZZZ\n   121030Z 24012KT CAVOK\n   12/08 Q1015=\n",
        "METAR ZZZZ 121030Z AUTO 24012KT //// // ////// 12/08 Q1015",
    ],
)
def test_reports_of_the_same_air_and_wind(text: str) -> None:
    report, plain = read_metar(text), read_metar(PLAIN)
    assert report.air(0.0) == plain.air(0.0)
    assert report.wind(0.0, 0.03) == plain.wind(0.0, 0.03)
    assert report.at_text == "121030Z"


@pytest.mark.parametrize(
    ("wind", "speed", "gust"),
    [
        ("24012G25KT", 12.0 * KNOT, 25.0 * KNOT),
        ("24006MPS", 6.0, None),
        ("24006G13MPS", 6.0, 13.0),
        ("240P99KT", 99.0 * KNOT, None),
        ("240105KT", 105.0 * KNOT, None),
        ("24040KMH", 40.0 / 3.6, None),
    ],
)
def test_wind_in_all_units(wind: str, speed: float, gust: float | None) -> None:
    report = read_metar(PLAIN.replace("24012KT", wind))
    assert report.wind_speed_mps == pytest.approx(speed, rel=1e-5)
    assert report.gust_mps == (None if gust is None else pytest.approx(gust, rel=1e-5))
    assert report.wind_from_true_rad == pytest.approx(radians(240.0))


def test_calm_variable_and_missing_wind() -> None:
    calm = read_metar(PLAIN.replace("24012KT", "00000KT"))
    assert (calm.calm, calm.variable, calm.wind_from_true_rad) == (True, False, None)
    assert calm.wind(1.0, 0.1) == Wind(0.0, roughness_m=0.1)
    variable = read_metar(PLAIN.replace("24012KT", "VRB04KT"))
    assert (variable.calm, variable.variable) == (False, True)
    with pytest.raises(BadInputError, match=r"wind = 2.06 m/s has no direction"):
        variable.wind(0.0, 0.03)
    missing = read_metar(PLAIN.replace("24012KT", "/////KT"))
    assert (missing.calm, missing.variable, missing.wind_speed_mps) == (False, False, None)
    with pytest.raises(BadInputError, match=r"the weather report of ZZZZ has no wind"):
        missing.wind(0.0, 0.03)


# A line of play to the west, 270: wind from the west blows into, from the north from the right.
@pytest.mark.parametrize(("come_from", "seen"), [(270, 0), (360, 90), (90, 180), (180, 270)])
def test_wind_as_seen_along_the_line(come_from: int, seen: int) -> None:
    report = read_metar(PLAIN.replace("24012KT", f"{come_from:03d}12KT"))
    wind = report.wind(radians(270.0), 0.1)
    assert wind.from_rad % (2.0 * pi) == pytest.approx(radians(seen), abs=1e-9)
    assert (wind.roughness_m, wind.height_m) == (0.1, 10.0)


def test_wind_on_line_turns_with_the_line() -> None:
    assert wind_on_line(5.0, 1.0, 1.0, 0.03) == Wind(5.0, 0.0)
    assert wind_on_line(5.0, 0.0, 1.0, 0.03).from_rad == pytest.approx(2.0 * pi - 1.0)


def test_frost_tenths_and_inches() -> None:
    text = "ZZZZ 121030Z 00000KT 10SM CLR 04/M03 A2992 RMK AO2 SLP132 T00391033"
    report = read_metar(text)
    assert report.temperature_k == pytest.approx(273.15 + 3.9)
    assert report.dew_point_k == pytest.approx(273.15 - 3.3)
    assert report.qnh_pa == pytest.approx(2992 * 33.86389, abs=2.0)
    assert read_metar(text.partition(" RMK")[0]).dew_point_k == pytest.approx(270.15)


def test_air_at_the_elevation_of_the_course() -> None:
    report = read_metar(PLAIN)
    expected = air_from_dew_point(285.15, 281.15, station_pressure(101_500.0, 300.0))
    assert report.air(300.0) == expected
    assert expected.humidity == pytest.approx(0.765, abs=0.002)
    assert expected.pressure_pa == pytest.approx(97_941.0, abs=20.0)


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        ("ZZZZ 121030Z 24012KT 9999 12/08 Q////", "pressure"),
        ("ZZZZ 121030Z 24012KT 9999 12/08", "pressure"),
        ("ZZZZ 121030Z 24012KT 9999 12/// Q1015", "dew point"),
        ("ZZZZ 121030Z 24012KT 9999 ///// Q1015", "temperature and no dew point"),
    ],
)
def test_air_that_was_not_reported(text: str, missing: str) -> None:
    with pytest.raises(BadInputError, match=rf"report of ZZZZ has no {missing}; give the air in"):
        read_metar(text).air(0.0)


def test_rounding_may_lift_the_dew_point_a_little() -> None:
    report = read_metar(PLAIN.replace("12/08", "12/13"))
    assert report.air(0.0).humidity == 1.0


def test_elevation_is_checked() -> None:
    with pytest.raises(OutOfRangeError, match="elevation = 9000 m"):
        read_metar(PLAIN).air(9000.0)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "it has 0 characters"),
        ("=", "it has 1 characters"),
        ("x " * 600, "it has 1199 characters"),
        ("sunny, a light breeze", "it has no day and time like 121030Z"),
        ("ZZZZ 321030Z 24012KT 12/08 Q1015", "it has no day and time"),
        ("121030Z 24012KT 12/08 Q1015", "it has no station"),
        ("METAR ZZZZ 121030Z NIL", "it has no station, or no data"),
        ("TAF ZZZZ 121030Z 1212/1312 24012KT CAVOK", "is not understood"),
        (PLAIN.replace("9999", "surprise"), "'SURPRISE' is not understood"),
        (PLAIN.replace("24012KT", "24012"), "'24012' is not a wind with its unit"),
        (PLAIN.replace("24012KT", "VRB04"), "'VRB04' is not a wind with its unit"),
        (PLAIN.replace("24012KT", "99912KT"), "a group has no such value"),
        (PLAIN.replace("12/08", "12/18"), "its dew point is above its temperature"),
    ],
)
def test_what_is_no_report_is_one_line(text: str, why: str) -> None:
    with pytest.raises(BadInputError) as refused:
        read_metar(text)
    message = str(refused.value)
    assert why in message
    assert message.startswith("weather report = ")
    assert message.endswith("write it like 'ZZZZ 121030Z 24012KT 9999 SCT020 12/08 Q1015'")
    assert "\n" not in message
    assert len(message) < 400


@pytest.mark.parametrize(
    ("group", "wrong", "message"),
    [
        ("Q1015", "Q9999", "sea-level pressure of the report = 9999 hPa is outside 850 to 1090"),
        ("12/08", "99/08", "air temperature of the report = 99 C is outside -80 to 60 C"),
    ],
)
def test_reports_of_no_earthly_air(group: str, wrong: str, message: str) -> None:
    with pytest.raises(OutOfRangeError, match=message):
        read_metar(PLAIN.replace(group, wrong))


def test_a_report_does_not_depend_on_the_clock() -> None:
    for day in ("01", "29", "31"):  # a package that guessed the month would trip over the last
        assert read_metar(PLAIN.replace("121030Z", f"{day}2359Z")).at_text == f"{day}2359Z"


GROUPS = [
    "METAR", "SPECI", "ZZZZ", "121030Z", "AUTO", "COR", "NIL", "24012KT", "VRB04KT", "00000KT",
    "/////KT", "24012G25KT", "210V280", "CAVOK", "9999", "0800", "////", "R24/1000U", "-RA",
    "+TSRA", "BR", "OVC003", "FEW020CB", "//////", "12/08", "M01/M02", "/////", "12///", "Q1015",
    "A2992", "Q////", "RMK", "T00391033", "TEMPO", "NOSIG", "=", "RERA", "WS", "R/SNOCLO", "1/2SM",
]  # fmt: skip


def only_bad_input(text: str) -> None:
    with suppress(BadInputError):
        report = read_metar(text)
        report.air(100.0)
        assert report.wind(1.0, 0.03).speed_mps <= 30.0


@given(st.lists(st.sampled_from(GROUPS), max_size=14))
def test_shuffled_groups_are_read_or_refused(groups: list[str]) -> None:
    only_bad_input(" ".join(groups))


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused(text: str) -> None:
    only_bad_input(text)
    only_bad_input(f"ZZZZ 121030Z {text}")


@given(st.data())
def test_a_damaged_report_is_read_or_refused(data: st.DataObject) -> None:
    text = PLAIN + " RMK T01230080"
    at = data.draw(st.integers(0, len(text) - 1))
    with_what = data.draw(st.text("0123456789/MQAKTGPVRBSZ= -+", max_size=6))
    only_bad_input(text[:at] + with_what + text[at + data.draw(st.integers(0, 4)) :])
