"""Halving keeps the best, and the best of every shot."""

import numpy as np

from carrybook.base.constants import YARD
from carrybook.decision.candidates import Spot, build, landing_point, spots_over, world_of
from carrybook.decision.select import halve, play
from carrybook.outcomes.draws import draw
from carrybook.player.summary import ShotSummary

Bag = tuple[ShotSummary, ...]


def test_candidates_land_where_they_are_meant_to(bag: Bag, situation: object) -> None:
    s = situation(75.0, (15.0, 3.0))  # type: ignore[operator]
    world = world_of(s)
    for candidate in build(world, s, bag[0], [Spot(-4.0, 2.0), Spot(0.0, 0.0)]):
        x, y = landing_point(world, candidate.spot)
        assert (x, y) == (15.0 + candidate.spot.past_m, 3.0 - candidate.spot.right_m)
        assert candidate.solved[7] == 1.0
        assert 0.6 * 80 * YARD <= candidate.feel_m <= 1.05 * 80 * YARD


def test_spots_in_water_or_out_of_reach_are_left_out(bag: Bag, situation: object) -> None:
    s = situation(75.0, (15.0, 5.0), water_left_of=8.0)  # type: ignore[operator]
    world = world_of(s)
    kept = build(world, s, bag[0], [Spot(0.0, 0.0), Spot(0.0, -4.0), Spot(60.0, 0.0)])
    assert [c.spot for c in kept] == [Spot(0.0, 0.0)]


def test_halving_finds_what_playing_everything_finds(bag: Bag, situation: object) -> None:
    s = situation(85.0, (20.0, -6.0), water_right_of=13.0)  # type: ignore[operator]
    world = world_of(s)
    candidates = [c for b in bag for c in build(world, s, b, spots_over())]
    rng = np.random.default_rng(4)
    best = halve(world, candidates, lambda n: draw(rng, n), 2.8)
    everything = play(world, candidates, draw(np.random.default_rng(9), 1024), 2.8)
    means = everything.finish.strokes.mean(axis=1)
    ours = means[candidates.index(best[0])]
    assert ours - means.min() < 0.02
    assert {c.summary.shot.label for c in best} == {c.summary.shot.label for c in candidates}
    assert len(best) <= 16
