"""Phrases: units, rounding, signs, wind by the compass, what the ball does after landing."""

from dataclasses import replace
from math import pi, radians

import pytest

from carrybook.artefacts import words as w
from carrybook.base.constants import CELSIUS_ZERO, FOOT, MILE_PER_HOUR, YARD
from carrybook.base.errors import BadInputError
from carrybook.world.air import Air
from carrybook.world.hole import HoleLocation
from carrybook.world.wind import CALM, Wind


def test_units_go_by_two_names_only() -> None:
    assert w.units_named("yards") is w.YARDS
    assert w.units_named("metres") is w.METRES
    with pytest.raises(BadInputError, match="units = 'ells' is not one of: yards, metres"):
        w.units_named("ells")


@pytest.mark.parametrize(
    ("yards", "words"),
    [(106.4, "106 yd"), (9.96, "10 yd"), (9.94, "9.9 yd"), (5.64, "5.6 yd"), (0.0, "0.0 yd")],
)
def test_distance_is_whole_from_ten_up(yards: float, words: str) -> None:
    assert w.distance(yards * YARD, w.YARDS) == words


def test_distance_in_metres() -> None:
    assert w.distance(106.4 * YARD, w.METRES) == "97 m"
    assert w.distance(5.64, w.METRES) == "5.6 m"


def test_short_distances_are_whole_feet_or_tenths_of_a_metre() -> None:
    assert w.short_distance(14.3 * FOOT, w.YARDS) == "14 ft"
    assert w.short_distance(14.3 * FOOT, w.METRES) == "4.4 m"
    assert w.short_distance(24.2, w.METRES) == "24 m"


@pytest.mark.parametrize(
    ("yards", "words", "brief"),
    [
        (6.2, "6 yd short of the hole", "6 short"),
        (-3.1, "3 yd past the hole", "3 past"),
        (0.04, "pin high", "pin high"),
        (-0.04, "pin high", "pin high"),
    ],
)
def test_landing_spot_in_depth(yards: float, words: str, brief: str) -> None:
    assert w.short_or_past(yards * YARD, w.YARDS) == words
    assert w.short_or_past(yards * YARD, w.YARDS, brief=True) == brief


@pytest.mark.parametrize(
    ("degrees", "units", "told"),
    [
        (0.0, w.YARDS, "on the line to the hole, 3 paces in front"),
        (2.65, w.YARDS, "5 in right of the line to the hole, 3 paces in front"),
        (-2.65, w.METRES, "13 cm left of the line to the hole, 3 paces in front"),
    ],
)
def test_a_spot_in_front_to_start_over(degrees: float, units: w.Units, told: str) -> None:
    assert w.spot_words(radians(degrees), units) == told  # 3 yd tan(2.65 deg) = 5.0 in


def test_sides_and_start_lines() -> None:
    assert w.sideways(1.2 * YARD, w.YARDS) == "1 yd right"
    assert w.sideways(-1.2 * YARD, w.YARDS) == "1 yd left"
    assert w.sideways(-0.01, w.YARDS) == "on the line"
    assert w.start_words(-2.0 * YARD, w.YARDS) == "2 yd left of the hole"
    assert w.start_words(0.0, w.YARDS) == "at the hole"


def test_hole_location_names_the_nearer_side() -> None:
    at = HoleLocation(0.0, 0.0, 24 * YARD, from_left_m=13 * YARD, from_right_m=5 * YARD, behind_m=6)
    assert w.location_words(at) == "24 on, 5 from the right"
    assert w.location_words(replace(at, from_left_m=4 * YARD)) == "24 on, 4 from the left"


def test_slopes() -> None:
    assert w.slope_words(4 * FOOT / 12, w.YARDS) == "up 4 in"
    assert w.slope_words(-0.10, w.METRES) == "down 10 cm"
    assert w.slope_words(0.004, w.METRES) == "level"


@pytest.mark.parametrize(
    ("share", "words"),
    [(0.0, "0 %"), (0.004, "under 1 %"), (0.083, "8 %"), (0.996, "over 99 %"), (1.0, "100 %")],
)
def test_per_cents_are_whole(share: float, words: str) -> None:
    assert w.per_cent(share) == words


