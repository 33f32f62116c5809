"""Strips: what differs moves each carry the right way, and as flights flown one by one say."""

from dataclasses import replace
from math import radians

import numpy as np
import pytest

from carrybook.base.constants import FOOT, MILE_PER_HOUR, YARD
from carrybook.base.errors import BadInputError, NoSolutionError
from carrybook.physics.flight import Launch, fly
from carrybook.physics.solve import speed_for_carry
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.ball_fit import BallFit
from carrybook.player.numbers import numbers_today
from carrybook.player.strips import (
    Adjustment,
    Fact,
    FactKind,
    partials_today,
    strips_today,
)
from carrybook.player.summary import ShotSummary, summarise
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import Wind

K = FactKind
SHOTS = [
    Shot(Club(str(loft), radians(loft)), Flight.STOCK, Shape.STRAIGHT, carry, 0.6 * carry, carry)
    for loft, carry in ((58, 78 * YARD), (48, 118 * YARD))
]
SUMMARIES = summarise(SHOTS, [])
COLD = Air(278.15, 101_325.0, 0.5)
TEN_MPH = 10.0 * MILE_PER_HOUR
EVERY = [
    Fact(K.WARMER, 10.0),
    Fact(K.COLDER, 10.0),
    Fact(K.INTO, TEN_MPH),
    Fact(K.HELPING, TEN_MPH),
    Fact(K.ACROSS, TEN_MPH),
    Fact(K.HIGHER, 10.0 * FOOT),
    Fact(K.LOWER, 10.0 * FOOT),
    Fact(K.DEW),
    Fact(K.WET),
    Fact(K.LIGHT_ROUGH),
    Fact(K.DEEP_ROUGH),
]


def adjusted(
    kind: FactKind, amount: float = 0.0, *, air: Air = REFERENCE_DAY
) -> tuple[Adjustment, ...]:
    return tuple(s.adjustments[0] for s in strips_today(SUMMARIES, air, [Fact(kind, amount)]))


def launch_of(s: ShotSummary) -> Launch:
    speed = speed_for_carry(s.stock_m, s.launch_rad, s.spin_per_speed, REFERENCE_DAY)
    return Launch(speed, s.launch_rad, s.spin_per_speed * speed)


def test_one_row_a_shot_and_one_cell_a_fact_in_order() -> None:
    strips = strips_today(SUMMARIES, COLD, EVERY)
    assert [s.summary for s in strips] == list(SUMMARIES)
    for strip in strips:
        assert [a.fact for a in strip.adjustments] == EVERY


def test_wind_and_warmth_are_those_of_single_flights() -> None:
    wind, warm = Wind(TEN_MPH), Air(288.15, COLD.pressure_pa, COLD.humidity)
    for s, windy, warmer in zip(
        SUMMARIES,
        adjusted(K.INTO, TEN_MPH, air=COLD),
        adjusted(K.WARMER, 10.0, air=COLD),
        strict=True,
    ):
        calm = fly(launch_of(s), COLD).carry_m
        against = fly(launch_of(s), COLD, wind).carry_m
        assert windy.carry_m == pytest.approx(against - calm, abs=1e-3)
        assert warmer.carry_m == pytest.approx(fly(launch_of(s), warm).carry_m - calm, abs=1e-3)


def test_height_and_drift_are_those_of_single_flights() -> None:
    across = Wind(TEN_MPH, np.pi / 2.0)
    for s, up, side in zip(
        SUMMARIES, adjusted(K.HIGHER, 3.0), adjusted(K.ACROSS, TEN_MPH), strict=True
    ):
        level = fly(launch_of(s), REFERENCE_DAY)
        higher = fly(launch_of(s), REFERENCE_DAY, height_change_m=3.0)
        assert up.carry_m == pytest.approx(higher.carry_m - level.carry_m, abs=2e-3)
        assert up.drift_right_m == pytest.approx(0.0, abs=1e-9)
        drifted = fly(launch_of(s), REFERENCE_DAY, across)
        assert side.drift_right_m == pytest.approx(drifted.side_m, abs=1e-3)
        assert side.drift_right_m < -2.0  # from the right, so it drifts to the left


def test_a_lie_moves_the_carry_as_todays_numbers_say() -> None:
    wet = numbers_today(SUMMARIES, COLD, lie=Lie.FAIRWAY, moisture=Moisture.WET)
    dry = numbers_today(SUMMARIES, COLD)
    for a, w, d in zip(adjusted(K.WET, air=COLD), wet, dry, strict=True):
        assert a.carry_m == pytest.approx(w.today_m - d.today_m, abs=1e-3)


