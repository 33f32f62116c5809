"""What people type, turned into SI, or refused in one line."""

from math import pi, radians
from pathlib import Path

import pytest

from carrybook.app.forms.base import LieForm, pairs
from carrybook.app.forms.choice import SituationForm
from carrybook.app.forms.flight import FlightForm
from carrybook.app.forms.shots import ShotForm
from carrybook.app.forms.weather import AirForm, WindForm
from carrybook.base.errors import BadInputError
from carrybook.player.bag import Flight, Shape
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie, Moisture

WEDGE = {"club": "54", "loft": "54deg", "carry": "80m"}


def test_no_air_typed_is_the_reference_day() -> None:
    assert AirForm.of(temp=None, air=None).value() == REFERENCE_DAY


@pytest.mark.parametrize(
    "words",
    [
        "9C 85% 1004hPa",
        "1004hPa 9C 85%",
        "85%, 1004 hPa, 9 C",
        " 9c;85 %;1004HPA ",
        "+9C 85pct 100.4kPa",
        "9,0°C 85% 1004mbar",
    ],
)
def test_air_in_any_order(words: str) -> None:
    air = AirForm.of(air=words).value()
    assert air.temperature_k == pytest.approx(282.15)
    assert air.humidity == pytest.approx(0.85)
    assert air.pressure_pa == pytest.approx(100_400.0)


def test_parts_that_are_left_out_are_the_reference_day() -> None:
    assert AirForm.of(air="-3C").value() == Air(270.15, REFERENCE_DAY.pressure_pa, 0.5)
    assert AirForm.of(air="29.65inHg").value().pressure_pa == pytest.approx(100_406.4, abs=1.0)


def test_air_by_parts_and_in_one_string_are_the_same() -> None:
    apart = AirForm.of(temp="54F", humidity="40%", pressure="990hPa")
    assert apart == AirForm.of(air="54F 40% 990hPa") == AirForm.of(temp="54F", air="40% 990hPa")


REPORT = "ZZZZ 121030Z 24012G22KT 9999 SCT020 12/08 Q1015"


def test_air_as_forecasts_say_it() -> None:
    air = AirForm.of(
        temp="12C", dew_point="8C", sea_level_pressure="1015hPa", elevation="120m"
    ).value()
    assert air.humidity == pytest.approx(0.765, abs=0.002)
    assert air.pressure_pa == pytest.approx(100_065.0, abs=20.0)
    assert AirForm.of(air="12C", dew_point="8C").value().pressure_pa == REFERENCE_DAY.pressure_pa
    reported = AirForm.of(metar=REPORT, elevation="394ft").value()
    assert reported.pressure_pa == pytest.approx(air.pressure_pa, abs=2.0)
    assert reported.humidity == air.humidity


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"dew_point": "8C", "humidity": "80%"}, "dew point and humidity are two ways to say one"),
        ({"dew_point": "8C", "air": "9C 80%"}, "dew point and humidity are two ways to say one"),
        (
            {"sea_level_pressure": "1015hPa", "pressure": "1004hPa", "elevation": "9m"},
            "sea-level pressure and station pressure are two ways to say one thing; leave one out",
        ),
        ({"metar": REPORT, "temp": "9C"}, "weather report and temperature are two ways to say one"),
        ({"metar": REPORT, "air": "9C"}, "weather report and temperature are two ways to say one"),
        (
            {"forecast": "d.csv", "at": "09:00", "metar": REPORT, "elevation": "9m"},
            "forecast and weather report are two ways to say one thing; leave one out",
        ),
        ({"forecast": "d.csv", "at": "09:00", "air": "9C"}, "forecast and temperature are two"),
        ({"forecast": "d.csv"}, "forecast needs a time of the day; add it like --at 09:00"),
        ({"at": "09:00"}, "time = 09:00 has no forecast to go with it; add it like --forecast"),
        ({"forecast": "d.csv", "at": "9 am"}, "time = '9 am' is not a time of day; write it like"),
        ({"forecast": "d.csv", "at": "24:00"}, "time = '24:00' is not a time of day"),
        ({"metar": REPORT}, "weather report needs the height of the course above sea level"),
        ({"sea_level_pressure": "1015hPa"}, "sea-level pressure needs the height of the course"),
        ({"elevation": "120m"}, "elevation = 120m has no pressure at sea level to go with it"),
        ({"elevation": "120m", "pressure": "1004hPa"}, "elevation = 120m has no pressure at sea"),
        ({"sea_level_pressure": "29inHg", "elevation": "120"}, "elevation = 120 has no unit"),
        ({"sea_level_pressure": "700hPa", "elevation": "9m"}, "is outside 850 to 1090 hPa"),
        ({"metar": "sunny", "elevation": "120m"}, "weather report = 'sunny' cannot be read"),
    ],
)
def test_air_said_in_two_ways_or_by_half(typed: dict[str, str], message: str) -> None:
    with pytest.raises(BadInputError) as refused:
        AirForm.of(**typed)
    assert message in str(refused.value)


