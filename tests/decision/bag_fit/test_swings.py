"""Swings that are flown once: turned onto the line, and bounced as a whole simulation has it."""

from collections.abc import Callable
from dataclasses import replace
from math import radians

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.decision.bag_fit.greens import Greens
from carrybook.decision.bag_fit.swings import bounces_of, endless, fly_all, rows_of
from carrybook.decision.bag_fit.wedges import Wedge, own_wedges
from carrybook.outcomes.draws import draw
from carrybook.outcomes.simulate import simulate
from carrybook.player.summary import ShotSummary
from carrybook.world.ground import Surface
from carrybook.world.lie import Lie, Moisture

MakeShots = Callable[..., tuple[ShotSummary, ...]]
WORLD = Greens().world(Lie.LIGHT_ROUGH, Moisture.DRY, 100.0)
DRAWS = draw(np.random.default_rng(6), 64)


@pytest.fixture(scope="module")
def wedges(shots_of: MakeShots) -> tuple[Wedge, ...]:
    return own_wedges(shots_of((48, 118), (60, 78)))


def test_swings_go_over_the_partials_of_every_shot(wedges: tuple[Wedge, ...]) -> None:
    rows = rows_of(wedges)
    for club, wedge in enumerate(wedges):
        mine, shot = rows.wedge == club, wedge.shots[0].shot
        assert rows.feel_m[mine].min() == pytest.approx(shot.shortest_m)
        assert rows.feel_m[mine].max() == pytest.approx(shot.longest_m)
        assert np.diff(rows.feel_m[mine]).max() <= 5.0 * YARD + 1e-9
    assert len(rows.swings) == len(rows.feel_m) == len(rows.shot)


def test_the_middle_ball_lands_on_the_line(wedges: tuple[Wedge, ...]) -> None:
    curving = tuple(
        replace(s, curve=replace(s.curve, axis_rad=radians(12.0))) for w in wedges for s in w.shots
    )
    rows = rows_of(own_wedges(curving))
    flown, carry = fly_all(WORLD, rows.swings, DRAWS)
    assert (np.abs(flown.turn) > radians(0.5)).all()
    land = bounces_of(flown, WORLD, DRAWS).ends.land
    middle = np.median(land[..., 0], axis=1)
    np.testing.assert_allclose(middle, carry, rtol=0.01)
    assert (np.abs(np.median(land[..., 1], axis=1)) < 0.02 * carry).all()


def test_it_ends_where_a_whole_simulation_ends(wedges: tuple[Wedge, ...]) -> None:
    """One long step of skid and one of rest are exact on the level: the usual steps agree."""
    rows = rows_of(wedges)
    flown, _ = fly_all(WORLD, rows.swings, DRAWS)
    bounces = bounces_of(replace(flown, turn=np.zeros(len(rows.swings))), WORLD, DRAWS)
    every = np.ones((len(rows.swings), len(DRAWS)), dtype=bool)
    bounces.play(every, every)
    found = (bounces.ends.green, bounces.ends.other)
    for surface, ends in zip((Surface.GREEN, Surface.FAIRWAY), found, strict=True):
        whole, _ = simulate(replace(WORLD, ground=endless(surface)), rows.swings, DRAWS)
        np.testing.assert_allclose(ends, whole[..., 0:2], atol=1e-6)
        np.testing.assert_allclose(bounces.ends.land, whole[..., 4:6], atol=1e-12)


def test_only_what_is_asked_for_is_played(wedges: tuple[Wedge, ...]) -> None:
    rows = rows_of(wedges)
    flown, _ = fly_all(WORLD, rows.swings, DRAWS)
    shape = (len(rows.swings), len(DRAWS))
    some, none = np.zeros(shape, dtype=bool), np.zeros(shape, dtype=bool)
    some[1, 3:9] = True
    one, all_of_it = bounces_of(flown, WORLD, DRAWS), bounces_of(flown, WORLD, DRAWS)
    one.play(some, none)
    all_of_it.play(~none, none)
    np.testing.assert_array_equal(one.ends.green[some], all_of_it.ends.green[some])
    assert not one.ends.green[~some].any()
    assert not one.ends.other.any()


def test_a_part_of_the_flights_is_that_part(wedges: tuple[Wedge, ...]) -> None:
    rows = rows_of(wedges)
    flown, _ = fly_all(WORLD, rows.swings, DRAWS)
    part = flown.part(np.array([2, 0]), slice(10, 20))
    np.testing.assert_array_equal(part.landings, flown.landings[[2, 0], 10:20])
    np.testing.assert_array_equal(part.turn, flown.turn[[2, 0]])
    np.testing.assert_array_equal(part.struck.launches, flown.struck.launches[[2, 0], 10:20])
    np.testing.assert_array_equal(part.struck.winds, flown.struck.winds[10:20])
