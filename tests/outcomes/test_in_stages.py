"""In two stages as at once: the same first touch, the same ends, of those that are asked for."""

from dataclasses import replace
from math import radians

import numpy as np

from carrybook.base.constants import YARD
from carrybook.outcomes.draws import draw
from carrybook.outcomes.in_stages import fly, play_on
from carrybook.outcomes.simulate import World, simulate, strike, turf_rows
from carrybook.outcomes.swing import swings_of
from carrybook.physics.strike import lie_effect
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.summary import summarise
from carrybook.world.air import REFERENCE_DAY
from carrybook.world.ground import Surface, flat_ground
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import Wind

SHOT = Shot(
    Club("56", radians(56.0)), Flight.STOCK, Shape.STRAIGHT, 92 * YARD, 50 * YARD, 92 * YARD
)
(SUMMARY,) = summarise([SHOT], [])
WORLD = World(
    ground=flat_ground(extent_m=160.0), start=np.array([-80 * YARD, 0.0, 0.0]), hole=(0.0, 0.0),
    line_right_rad=0.0, air=REFERENCE_DAY, wind=Wind(4.0, 1.0), wind_level_m=0.0,
    lie=lie_effect(Lie.LIGHT_ROUGH, Moisture.DEW), firmness_g=95.0, firmness_sd_g=8.0, stimp_m=3.05,
)  # fmt: skip
SWINGS = swings_of(SUMMARY, np.array([70.0, 75.0, 80.0]), np.zeros(3))
DRAWS = draw(np.random.default_rng(1), 400)


def test_both_stages_make_the_whole_shot() -> None:
    ends, landings = simulate(WORLD, SWINGS, DRAWS)
    struck = strike(WORLD, SWINGS, DRAWS)
    first = fly(WORLD, struck)
    assert first.shape == (3, 400, 10)
    np.testing.assert_allclose(first, landings, rtol=1e-12, atol=1e-12)
    every = np.ones((3, 400), dtype=bool)
    found = play_on(WORLD, struck, first, turf_rows(WORLD, DRAWS), every)
    np.testing.assert_allclose(found, ends.reshape(-1, 9), rtol=1e-9, atol=1e-9)


def test_a_ball_ends_where_it_does_whichever_others_are_played() -> None:
    struck = strike(WORLD, SWINGS, DRAWS)
    first, turf = fly(WORLD, struck), turf_rows(WORLD, DRAWS)
    some = np.random.default_rng(2).random((3, 400)) < 0.2
    every = play_on(WORLD, struck, first, turf, np.ones_like(some))
    np.testing.assert_array_equal(
        play_on(WORLD, struck, first, turf, some), every.reshape(3, 400, 9)[some]
    )
    assert play_on(WORLD, struck, first, turf, np.zeros_like(some)).shape == (0, 9)


def test_one_flight_serves_every_firmness_and_surface() -> None:
    struck = strike(WORLD, SWINGS, DRAWS)
    first, every = fly(WORLD, struck), np.ones((3, 400), dtype=bool)
    ground = flat_ground(Surface.FAIRWAY, extent_m=160.0)
    hard = replace(WORLD, firmness_g=130.0, ground=ground)
    found = play_on(hard, struck, first, turf_rows(hard, DRAWS), every)
    whole, _ = simulate(hard, SWINGS, DRAWS)
    np.testing.assert_allclose(found, whole.reshape(-1, 9), rtol=1e-9, atol=1e-9)
    soft = play_on(WORLD, struck, first, turf_rows(WORLD, DRAWS), every)
    assert np.median(found[:, 0] - soft[:, 0]) > 1.0
