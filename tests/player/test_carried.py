"""Swings flown all at once: each as if it were alone, and as the plain way of one ball says."""

from dataclasses import replace
from math import radians

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.physics.aerodynamics import BAND, MID
from carrybook.physics.flight import fly
from carrybook.physics.solve import speed_for_carry
from carrybook.physics.strike import lie_effect
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.carried import Carried, DaySwing, Outdoors, carry_swings
from carrybook.player.summary import summarise
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import CALM, Wind

SHOTS = [
    Shot(Club(str(loft), radians(loft)), Flight.STOCK, shape, carry, 0.6 * carry, carry)
    for loft, carry, shape in (
        (60, 78 * YARD, Shape.STRAIGHT),
        (54, 95 * YARD, Shape.DRAW),
        (48, 118 * YARD, Shape.CUT),
    )
]
SUMMARIES = summarise(SHOTS, [])
CLEAN, ROUGH = lie_effect(Lie.FAIRWAY, Moisture.DRY), lie_effect(Lie.LIGHT_ROUGH, Moisture.WET)
COLD = Air(276.15, 101_325.0, 0.5)
DAYS = (
    Outdoors(REFERENCE_DAY, CALM, CLEAN),
    Outdoors(COLD, Wind(6.0, 0.7), CLEAN),
    Outdoors(COLD, CALM, ROUGH),
)
SWINGS = [
    DaySwing(s, part * s.stock_m, day, a, end)
    for s in SUMMARIES
    for part in (0.7, 1.0)
    for day in DAYS
    for a in BAND
    for end in (0, 1, 2)
]


def test_each_flies_as_if_it_were_alone() -> None:
    together = carry_swings(SWINGS)
    assert together == [alone for swing in SWINGS for alone in carry_swings([swing])]
    assert [carried.swing for carried in together] == SWINGS


def test_the_plain_way_of_one_ball_says_the_same() -> None:
    for carried in carry_swings(SWINGS[::7]):
        swing, launch = carried.swing, carried.launch
        assert launch is not None
        s = swing.summary
        speed = speed_for_carry(
            swing.playing_m, s.launch_rad, s.spin_per_speed, REFERENCE_DAY,
            aerodynamics=swing.aerodynamics, axis_rad=s.curve.axis_rad,
        )  # fmt: skip
        assert launch.speed_mps == speed * swing.day.effect.speed[swing.end]
        landing = fly(launch, swing.day.air, swing.day.wind, aerodynamics=swing.aerodynamics)
        assert carried.carry_m == landing.distance_m
        assert carried.spin_rad_s == landing.spin_rad_s


def test_on_the_reference_day_a_swing_carries_its_number() -> None:
    for carried in carry_swings([swing for swing in SWINGS if swing.day is DAYS[0]]):
        assert carried.carry_m == pytest.approx(carried.swing.playing_m, abs=1e-3)


def test_a_wet_lie_takes_spin_off_and_the_launch_rises() -> None:
    dry, wet = (
        carry_swings([DaySwing(SUMMARIES[0], 70.0, replace(DAYS[0], effect=e), MID)])[0].launch
        for e in (CLEAN, ROUGH)
    )
    assert dry is not None
    assert wet is not None
    assert wet.spin_rad_s < 0.6 * dry.spin_rad_s
    assert wet.launch_rad > dry.launch_rad
    assert wet.speed_mps < dry.speed_mps


def test_what_no_flight_carries_has_none_and_the_others_fly_on() -> None:
    far = DaySwing(SUMMARIES[0], 400.0, DAYS[1], MID)
    first, none, last = carry_swings([SWINGS[0], far, SWINGS[-1]])
    assert none == Carried(far)
    assert (none.launch, none.carry_m, none.spin_rad_s) == (None, None, None)
    assert [first, last] == carry_swings([SWINGS[0], SWINGS[-1]])


def test_no_swing_is_no_flight() -> None:
    assert carry_swings([]) == []


def test_a_longer_swing_carries_further_on_any_day() -> None:
    for day in DAYS:
        parts = np.linspace(0.6, 1.0, 5)
        swings = [
            DaySwing(SUMMARIES[2], p * SUMMARIES[2].stock_m, day, MID) for p in parts.tolist()
        ]
        carries = [carried.carry_m or 0.0 for carried in carry_swings(swings)]
        assert (np.diff(carries) > 0.0).all()