def test_signs_and_order() -> None:
    into, help_ = adjusted(K.INTO, TEN_MPH), adjusted(K.HELPING, TEN_MPH)
    light = adjusted(K.INTO, 0.5 * TEN_MPH)
    for i, h, weak in zip(into, help_, light, strict=True):
        assert i.carry_m < weak.carry_m < 0.0 < h.carry_m
        assert h.carry_m < -i.carry_m  # a wind against takes more than the same helping gives
    for up, down in zip(adjusted(K.HIGHER, 3.0), adjusted(K.LOWER, 3.0), strict=True):
        assert up.carry_m < 0.0 < down.carry_m
        assert -up.carry_m == pytest.approx(down.carry_m, rel=0.25)


def test_ranges_hold_the_middle_and_a_lie_leaves_more_open() -> None:
    for strip in strips_today(SUMMARIES, COLD, EVERY):
        for a in strip.adjustments:
            assert a.carry_low_m <= a.carry_m <= a.carry_high_m
            assert a.drift_low_m <= a.drift_right_m <= a.drift_high_m
        width = {a.fact.kind: a.carry_high_m - a.carry_low_m for a in strip.adjustments}
        assert width[K.DEEP_ROUGH] > width[K.WARMER]


def test_nothing_that_differs_adds_nothing() -> None:
    for kind in (K.WARMER, K.INTO, K.ACROSS, K.HIGHER):
        for a in adjusted(kind, 0.0):
            assert a.carry_m == pytest.approx(0.0, abs=1e-9)
            assert a.drift_right_m == pytest.approx(0.0, abs=1e-9)


def test_trees_slow_the_wind() -> None:
    facts = [Fact(K.INTO, TEN_MPH)]
    open_, trees = (
        strips_today(SUMMARIES, COLD, facts, roughness_m=z)[0].adjustments[0] for z in (0.03, 1.0)
    )
    assert open_.carry_m < trees.carry_m < 0.0


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(BadInputError, match="air temperature"):
        adjusted(K.WARMER, 50.0)
    with pytest.raises(BadInputError, match="wind speed"):
        adjusted(K.INTO, 60.0)
    with pytest.raises(NoSolutionError, match="strip 'higher': a shot has no flight there"):
        adjusted(K.HIGHER, 80.0)


def test_no_shots_no_strips() -> None:
    assert strips_today([], COLD, EVERY) == ()
    assert partials_today([], COLD, [50.0]) == ()


def test_partials_are_felt_as_the_carry_that_comes_of_them() -> None:
    wanted = [m * YARD for m in (50.0, 60.0, 70.0, 80.0, 100.0)]
    for shot in partials_today(SUMMARIES, COLD, wanted):
        s = shot.summary
        for p, m in zip(shot.partials, wanted, strict=True):
            if p is None:
                continue
            assert p.carry_m == m
            swing = float(s.reference_for(np.array([p.feel_m]))[0])
            speed = speed_for_carry(swing, s.launch_rad, s.spin_per_speed, REFERENCE_DAY)
            flown = fly(Launch(speed, s.launch_rad, s.spin_per_speed * speed), COLD)
            assert flown.carry_m == pytest.approx(m, abs=2e-3)
            assert p.spread_m == pytest.approx(s.spread * m)


def test_partials_stay_within_what_the_player_would_use() -> None:
    shot = partials_today(SUMMARIES, REFERENCE_DAY, [m * YARD for m in (40.0, 60.0, 80.0)])[0]
    assert [p is None for p in shot.partials] == [True, False, True]  # 47 to 78 yd


def test_on_the_reference_day_an_unlogged_shot_feels_as_it_carries() -> None:
    (p,) = partials_today(SUMMARIES[:1], REFERENCE_DAY, [60.0])[0].partials
    assert p is not None
    assert p.feel_m == pytest.approx(60.0, abs=1e-3)


def test_a_carry_beyond_every_flight_has_no_partial_and_says_nothing() -> None:
    (row, *_) = partials_today(SUMMARIES, REFERENCE_DAY, [400.0])
    assert row.partials == (None,)


def test_partials_fly_with_the_players_ball_and_short_ones_stray_more() -> None:
    thin = Air(293.15, 80_000.0, 0.3)
    draggy = BallFit("one", 100, (1.25,) * 3, (0.01,) * 3, (0.0, 1.0, 0.0))
    shot = replace(SUMMARIES[0], ball=draggy, spread_growth=0.5)
    short = 0.7 * shot.shot.stock_carry_m
    (plain,), (own,) = (partials_today([s], thin, [short]) for s in (SUMMARIES[0], shot))
    (first,), (second,) = plain.partials, own.partials
    assert first is not None
    assert second is not None
    assert second.feel_m < first.feel_m  # thin air gives more to a ball with more drag
    assert second.spread_m == pytest.approx(shot.spread_at(second.feel_m) * short)
    assert second.spread_m > first.spread_m