@pytest.mark.parametrize(
    ("behind", "se", "words"),
    [
        (0.094, 0.004, "+0.094 +- 0.004"),
        (0.094, 0.006, "+0.09 +- 0.01"),
        (-0.011, 0.009, "-0.01 +- 0.01"),
        (0.0, 0.0, "+0.000 +- under 0.001"),
        (-0.001, 0.009, "+0.00 +- 0.01"),
    ],
)
def test_differences_have_three_decimals_only_when_that_well_known(
    behind: float, se: float, words: str
) -> None:
    assert w.difference(behind, se) == words


def test_standard_error_never_reads_zero() -> None:
    assert w.standard_error(0.012) == "+- 0.01"
    assert w.standard_error(0.003) == "+- under 0.01"


@pytest.mark.parametrize(
    ("degrees", "call"),
    [
        (0, "into"),
        (45, "quartering into from the right"),
        (90, "across from the right"),
        (135, "quartering helping from the right"),
        (180, "helping"),
        (225, "quartering helping from the left"),
        (270, "across from the left"),
        (315, "quartering into from the left"),
        (-45, "quartering into from the left"),
        (350, "into"),
        (67, "quartering into from the right"),
        (68, "across from the right"),
    ],
)
def test_wind_is_called_from_behind_the_ball(degrees: float, call: str) -> None:
    wind = Wind(8.0 * MILE_PER_HOUR, degrees * pi / 180.0)
    assert w.wind_words(wind, w.YARDS) == f"8 mph {call}"


def test_wind_that_is_not_felt() -> None:
    assert w.wind_words(CALM, w.YARDS) == "calm"
    assert w.wind_words(Wind(3.6), w.METRES) == "4 m/s into"
    assert w.wind_words(Wind(3.6, gust_mps=8.2), w.METRES) == "4 m/s into, gusts to 8 m/s"
    assert w.wind_words(Wind(0.0, gust_mps=8.2), w.METRES) == "calm, gusts to 8 m/s"


def test_air_in_both_temperature_units() -> None:
    air = Air(12.0 + CELSIUS_ZERO, 100_400.0, 0.7)
    assert w.air_words(air) == "12 C (54 F), 1004 hPa, 70 % humidity"
    assert w.air_words(Air(CELSIUS_ZERO - 0.3)).startswith("0 C (31 F)")


@pytest.mark.parametrize(
    ("firmness", "word"),
    [(79, "soft"), (80, "medium"), (99, "medium"), (100, "firm"), (120, "very firm")],
)
def test_firmness(firmness: float, word: str) -> None:
    assert w.firmness_words(firmness) == word


@pytest.mark.parametrize(
    ("low", "middle", "high", "words"),
    [
        (-6, -3, -1, "come back: 3 yd back (eight in ten between 6 yd back and 1 yd back)"),
        (-1, 0.2, 1, "hop and stop: no run (eight in ten between 1 yd back and 1 yd on)"),
        (-1.1, 2.2, 5.2, "check: 2 yd on (eight in ten between 1 yd back and 5 yd on)"),
        (3, 6, 9, "release: 6 yd on (eight in ten between 3 yd on and 9 yd on)"),
        (8, 14, 21, "run out: 14 yd on (eight in ten between 8 yd on and 21 yd on)"),
        (2.0, 2.1, 2.2, "check: 2 yd on (eight in ten 2 yd on)"),
    ],
)
def test_what_the_ball_does_after_landing(
    low: float, middle: float, high: float, words: str
) -> None:
    assert w.run_words(low * YARD, middle * YARD, high * YARD, w.YARDS) == words


def test_the_verb_does_not_depend_on_the_units() -> None:
    assert w.run_words(1.0, 2.8, 6.0, w.METRES).startswith("release: 3 m on")
    assert w.run_words(1.0, 2.8, 6.0, w.YARDS).startswith("release: 3 yd on")


def test_control_characters_and_line_breaks_go() -> None:
    assert w.one_line("  a\x1b[31m\n\tb\u202e ") == "a [31m b"


@pytest.mark.parametrize(
    ("slope", "degrees_right", "words"),
    [
        (0.0, 90.0, "level"),
        (0.02, 0.0, "falls 2.0 % away from you"),
        (0.02, 90.0, "falls 2.0 % to the right"),
        (0.015, 190.0, "falls 1.5 % towards you"),
        (0.02, 315.0, "falls 2.0 % away to the left"),
        (-0.02, 90.0, "falls 2.0 % to the left"),
    ],
)
def test_how_a_plane_falls(slope: float, degrees_right: float, words: str) -> None:
    assert w.fall_words(slope, degrees_right * pi / 180.0) == words