def test_air_whose_parts_cannot_be_together() -> None:
    form = AirForm.of(temp="10C", dew_point="12C")
    with pytest.raises(BadInputError, match="dew point = 12 C is above the air temperature, 10 C"):
        form.value()
    form = AirForm.of(metar=REPORT.replace("Q1015", "Q////"), elevation="120m")
    with pytest.raises(BadInputError, match="the weather report of ZZZZ has no pressure"):
        form.value()


@pytest.mark.parametrize(
    ("words", "named"),
    [
        ("9", "9 without a unit"),
        ("9C 85", "85 without a unit"),
        ("9C 85 1004", "85 without a unit"),
        ("9C 54F", "a second temperature, '54F',"),
        ("85% 40%", "a second fraction, '40%',"),
        ("mild", "'mild'"),
        ("9C mild", "'mild'"),
        ("9 bananas", "9bananas"),
        ("9C 12mph", "12mph"),
        ("nanC", "'nanC'"),
        ("", "''"),
    ],
)
def test_air_that_is_not_understood_is_shown_how_to_write(words: str, named: str) -> None:
    with pytest.raises(BadInputError) as refused:
        AirForm.of(air=words)
    assert str(refused.value).startswith(f"air = {words!r}: {named} is not understood")
    assert '"9C 85% 1004hPa"' in str(refused.value)


def test_a_part_that_is_given_twice_is_refused() -> None:
    with pytest.raises(BadInputError, match="a second temperature, '9C'"):
        AirForm.of(temp="12C", air="9C 85%")


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"temp": "80C"}, r"air temperature = 80 C is outside -25 to 50 C"),
        ({"temp": "52C"}, r"air temperature = 52 C is outside -25 to 50 C"),
        ({"pressure": "29.92"}, r"station pressure = 29.92 has no unit; write it like 1004hPa"),
        ({"pressure": "30hPa"}, r"station pressure = 30 hPa is outside 600 to 1100 hPa"),
        ({"humidity": "120%"}, r"relative humidity = 120 % is outside 0 to 100 %"),
        ({"air": "9C 120%"}, r"relative humidity = 120 % is outside 0 to 100 %"),
        ({"temp": "12yd"}, r"'yd' is not a unit of temperature; write it like 12C"),
    ],
)
def test_air_that_cannot_be(typed: dict[str, str], message: str) -> None:
    with pytest.raises(BadInputError, match=message):
        AirForm.of(**typed).value()


def test_wind_is_calm_unless_typed() -> None:
    assert WindForm.of().value().speed_mps == 0.0


def test_wind_in_si() -> None:
    wind = WindForm.of(wind="10mph", wind_from="90deg", surroundings="parkland").value()
    assert (wind.speed_mps, wind.from_rad) == pytest.approx((4.4704, pi / 2.0))
    assert (wind.roughness_m, wind.height_m, wind.gust_mps) == (0.5, 10.0, None)
    gusty = WindForm.of(wind="12mph", gust="20mph").value()
    assert gusty.gust_mps == pytest.approx(8.9408)


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"wind_from": "90deg"}, r"wind direction = 90deg has no wind; add it like --wind 12mph"),
        (
            {"wind_from": ""},
            r"wind direction = '' is not a number with a unit; write it like 30deg",
        ),
        ({"wind": "12"}, r"wind = 12 has no unit; write it like 5mph"),
        ({"gust": "18mph"}, r"gust = 18mph has no wind; add it like --wind 12mph"),
        ({"wind": "12mph", "gust": "18"}, r"gust = 18 has no unit; write it like 18mph"),
        ({"wind": "12mph", "gust": "5mps"}, r"gust = 5mps is below the mean wind, 12mph; leave"),
        ({"wind": "12mph", "gust": "120mph"}, r"gust = 120 mph is outside 0 to 100.7 mph"),
        ({"wind": "-5mph"}, r"wind = -5 mph is outside 0 to"),
        ({"wind": "90mph"}, r"wind = 90 mph is outside 0 to 67.11 mph"),
        ({"wind": "5mph", "surroundings": "city"}, r"surroundings = 'city' is not one of: open"),
    ],
)
def test_wind_that_cannot_be(typed: dict[str, str], message: str) -> None:
    with pytest.raises(BadInputError, match=message):
        WindForm.of(**typed).value()


def test_launch_in_si() -> None:
    form = FlightForm.of(
        ball_speed="30mps", launch="30deg", spin="9000rpm", spin_axis="-5deg", height_change="-6ft"
    )
    launch = form.value()
    assert launch.speed_mps == 30.0
    assert launch.launch_rad == pytest.approx(radians(30.0))
    assert launch.spin_rad_s == pytest.approx(9000.0 * pi / 30.0)
    assert launch.axis_rad == pytest.approx(radians(-5.0))
    assert launch.start_right_rad == 0.0
    assert form.height_change == pytest.approx(-1.8288)


