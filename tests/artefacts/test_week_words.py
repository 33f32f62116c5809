"""A week in short lines."""

from dataclasses import replace
from datetime import date, time
from math import radians

import pytest

from carrybook.artefacts import week_words as ww
from carrybook.artefacts.words import METRES, YARDS
from carrybook.base.constants import CELSIUS_ZERO, FOOT, MILE_PER_HOUR, YARD
from carrybook.decision.changes import (
    Changes,
    FirmnessMoved,
    HoleMoved,
    NumberMoved,
    ShotMoved,
    StimpMoved,
    WindMoved,
)
from carrybook.decision.half_days import Half, HalfDay
from carrybook.decision.noted import GreenBelief
from carrybook.decision.prepare import HoleDay, PreparedDay
from carrybook.decision.prepared import Zone
from carrybook.world.air import Air
from carrybook.world.forecast import Hour
from carrybook.world.venue import VenueNote

DAY = date(2026, 5, 31)
HOUR = Hour(
    time(9), Air(9.4 + CELSIUS_ZERO, 100_400.0, 0.85), 12.0 * MILE_PER_HOUR, radians(240.0),
    20.0 * MILE_PER_HOUR, 1.5e-3,
)  # fmt: skip
LATER = replace(HOUR, at=time(11), air=replace(HOUR.air, temperature_k=13.0 + CELSIUS_ZERO))
HALF = HalfDay(Half.MORNING, (HOUR, LATER), HOUR)
COURSE = GreenBelief("", 104.0, 8.0, 10.0 * FOOT, date(2026, 5, 27))
PREPARED = PreparedDay(
    DAY, time(8, 10), 1.2, (HALF,), COURSE,
    (
        HoleDay("4", HOUR, replace(COURSE, hole="4")),
        HoleDay("16", HOUR, GreenBelief("16", 78.0, 9.0, 9.0 * FOOT, DAY), "8 on, centre"),
    ),
)  # fmt: skip
QUIET = Changes(DAY, (), (), (), (), (), ())
MOVED = Changes(
    date(2026, 5, 30),
    (
        NumberMoved(Half.MORNING, Half.AFTERNOON, "56", 92.0 * YARD, 90.0 * YARD),
        NumberMoved(Half.MORNING, Half.AFTERNOON, "60", 77.0 * YARD, 75.0 * YARD),
    ),
    (WindMoved(Half.MORNING, Half.AFTERNOON, HOUR, replace(HOUR, wind_speed_mps=0.0)),),
    (FirmnessMoved("", 100.0, 108.0), FirmnessMoved("16", 100.0, 90.0)),
    (StimpMoved("", 10.0 * FOOT, 11.0 * FOOT),),
    (HoleMoved("4", "8 on, centre", "27 on, 9L"), HoleMoved("11", "", "8 on, 4L")),
    (
        ShotMoved("4", Zone.BACK_LEFT, 90.0 * YARD, "56", "52"),
        ShotMoved("4", Zone.FRONT_LEFT, 90.0 * YARD, "56", "48"),
        ShotMoved("4", Zone.BACK_RIGHT, 90.0 * YARD, "56", "52"),
    ),
)


def test_days_and_clock() -> None:
    assert ww.day_words(DAY) == "Sun 31 May"
    assert ww.day_words(date(2024, 2, 29), year=True) == "Thu 29 Feb 2024"
    assert ww.clock_words(HOUR) == "09:00"


@pytest.mark.parametrize(
    ("degrees", "point"),
    [(0, "N"), (11, "N"), (12, "NNE"), (90, "E"), (180, "S"), (240, "WSW"), (359, "N")],
)
def test_points_of_the_compass(degrees: float, point: str) -> None:
    hour = replace(HOUR, wind_from_true_rad=radians(degrees), gust_mps=None)
    assert ww.true_wind_words(hour, YARDS) == f"12 mph from {point} ({degrees})"


