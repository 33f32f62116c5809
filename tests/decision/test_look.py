"""A quick look at one place agrees with the long one; what is not known counts as unsure."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from carrybook.base.constants import YARD
from carrybook.decision.advice import Situation
from carrybook.decision.choose import choose
from carrybook.decision.look import Pains, look, shared_draws, unsure
from carrybook.player.summary import ShotSummary

MakeSituation = Callable[..., Situation]
Bag = tuple[ShotSummary, ...]
FEW = Pains(first=32, finer=128, final=1024)


def test_it_finds_what_the_long_search_finds(situation: MakeSituation, bag: Bag) -> None:
    place = situation(88.0)
    looked = look(place, bag, shared_draws(1, Pains()))
    assert looked is not None
    advice = choose(place, bag)
    as_good = {o.summary.shot.label for o in advice.options if o.close_call}
    as_good.add(advice.options[0].summary.shot.label)
    assert looked.best[0].summary.shot.label in as_good
    assert looked.strokes.mean() == pytest.approx(advice.options[0].strokes, abs=0.03)


def test_one_candidate_a_shot_and_the_best_first(situation: MakeSituation, bag: Bag) -> None:
    looked = look(situation(85.0), bag, shared_draws(1, FEW), pains=FEW)
    assert looked is not None
    labels = [c.summary.shot.label for c in looked.best]
    assert len(set(labels)) == len(labels) == 2
    assert looked.strokes.shape == (1024,)
    assert np.array_equal(looked.strokes, looked.played.finish.strokes[0])


def test_the_same_seed_gives_the_same_strokes(situation: MakeSituation, bag: Bag) -> None:
    first, again = (
        look(situation(85.0), bag, shared_draws(seed, FEW), seed=seed, pains=FEW) for seed in (3, 3)
    )
    other = look(situation(85.0), bag, shared_draws(4, FEW), seed=4, pains=FEW)
    assert first is not None
    assert again is not None
    assert other is not None
    assert np.array_equal(first.strokes, again.strokes)
    assert not np.array_equal(first.strokes, other.strokes)


@pytest.mark.parametrize("number_yd", [25.0, 160.0])
def test_where_nothing_reaches_there_is_no_answer(
    situation: MakeSituation, bag: Bag, number_yd: float
) -> None:
    draws = shared_draws(1, FEW)
    assert look(situation(number_yd), bag, draws, pains=FEW) is None


def test_a_shot_that_is_not_trusted_is_not_played(situation: MakeSituation, bag: Bag) -> None:
    timid = tuple(replace(s, shot=replace(s.shot, trusted=False)) for s in bag)
    assert look(situation(85.0), timid, shared_draws(1, FEW), pains=FEW) is None


def test_unsure_of_pure_chance_is_the_standard_error() -> None:
    pains = Pains(final=20_000)
    draws = shared_draws(1, pains)
    noise = np.random.default_rng(2).normal(0.0, 0.5, pains.final)
    assert unsure(noise, draws) == pytest.approx(0.5 / np.sqrt(pains.final), rel=0.5)


def test_what_is_not_known_does_not_shrink_with_more_draws() -> None:
    for final in (4_000, 16_000):
        draws = shared_draws(1, Pains(final=final))
        noise = np.random.default_rng(2).normal(0.0, 0.2, final)
        moved = noise + 0.03 * draws.centre + 0.04 * draws.firmness
        assert unsure(moved, draws) == pytest.approx(0.05, abs=0.01)


def test_chance_of_one_shot_is_not_taken_for_something_not_known() -> None:
    draws = shared_draws(1, Pains(final=16_000))
    assert unsure(0.3 * draws.gust, draws) == pytest.approx(0.3 / np.sqrt(16_000), rel=1.0)


def test_neighbours_meet_the_same_chance(situation: MakeSituation, bag: Bag) -> None:
    """So their difference is known better than two values on their own."""
    draws = shared_draws(1, FEW)
    one, other = (look(situation(n), bag, draws, pains=FEW) for n in (100.0, 103.0))
    assert one is not None
    assert other is not None
    paired = (one.strokes - other.strokes).var()
    assert paired < 0.7 * (one.strokes.var() + other.strokes.var())


def test_a_longer_number_costs_more(situation: MakeSituation, bag: Bag) -> None:
    draws = shared_draws(1, FEW)
    near, far = (look(situation(n), bag, draws, pains=FEW) for n in (60.0, 110.0))
    assert near is not None
    assert far is not None
    assert near.situation.number_m == pytest.approx(60.0 * YARD)
    assert far.strokes.mean() - near.strokes.mean() > 0.05
