"""Halving keeps the best, and the best of every shot."""

import numpy as np

from carrybook.base.constants import YARD
from carrybook.decision.candidates import Spot, build, landing_point, spots_over, world_of
from carrybook.decision.select import WORTH_SAYING, compare, halve, is_close, play
from carrybook.outcomes.draws import Draws, draw
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


def test_comparing_stops_early_where_one_is_clearly_best(bag: Bag, situation: object) -> None:
    s = situation(78.0, (15.0, 0.0))  # type: ignore[operator]
    world = world_of(s)
    near, far = build(world, s, bag[0], [Spot(0.0, 0.0), Spot(0.0, -13.0)])
    asked: list[int] = []
    rng = np.random.default_rng(2)

    def draws(count: int) -> Draws:
        asked.append(count)
        return draw(rng, count)

    order, tied = compare(world, [far, near], draws, 2.8, most=50_000)
    assert (order, tied) == ([1, 0], {1})
    assert sum(asked) < 5_000


def test_the_same_candidate_twice_ties(bag: Bag, situation: object) -> None:
    s = situation(78.0, (15.0, 0.0))  # type: ignore[operator]
    world = world_of(s)
    (one,) = build(world, s, bag[0], [Spot(0.0, 0.0)])
    rng = np.random.default_rng(2)
    _, tied = compare(world, [one, one], lambda n: draw(rng, n), 2.8, most=2048)
    assert tied == {0, 1}


def test_close_is_by_error_or_by_what_is_worth_saying() -> None:
    rng = np.random.default_rng(8)
    assert is_close(rng.normal(0.05, 1.0, 100))  # error 0.1
    assert is_close(np.full(1000, 0.5 * WORTH_SAYING) + rng.normal(0.0, 1e-6, 1000))
    assert not is_close(rng.normal(0.3, 1.0, 10_000))
