"""A prepared day, the order of play, and what plans are rounded to."""

from dataclasses import replace
from datetime import date, time
from math import radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from carrybook.base.constants import CELSIUS_ZERO, MILE_PER_HOUR
from carrybook.decision.half_days import Half, HalfDay
from carrybook.decision.noted import GreenBelief
from carrybook.decision.prepare import PreparedDay, for_planning, order_of_play
from carrybook.world.air import Air
from carrybook.world.forecast import Hour

AIR = Air(12.0 + CELSIUS_ZERO, 100_400.0, 0.8)
WIND = Hour(time(10), AIR, 8.0 * MILE_PER_HOUR, radians(240.0), rain_m=1e-3)
HALF = HalfDay(Half.MORNING, (WIND, WIND), WIND)
BEFORE = PreparedDay(date(2026, 5, 30), time(9), 1.2, (HALF,), GreenBelief("", 100.0, 8.0))


def test_a_day_knows_its_hours_rain_and_worst() -> None:
    assert BEFORE.hours == (WIND, WIND)
    assert BEFORE.rain_m == pytest.approx(2e-3)
    assert BEFORE.exposure is not None
    bare = replace(BEFORE, halves=())
    assert (bare.hours, bare.rain_m, bare.exposure) == ((), None, None)
    dry = replace(WIND, rain_m=None)
    assert replace(BEFORE, halves=(HalfDay(Half.MORNING, (dry,), dry),)).rain_m is None


def test_order_of_play() -> None:
    order = order_of_play(["4", "11", "16"], 1)
    assert order == pytest.approx({"4": 3.5 / 18, "11": 10.5 / 18, "16": 15.5 / 18})
    order = order_of_play(["4", "11", "16"], 10)
    assert sorted(order, key=order.__getitem__) == ["11", "16", "4"]
    named = order_of_play(["A", "B"], 1)
    assert named == pytest.approx({"A": 0.5 / 18, "B": 0.5 + 0.5 / 18})


@given(st.floats(-20, 40), st.floats(60_000, 105_000), st.floats(0, 1), st.floats(0, 25))
def test_plans_take_air_within_a_step_and_twice_is_once(
    celsius: float, pascal: float, humidity: float, wind: float
) -> None:
    hour = Hour(time(9), Air(celsius + CELSIUS_ZERO, pascal, humidity), wind, 1.0, wind + 3.0)
    once = for_planning(hour)
    assert for_planning(once) == once
    assert abs(once.air.temperature_k - hour.air.temperature_k) <= 1.0 + 1e-9
    assert abs(once.air.pressure_pa - pascal) <= 250.0 + 1e-6
    assert abs(once.air.humidity - humidity) <= 0.1 + 1e-9
    assert abs(once.wind_speed_mps - wind) <= 0.5 + 1e-9
    assert once.gust_mps is None or once.gust_mps >= once.wind_speed_mps


def test_days_that_are_alike_are_planned_alike_and_what_varies_is_calm() -> None:
    warmer = replace(AIR, temperature_k=AIR.temperature_k + 0.4, humidity=0.82)
    assert for_planning(replace(WIND, air=warmer)) == for_planning(WIND)
    assert for_planning(replace(WIND, wind_from_true_rad=None)).wind_speed_mps == 0.0
    assert for_planning(replace(WIND, wind_from_true_rad=radians(359.0))).wind_from_true_rad == 0.0
