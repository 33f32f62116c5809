"""Many balls: the scatter is the player's, chance is shared, days and lies do what they should."""

from dataclasses import replace
from math import radians

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.outcomes.draws import Draws, draw
from carrybook.outcomes.simulate import World, simulate
from carrybook.outcomes.swing import Swing, swings_of
from carrybook.physics.strike import lie_effect
from carrybook.player.bag import Club, Flight, Shape, Shot
from carrybook.player.ball_fit import BallFit
from carrybook.player.shape import Curve
from carrybook.player.summary import ShotSummary, summarise
from carrybook.world.air import REFERENCE_DAY, Air
from carrybook.world.ground import Surface, flat_ground
from carrybook.world.lie import Lie, Moisture
from carrybook.world.wind import CALM, Wind

SHOT = Shot(
    Club("56", radians(56.0)), Flight.STOCK, Shape.STRAIGHT, 92 * YARD, 50 * YARD, 92 * YARD
)
(SUMMARY,) = summarise([SHOT], [])
WORLD = World(
    ground=flat_ground(extent_m=160.0), start=np.array([-80 * YARD, 0.0, 0.0]), hole=(0.0, 0.0),
    line_right_rad=0.0, air=REFERENCE_DAY, wind=CALM, wind_level_m=0.0,
    lie=lie_effect(Lie.FAIRWAY, Moisture.DRY), firmness_g=95.0, firmness_sd_g=8.0, stimp_m=3.05,
)  # fmt: skip
SURE = replace(SUMMARY, bias_se=1e-9)


def swing_of(summary: ShotSummary, playing_m: float, start_right_rad: float) -> Swing:
    return swings_of(summary, np.array([playing_m]), np.array([start_right_rad]))[0]


def draws(count: int = 3000, seed: int = 1) -> Draws:
    return draw(np.random.default_rng(seed), count)


def carries(world: World, swing: Swing, chance: Draws) -> np.ndarray:
    return simulate(world, [swing], chance)[1][0, :, 0] - world.start[0]


def test_on_the_reference_day_carries_scatter_as_the_player_does() -> None:
    swing = swing_of(SURE, 75 * YARD, 0.0)
    _, landings = simulate(WORLD, [swing], draws(6000))
    carry = np.hypot(landings[0, :, 0] - WORLD.start[0], landings[0, :, 1])
    assert np.median(carry) == pytest.approx(75 * YARD, rel=5e-3)  # scatter taken to first order
    inside = np.abs(np.log(carry / (75 * YARD))) < SURE.spread
    assert inside.mean() == pytest.approx(0.6827, abs=0.02)
    angle = np.arctan2(-landings[0, :, 1], landings[0, :, 0] - WORLD.start[0])
    assert (np.abs(angle) < SURE.side_rad).mean() == pytest.approx(0.6827, abs=0.02)


def test_a_partial_scatters_as_was_learnt_of_partials() -> None:
    partial = 52 * YARD
    growing = replace(SURE, spread_growth=0.5)
    swing = swing_of(growing, partial, 0.0)
    felt = float(growing.felt_for(np.array(partial)))
    assert swing.spread == pytest.approx(SURE.spread * (SHOT.stock_carry_m / felt) ** 0.5)
    carry = carries(WORLD, swing, draws(6000))
    inside = np.abs(np.log(carry / np.median(carry))) < swing.spread
    assert inside.mean() == pytest.approx(0.6827, abs=0.02)
    assert swing_of(growing, growing.stock_m, 0.0).spread == pytest.approx(SURE.spread)


def test_few_balls_scatter_more_than_many() -> None:
    unsure, sure = (carries(WORLD, swing_of(s, 75 * YARD, 0.0), draws()) for s in (SUMMARY, SURE))
    assert np.std(unsure) > 1.1 * np.std(sure)


def test_equal_swings_meet_equal_chance() -> None:
    swing = swing_of(SUMMARY, 75 * YARD, 0.0)
    ends, _ = simulate(WORLD, [swing, swing], draws(500))
    np.testing.assert_array_equal(ends[0], ends[1])


def test_shared_chance_makes_near_candidates_comparable() -> None:
    pair = [swing_of(SUMMARY, d * YARD, 0.0) for d in (75, 76)]
    ends, _ = simulate(WORLD, pair, draws(2000))
    gap = ends[1, :, 0] - ends[0, :, 0]
    assert np.std(gap) < 0.35 * np.std(ends[0, :, 0])