def test_shot_in_si() -> None:
    shot = ShotForm.of(
        **WEDGE, flight="Low", shape="cut", partials="55..80m", cue=" quiet "
    ).value()
    assert (shot.label, shot.flight, shot.shape) == ("54 low cut", Flight.LOW, Shape.CUT)
    assert (shot.stock_carry_m, shot.shortest_m, shot.longest_m) == (80.0, 55.0, 80.0)
    assert shot.club.loft_rad == pytest.approx(radians(54.0))
    assert (shot.cue, shot.trusted) == ("quiet", True)


def test_partials_that_are_not_typed_stay_near_stock() -> None:
    shot = ShotForm.of(**WEDGE, trusted=False).value()
    assert (shot.shortest_m, shot.longest_m) == (pytest.approx(72.0), 80.0)
    assert not shot.trusted


@pytest.mark.parametrize(
    "text", ["50yd..82yd", "50..82yd", "50yd .. 82yd", "50 .. 82 yd", "150ft..82yd", "50.0..82,0yd"]
)
def test_partials_are_a_range(text: str) -> None:
    shot = ShotForm.of(club="54", loft="54deg", carry="80yd", partials=text).value()
    assert (shot.shortest_m, shot.longest_m) == pytest.approx((50 * 0.9144, 82 * 0.9144))


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"partials": "55yd"}, r"partials = '55yd' is not a range; write it like 55yd..82yd"),
        ({"partials": "..82yd"}, r"partials = '..82yd' is not a range"),
        ({"partials": "50yd...82yd"}, r"partials = '50yd...82yd' is not a range; write it like 55"),
        (
            {"partials": "nan..nan"},
            r"partials = 'nan..nan' is not a range; write it like 55yd..82yd",
        ),
        ({"partials": "-5yd..82yd"}, r"partials = '-5yd..82yd' is not a range"),
        ({"partials": "55yd..82C"}, r"longest partial = '82C': 'C' is not a unit of length"),
        ({"partials": "55..82"}, r"shortest partial = 55 has no unit; write it like 77yd"),
        ({"partials": "90m..99m"}, r"partials of 54 = 98 to 108 yd do not hold its stock carry"),
        ({"carry": "-80m"}, r"stock carry = -80 m is outside 0 to 1000 m"),
        ({"carry": "nan"}, r"stock carry = 'nan' is not a number with a unit; write it like 77yd"),
        ({"loft": "2deg"}, r"loft of club 54 = 2 deg is outside 7 to 70 deg"),
        ({"loft": "54"}, r"loft = 54 has no unit; write it like 30deg"),
        ({"flight": "moon"}, r"flight = 'moon' is not one of: low, stock, high"),
        ({"shape": "hook"}, r"shape = 'hook' is not one of: draw, straight, cut"),
        ({"club": " "}, r"a club needs a name of 1 to 24 characters"),
        ({"cue": "x" * 201}, r"cue of 54 has 201 characters; at most 200"),
    ],
)
def test_shots_that_cannot_be(typed: dict[str, str], message: str) -> None:
    with pytest.raises(BadInputError, match=message):
        ShotForm.of(**WEDGE | typed).value()


def test_lie_in_words() -> None:
    assert LieForm.of() == LieForm(lie=Lie.FAIRWAY, moisture=Moisture.DRY)
    ball = LieForm.of(lie="Light-Rough", moisture="WET")
    assert (ball.lie, ball.moisture) == (Lie.LIGHT_ROUGH, Moisture.WET)
    with pytest.raises(BadInputError, match=r"lie = 'plugged' is not one of: tee, fairway"):
        LieForm.of(lie="plugged")


def test_situation_in_si() -> None:
    asked = {"map": Path("m"), "hole": "4", "hole_location": "24 on, 5 left", "number": "88yd"}
    form = SituationForm.of(**asked, firmness="105g", green_speed="3m", off_line="-10deg")
    assert form.number == pytest.approx(80.4672)
    assert (form.firmness, form.green_speed) == ((105.0, 5.0), 3.0)
    assert form.off_line == pytest.approx(radians(-10.0))
    assert SituationForm.of(**asked).firmness == (90.0, 10.0)
    with pytest.raises(BadInputError, match=r"green speed = 30 ft is outside 3.937 to 18.04 ft"):
        SituationForm.of(**asked, green_speed="30ft")


def test_a_checked_form_does_not_change() -> None:
    with pytest.raises(ValueError, match="frozen"):
        LieForm.of().lie = Lie.TEE  # type: ignore[misc]


def test_pairs() -> None:
    assert pairs(["carry=Carry flat", " spin = a=b "], "column", "x=y") == {
        "carry": "Carry flat",
        "spin": "a=b",
    }
    assert pairs(["total="], "column", "x=y") == {"total": ""}


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        (["carry"], r"column = 'carry' is not understood; write it like x=y"),
        (["=yd"], r"column = '=yd' is not understood"),
        (["carry=a", "carry=b"], r"column names 'carry' twice"),
    ],
)
def test_pairs_that_are_none(typed: list[str], message: str) -> None:
    with pytest.raises(BadInputError, match=message):
        pairs(typed, "column", "x=y")