def test_winds_in_words() -> None:
    assert ww.true_wind_words(HOUR, METRES) == "5 m/s from WSW (240), gusts to 9 m/s"
    assert ww.true_wind_words(replace(HOUR, wind_speed_mps=0.1), YARDS) == "calm"
    varies = replace(HOUR, wind_from_true_rad=None)
    assert ww.true_wind_words(varies, YARDS).startswith("12 mph, its direction varies, gusts")


def test_a_half_day() -> None:
    air, wind = ww.half_words(HALF, YARDS)
    assert air == (
        "09:00 to 11:00, 9 to 13 C; numbers at 09:00: 9 C (49 F), 1004 hPa, 85 % humidity"
    )
    assert wind.startswith("12 mph from WSW")
    alone = HalfDay(Half.MORNING, (HOUR,), HOUR)
    assert ww.half_words(alone, YARDS)[0].startswith("09:00 to 09:00, 9 C; numbers")


def test_greens_that_differ_are_named() -> None:
    assert list(ww.green_lines(PREPARED, YARDS)) == [
        "Greens: firm (104 +- 8 g), 10.0 ft, noted Wed 27 May",
        "Hole 16: soft (78 +- 9 g), 9.0 ft, noted Sun 31 May",
    ]
    blank = replace(PREPARED, course=GreenBelief("", 95.0, 20.0), holes=())
    assert list(ww.green_lines(blank, METRES)) == [
        "Greens: medium (95 +- 20 g), nobody said, speed not noted"
    ]


def test_rain_and_cautions() -> None:
    lines = list(ww.weather_lines(PREPARED))
    assert lines[0] == "Rain: 3 mm in the hours played; greens may turn softer."
    assert lines[1:] == []  # 9 C in a breeze feels 7.3 C: over 41 F
    assert list(ww.weather_lines(replace(PREPARED, halves=()))) == []
    drizzle = replace(HOUR, rain_m=2e-4)
    day = replace(PREPARED, halves=(HalfDay(Half.MORNING, (drizzle,), drizzle),))
    assert list(ww.weather_lines(day)) == []


def test_everything_that_moved() -> None:
    assert list(ww.change_lines(MOVED, YARDS)) == [
        "morning (against the afternoon), carry in yd: 56: 92 to 90, 60: 77 to 75",
        "wind, morning: calm; was 12 mph from WSW (240), gusts to 20 mph",
        "greens firmer: 100 to 108 g",
        "green of hole 16 softer: 100 to 90 g",
        "greens speed: 10.0 ft to 11.0 ft",
        "hole 4 is cut 27 on, 9L; was 8 on, centre",
        "hole 11 is cut 8 on, 4L",
        "hole 4, 90 yd: 52 instead of 56 (back left, back right)",
        "hole 4, 90 yd: 48 instead of 56 (front left)",
    ]
    assert "carry in m: 56: 84 to 82" in next(ww.change_lines(MOVED, METRES))


def test_nothing_moved() -> None:
    assert list(ww.change_lines(QUIET, YARDS)) == ["nothing by more than is worth saying"]


def test_a_card_of_either_profile_says_nothing_of_where_holes_are_cut() -> None:
    lines = list(ww.card_lines(PREPARED, MOVED, YARDS))
    assert lines[0] == "Tee 08:10"
    assert "Since Sat 30 May: greens firmer: 100 to 108 g" in lines
    assert not any("is cut" in line or "8 on" in line for line in lines)
    assert not any("Since" in line for line in ww.card_lines(PREPARED, None, YARDS))


def test_notes() -> None:
    note = VenueNote(DAY, "16", 110.0, 10.0, 3.2004, ("ran out",), "bank\nin shade")
    assert ww.note_words(note, YARDS) == (
        "Sun 31 May 2026, hole 16: firm (110 +- 10 g); 10.5 ft; saw: ran out; bank in shade"
    )
    assert ww.note_words(VenueNote(DAY, text="x"), METRES) == "Sun 31 May 2026, course: x"