def test_the_same_seed_gives_the_same_balls_and_another_gives_others() -> None:
    swing = swing_of(SUMMARY, 75 * YARD, 0.0)
    a, b, c = (simulate(WORLD, [swing], draws(200, seed))[0] for seed in (1, 1, 2))
    np.testing.assert_array_equal(a, b)
    assert not np.array_equal(a, c)


def test_a_mirrored_world_mirrors_the_finish() -> None:
    swing, chance = swing_of(SUMMARY, 75 * YARD, 0.03), draws(400)
    blown = replace(
        WORLD, wind=Wind(5.0, radians(60.0)), ground=flat_ground(slope_y=0.02, extent_m=160.0)
    )
    mirror = replace(
        blown, wind=Wind(5.0, radians(-60.0)), ground=flat_ground(slope_y=-0.02, extent_m=160.0)
    )
    flipped = replace(chance, side=-chance.side, veer=-chance.veer, bearing=-chance.bearing)
    ends, _ = simulate(blown, [swing], chance)
    back, _ = simulate(mirror, [replace(swing, start_right_rad=-0.03)], flipped)
    assert back[0, :, 0] == pytest.approx(ends[0, :, 0], abs=1e-6)
    assert back[0, :, 1] == pytest.approx(-ends[0, :, 1], abs=1e-6)


def test_a_wet_rough_lie_spins_less_runs_more_and_is_less_sure() -> None:
    swing, chance = swing_of(SURE, 75 * YARD, 0.0), draws(2000)
    clean, _ = simulate(WORLD, [swing], chance)
    wet, _ = simulate(
        replace(WORLD, lie=lie_effect(Lie.LIGHT_ROUGH, Moisture.WET)), [swing], chance
    )
    runs = [e[0, :, 0] - e[0, :, 4] for e in (clean, wet)]
    assert np.median(runs[1]) > np.median(runs[0]) + 1.0
    assert np.std(runs[1]) > np.std(runs[0])


def test_gusts_blow_a_shot_about_only_where_there_is_wind() -> None:
    swing, chance = swing_of(replace(SURE, spread=1e-9, side_rad=1e-9), 75 * YARD, 0.0), draws(1500)
    calm = carries(WORLD, swing, chance)
    blown = carries(replace(WORLD, wind=Wind(7.0, 0.0)), swing, chance)
    assert np.std(calm) < 0.5
    assert 1.0 < np.std(blown) < 4.5


def test_stated_gusts_replace_those_of_the_surroundings() -> None:
    swing, chance = swing_of(replace(SURE, spread=1e-9, side_rad=1e-9), 75 * YARD, 0.0), draws(1500)
    steady, usual, wild = (
        np.std(carries(replace(WORLD, wind=Wind(7.0, gust_mps=gust)), swing, chance))
        for gust in (7.0, None, 14.0)
    )
    assert steady < 0.95 * usual
    assert wild > 1.2 * usual
    still = carries(replace(WORLD, wind=Wind(0.0, gust_mps=6.0)), swing, chance)
    assert np.std(still) > np.std(carries(WORLD, swing, chance))


def test_thin_air_carries_further_than_the_playing_number() -> None:
    high = replace(WORLD, air=Air(293.15, 80_000.0, 0.3))
    swing, chance = swing_of(SURE, 75 * YARD, 0.0), draws(800)
    assert np.median(carries(high, swing, chance)) > np.median(carries(WORLD, swing, chance)) + 1.0


def test_water_everywhere_ends_every_ball() -> None:
    wet = replace(WORLD, ground=flat_ground(Surface.WATER, extent_m=160.0))
    ends, _ = simulate(wet, [swing_of(SUMMARY, 75 * YARD, 0.0)], draws(100))
    assert set(ends[0, :, 2]) == {3.0}


def test_balls_that_flew_already_end_as_if_they_flew_again() -> None:
    green, chance = replace(WORLD, wind=Wind(5.0, 1.0)), draws(300)
    fairway = replace(green, ground=flat_ground(Surface.FAIRWAY, extent_m=160.0))
    swings = [swing_of(SUMMARY, m, 0.0) for m in (60.0, 80.0)]
    onto_green, landings = simulate(green, swings, chance)
    ends, touched = simulate(fairway, swings, chance, landings=landings)
    for got, flown in zip((ends, touched), simulate(fairway, swings, chance), strict=True):
        np.testing.assert_array_equal(got, flown)
    assert not np.array_equal(ends, onto_green)


