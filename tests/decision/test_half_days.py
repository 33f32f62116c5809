"""Half-days: which hours are played, and numbers that are exactly those of `numbers`."""

from collections.abc import Sequence
from datetime import date, time
from math import pi, radians

import pytest

from carrybook.base.constants import CELSIUS_ZERO, YARD
from carrybook.base.errors import BadInputError
from carrybook.decision.half_days import (
    Half,
    HalfDay,
    forecast_doubt,
    half_days,
    half_numbers,
    played_at,
)
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.day import Day
from carrybook.player.numbers import numbers_today
from carrybook.player.summary import ShotSummary, summarise
from carrybook.player.warmth import warmed
from carrybook.world.air import Air
from carrybook.world.forecast import Hour
from carrybook.world.wind import Wind

DAY = date(2026, 5, 31)


def hour(at: int, celsius: float = 12.0, wind: float = 4.0) -> Hour:
    return Hour(time(at), Air(celsius + CELSIUS_ZERO, 100_400.0, 0.8), wind, radians(240.0))


WHOLE = tuple(hour(at, 6.0 + at / 2.0) for at in range(6, 20))


@pytest.fixture(scope="module")
def rows() -> tuple[ShotSummary, ...]:
    shots = [
        Shot(Club(str(loft), radians(loft)), Flight.STOCK, Shape.STRAIGHT, c, 0.6 * c, 1.03 * c)
        for loft, c in ((54, 82.0 * YARD), (60, 68.0 * YARD))
    ]
    return tuple(summarise(shots, []))


def clock(half: HalfDay) -> list[int]:
    return [each.at.hour for each in half.hours]


@pytest.mark.parametrize(
    ("tee", "morning", "afternoon", "middles"),
    [
        (time(7, 0), [7, 8, 9, 10, 11], [12], [9, 12]),
        (time(8, 10), [8, 9, 10, 11], [12, 13], [10, 13]),
        (time(13, 40), [], [13, 14, 15, 16, 17, 18], [16]),
        (time(6, 0), [6, 7, 8, 9, 10, 11], [], [9]),
        (None, [7, 8, 9, 10, 11], [12, 13, 14, 15, 16, 17, 18], [9, 15]),
    ],
)
def test_hours_played_part_at_noon(
    tee: time | None, morning: list[int], afternoon: list[int], middles: list[int]
) -> None:
    halves = half_days(WHOLE, tee, DAY)
    found = {half.half: clock(half) for half in halves}
    assert found.get(Half.MORNING, []) == morning
    assert found.get(Half.AFTERNOON, []) == afternoon
    assert [half.middle.at.hour for half in halves] == middles


@pytest.mark.parametrize("tee", [time(5, 0), time(20, 0), time(19, 50)])
def test_a_tee_time_outside_the_forecast_is_refused(tee: time) -> None:
    said = (
        rf"tee time = {tee:%H:%M} on 2026-05-31 is outside the forecast of that day, which has 06"
    )
    with pytest.raises(BadInputError, match=said):
        half_days(WHOLE, tee, DAY)


def test_a_round_that_outlasts_the_forecast_takes_what_there_is() -> None:
    (half,) = half_days(WHOLE, time(18, 0), DAY)
    assert clock(half) == [18, 19]


def test_three_hourly_forecasts_and_only_a_night() -> None:
    rough = [hour(at) for at in (6, 9, 12, 15, 18)]
    assert [clock(half) for half in half_days(rough, time(7, 30), DAY)] == [[9], [12]]
    assert [clock(half) for half in half_days(rough, None, DAY)] == [[9], [12, 15, 18]]
    night = [hour(at) for at in (2, 4)]
    assert [clock(half) for half in half_days(night, None, DAY)] == [[2, 4]]


def test_every_hole_has_its_hour() -> None:
    halves = half_days(WHOLE, time(8, 0), DAY)
    hours = [played_at(halves, time(8, 0), (k + 0.5) / 18.0).at.hour for k in range(18)]
    assert hours == sorted(hours)
    assert (hours[0], hours[-1]) == (8, 12)
    assert played_at(half_days(WHOLE, None, DAY), None, 0.9).at == time(13)


def test_numbers_are_exactly_those_of_the_same_air(rows: Sequence[ShotSummary]) -> None:
    (half,) = half_days(WHOLE, time(14, 0), DAY)
    told = half_numbers(half, lambda day: warmed(rows, day), 1.2, 0.1)
    day = Day(half.middle.air)
    plain = {n.summary.shot.label: n for n in numbers_today(warmed(rows, day), day.air)}
    assert {row.number.summary.shot.label: row.number for row in told.numbers} == plain
    wind = half.middle.wind_speed_mps
    for angle, name in ((0.0, "into_m"), (pi, "helping_m")):
        blown = numbers_today(warmed(rows, day), day.air, wind=Wind(wind, angle, 0.1))
        carried = {n.summary.shot.label: n.today_m for n in blown}
        assert {r.number.summary.shot.label: getattr(r, name) for r in told.numbers} == carried
    assert [row.number.today_m for row in told.numbers] == sorted(
        (row.number.today_m for row in told.numbers), reverse=True
    )


def test_the_spread_holds_the_middle_and_grows_with_the_doubt(rows: Sequence[ShotSummary]) -> None:
    (half,) = half_days(WHOLE, time(14, 0), DAY)
    sure, unsure = (
        half_numbers(half, lambda day: warmed(rows, day), doubt, 0.03) for doubt in (0.0, 3.0)
    )
    for a, b in zip(sure.numbers, unsure.numbers, strict=True):
        assert b.low_m < a.low_m <= a.number.today_m <= a.high_m < b.high_m
        assert a.into_m < a.number.today_m < a.helping_m
        assert b.high_m - b.low_m < 0.03 * b.number.today_m


def test_air_at_the_ends_of_what_there_is_stays_within(rows: Sequence[ShotSummary]) -> None:
    half = half_days([hour(14, -24.5, 0.0)], time(14, 0), DAY)[0]
    (row, _) = half_numbers(half, lambda day: warmed(rows, day), 4.0, 0.03).numbers
    assert row.low_m < row.number.today_m < row.high_m
    assert row.into_m == row.helping_m == pytest.approx(row.number.today_m)


@pytest.mark.parametrize(
    ("read_on", "doubt"),
    [
        (None, 1.2),
        (DAY, 1.2),
        (date(2026, 5, 27), 2.2),
        (date(2026, 1, 1), 4.0),
        (date(2026, 6, 9), 1.2),
    ],
)
def test_a_forecast_made_earlier_is_less_sure(read_on: date | None, doubt: float) -> None:
    assert forecast_doubt(DAY, read_on) == pytest.approx(doubt)