def ball(weights: tuple[float, ...], factor: float = 1.0) -> BallFit:
    return BallFit("one", 200, (factor,) * 3, (0.01,) * 3, weights)


def test_sets_are_drawn_as_often_as_the_log_says() -> None:
    thin = replace(WORLD, air=Air(293.15, 78_000.0, 0.3))
    sure = replace(SURE, spread=1e-9, side_rad=1e-9)
    means = []
    for weights in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (0.3, 0.2, 0.5)):
        swing = swing_of(replace(sure, ball=ball(weights)), 88 * YARD, 0.0)
        means.append(np.mean(carries(thin, swing, draws(4000))))
    assert abs(means[0] - means[2]) > 0.8
    assert means[3] == pytest.approx(np.dot((0.3, 0.2, 0.5), means[:3]), abs=0.15)


def test_a_ball_with_more_drag_is_moved_more_by_the_wind_and_not_without_it() -> None:
    chance = draws(1500)
    into = replace(WORLD, wind=Wind(6.0, 0.0))
    calm, blown = [], []
    for factor in (0.85, 1.0, 1.2):
        swing = swing_of(replace(SURE, ball=ball((0.0, 1.0, 0.0), factor)), 85 * YARD, 0.0)
        calm.append(np.median(carries(WORLD, swing, chance)))
        blown.append(np.median(carries(into, swing, chance)))
    assert calm == pytest.approx([85 * YARD] * 3, rel=1e-2)
    assert blown[0] > blown[1] > blown[2]


def test_two_balls_can_be_played_in_one_simulation() -> None:
    chance, thin = draws(400), replace(WORLD, air=Air(293.15, 78_000.0, 0.3))
    swings = [
        swing_of(replace(SURE, ball=ball((0.2, 0.6, 0.2), f)), 85 * YARD, 0.0) for f in (0.9, 1.1)
    ]
    together, _ = simulate(thin, swings, chance)
    for k, swing in enumerate(swings):
        alone, _ = simulate(thin, [swing], chance)
        np.testing.assert_array_equal(together[k], alone[0])


@pytest.mark.parametrize("tilt", [-0.12, 0.12])
def test_a_curving_ball_keeps_its_carry_and_lands_to_its_side_of_the_start_line(
    tilt: float,
) -> None:
    swing = swing_of(replace(SURE, curve=Curve(tilt, 0.0)), 75 * YARD, 0.0)
    _, landings = simulate(WORLD, [swing], draws(4000))
    x, right = landings[0, :, 0] - WORLD.start[0], -landings[0, :, 1]
    assert np.median(np.hypot(x, right)) == pytest.approx(75 * YARD, rel=5e-3)
    assert np.median(np.arctan2(right, x)) / tilt == pytest.approx(0.24, abs=0.05)


def test_a_curve_that_nobody_measured_scatters_more() -> None:
    sides = []
    for error in (0.0, 0.15):
        swing = swing_of(replace(SURE, curve=Curve(-0.1, error)), 75 * YARD, 0.0)
        sides.append(np.std(simulate(WORLD, [swing], draws(3000))[1][0, :, 1]))
    assert sides[1] > 1.1 * sides[0]


def test_where_lift_may_reverse_carries_scatter_by_eight_per_cent_more() -> None:
    sure = replace(SURE, spread=1e-9, side_rad=1e-9)
    wild = []
    for ratio in (26.0, 8.0):
        swing = swing_of(replace(sure, spin_per_speed=ratio), 40 * YARD, 0.0)
        logs = np.log(carries(WORLD, swing, draws(4000)))
        wild.append(np.quantile(logs, 0.9) - np.quantile(logs, 0.1))
    assert wild[0] < 0.02
    assert wild[1] == pytest.approx(2.0 * 0.08, abs=0.03)


def test_a_drag_that_nobody_measured_scatters_a_ball_in_the_wind_and_not_without_it() -> None:
    sure, chance = replace(SURE, spread=1e-9, side_rad=1e-9), draws(3000)
    into = replace(WORLD, wind=Wind(6.0, 0.0))
    wild = []
    for error in (1e-6, 0.07):
        one = BallFit("one", 0, (1.0,) * 3, (error,) * 3, (0.0, 1.0, 0.0))
        swing = swing_of(replace(sure, ball=one), 70 * YARD, 0.0)
        wild.append([np.std(carries(world, swing, chance)) for world in (WORLD, into)])
    assert wild[1][0] == pytest.approx(wild[0][0], abs=0.1)
    assert wild[1][1] > wild[0][1] + 0.1
